"""What a class is cut: cloth, panels and tape by the plan of cuts, and what of each must be bought for it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from generator.base.errors import ClassError, CuttingError, Fault
from generator.base.message import Message, message
from generator.base.units import round_up
from generator.cutting.batch import (
    MANY,
    SWATCH_NAME,
    Batch,
    ClothPlan,
    PanelRolls,
    TapePlan,
    cloth_piece,
    may_turn,
    panel_piece,
)
from generator.cutting.guillotine import cut_cloth
from generator.cutting.model import Area, Piece, Strip
from generator.cutting.offcuts import Use, uses
from generator.cutting.panels import PanelPlan, Sheet, cut_panels
from generator.cutting.reels import Reel, cut_reels
from generator.lesson.prices import Price
from generator.lesson.roster import Guest, Roster
from generator.measures.cloth import SWATCH
from generator.plan import stock
from generator.plan.work import Work
from generator.shape.say import plain

CLOTH, PANEL = "cloth", "panel"
REELED = {"ring-tape": "ring_tape", "seam-tape": "seam_tape", "braid": "binding_total"}
"""What is cut from a reel, and the measure of what one shade takes."""
CLOTH_OVER = 0.05
"""Cloth that is bought over, as a share (common practice, no source); as in the plan of cuts."""


@dataclass(frozen=True, slots=True)
class Line:
    """What must be bought of one thing, before it has numbers for a page."""

    things: tuple[str, ...]
    """Names in the technique; two where one reel serves both."""
    detail: str | None
    price: Price
    form: str
    needed: float
    packs: float
    bought: float
    """In the unit of ``needed``; or, with ``left``, both are metres off rolls."""
    formula: str
    how: str
    left: float | None = None


@dataclass(frozen=True)
class ClassCut:
    """Everything that is cut."""

    batch: Batch
    lines: tuple[Line, ...]


def cut_class(roster: Roster, used: Mapping[str, None], *, offcuts: bool = True) -> ClassCut:
    """Cut all that a class takes; ``used`` are the consumables of its work.

    Without ``offcuts`` nobody asks what those still make: what is bought does not hang on it.
    Raises ClassError where a panel, a cloth or a tape does not come out of what the list of prices has.
    """
    cutter = _Cutter(roster, offcuts=offcuts)
    cloths = tuple(cutter.cloths()) if CLOTH in used else ()
    panels, tapes = tuple(cutter.panels()), tuple(cutter.tapes(used))
    return ClassCut(Batch(roster.works, cloths, panels, tapes, without_roll=()), tuple(cutter.lines))


def pieces_line(things: tuple[str, ...], detail: str | None, price: Price, needed: int) -> Line:
    """Things that are bought by the piece or by the pack."""
    packs = math.ceil(needed / price.pack)
    form = "pack" if price.pack > 1 else "piece"
    formula = f"{needed} pieces, {price.pack} in a pack"
    return Line(things, detail, price, form, needed, packs, packs * price.pack, "people and spares", formula)


def piece_name(roster: Roster, work: Work) -> str:
    """What a size is called in a class: with its shade's name where there are several recipes."""
    recipes = {each.size.recipe for each in roster.works}
    return work.size.name if len(recipes) == 1 else work.size.called


class _Cutter:
    """Collects what is bought while it cuts."""

    def __init__(self, roster: Roster, *, offcuts: bool) -> None:
        self.roster = roster
        self.offcuts = offcuts
        self.lines: list[Line] = []

    def cloths(self) -> Iterator[ClothPlan]:
        """The workroom's cloths: what people bring is theirs."""
        groups: dict[object, list[Guest]] = {}
        for guest in self.roster.guests:
            if guest.cloth is None:
                cloth = guest.work.size.covering
                key = (cloth.name, cloth.width, cloth.direction, cloth.repeat)
                groups.setdefault(key, []).append(guest)
        for guests in groups.values():
            size = guests[0].work.size
            pieces = tuple(self._named(cloth_piece(work, count), work) for work, count in counted(guests))
            turn = may_turn(size)
            try:
                layout = cut_cloth(pieces, size.covering.width, turn)
            except CuttingError as error:
                raise self._refused(
                    error, guests[0], "covering.width", message("state a wider cloth")
                ) from error
            wishes = [Piece(piece.name, piece.length, piece.width, MANY, piece.pitch) for piece in pieces]
            cloth = size.covering
            yield ClothPlan(
                cloth.name,
                cloth.width,
                turn,
                cloth.direction == "one-way",
                pieces,
                layout,
                self._uses(layout.offcuts, [*wishes, Piece(SWATCH_NAME, SWATCH, SWATCH, MANY)], turn),
            )
            self._metres(cloth.name, layout.length)

    def _uses(self, rest: Sequence[Area], wishes: Sequence[Piece], turn: bool) -> tuple[Use, ...]:
        return uses(rest, wishes, turn) if self.offcuts else ()

    def _metres(self, name: str, length: float) -> None:
        price = self.roster.prices.things.get(CLOTH)
        if price is None:
            return
        step = price.step or 100.0
        buy = round_up(length * (1 + CLOTH_OVER), step)
        formula = f"the plan of cuts, {plain(length)} mm"
        more = f"{plain(1 + CLOTH_OVER, 2)} × {plain(length)} mm, up to a whole {plain(step)}"
        needed, bought = length / 1000, buy / 1000
        self.lines.append(Line((CLOTH,), name, price, "metre", needed, bought, bought, formula, more))

    def panels(self) -> Iterator[PanelRolls]:
        price = self.roster.prices.things.get(PANEL)
        groups: dict[tuple[Sheet, float, bool], list[Guest]] = {}
        loose: dict[tuple[str, str], list[Guest]] = {}
        for guest in self.roster.guests:
            sheet = _sheet(guest.work, price)
            panel = guest.work.size.panel
            if sheet is None:
                loose.setdefault((guest.work.size.recipe, guest.work.size.name), []).append(guest)
            else:
                groups.setdefault((sheet, panel.thickness, panel.kiss_cut), []).append(guest)
        for (sheet, _, scored), guests in groups.items():
            pieces = [
                self._named(panel_piece(work, count + _spare(price, count)), work)
                for work, count in counted(guests)
            ]
            try:
                plans = cut_panels(pieces, sheet)
            except CuttingError as error:
                fix = message(
                    "state a larger roll in the list of prices, or {text} in the recipe",
                    text="panel: {stock_width: …}",
                )
                raise self._refused(error, guests[0], "class.stock", fix) from error
            for plan in plans:
                rest = [area for n, layout in plan.layouts for area in layout.offcuts for _ in range(n)]
                wishes = [Piece(piece.name, piece.length, piece.width, MANY) for piece in plan.pieces]
                yield PanelRolls(plan, self._uses(rest, wishes, turn=True), scored)
                self._rolls(plan.count, plan.pieces, sheet, price, _left(plan))
        for guests in loose.values():
            work = guests[0].work
            count = round(work.measures.shown("panels")) * len(guests)
            if price is not None:
                self.lines.append(
                    pieces_line(
                        (PANEL,), piece_name(self.roster, work), price, count + _spare(price, len(guests))
                    )
                )

    def _rolls(
        self, rolls: int, pieces: Sequence[Piece], sheet: Sheet, price: Price | None, left: float
    ) -> None:
        if price is None:
            return
        names = ", ".join(piece.name for piece in pieces)
        needed = sum(piece.count for piece in pieces)
        formula = " + ".join(f"{piece.count} of {piece.name}" for piece in pieces) + ", those over with them"
        form = "sheet" if sheet.single else "roll"
        whole = rolls * sheet.length / 1000
        how = "the plan of cuts"
        self.lines.append(Line((PANEL,), names, price, form, needed, rolls, whole, formula, how, left / 1000))

    def tapes(self, used: Mapping[str, None]) -> Iterator[TapePlan]:
        """One reel serves ring and seam where both are bought alike."""
        groups: dict[tuple[Reel, float, float, float], dict[str, list[Strip]]] = {}
        for thing, measure in REELED.items():
            price = self.roster.prices.things.get(thing)
            if thing not in used or price is None or not isinstance(price.form, stock.Reel):
                continue
            reel = Reel(price.form.length, price.form.core, price.form.outer)
            for work, count in counted(self.roster.guests):
                if measure not in work.measures:
                    continue
                times = _seam_tapes(work) if thing == "seam-tape" else 1
                length = round(work.measures.shown(measure) * (1 + price.over), 1)
                strip = Strip(f"{thing} {piece_name(self.roster, work)}", length, count * times)
                key = (reel, work.size.tape.width, price.price, price.over)
                groups.setdefault(key, {}).setdefault(thing, []).append(strip)
        for (reel, _, _, over), things in groups.items():
            strips = tuple(strip for each in things.values() for strip in each)
            try:
                plan = cut_reels(strips, reel.length)
            except CuttingError as error:
                fix = message("state a longer reel in the list of prices")
                raise self._refused(error, self.roster.guests[0], "class.stock", fix) from error
            yield TapePlan(reel, strips, plan)
            price = self.roster.prices.things[next(iter(things))]
            needed = sum(strip.length * strip.count for strip in strips)
            reels = len(plan.rolls)
            formula = f"what each shade takes, {plain(over * 100)} % over: {plain(needed)} mm"
            bought = reels * reel.length / 1000
            how = "the plan of cuts"
            self.lines.append(
                Line(tuple(things), None, price, "reel", needed / 1000, reels, bought, formula, how)
            )

    def _named(self, piece: Piece, work: Work) -> Piece:
        name = piece_name(self.roster, work)
        return replace(piece, name=name)

    def _refused(self, error: CuttingError, guest: Guest, key: str, fix: Message) -> ClassError:
        return ClassError([Fault(guest.work.size.span(key), error.wrong, error.expected, fix)])


def counted(guests: Sequence[Guest]) -> list[tuple[Work, int]]:
    """Each size once, and how many make it."""
    found: dict[tuple[str, str], tuple[Work, int]] = {}
    for guest in guests:
        key = (guest.work.size.recipe, guest.work.size.name)
        found[key] = (found[key][0] if key in found else guest.work, found.get(key, (None, 0))[1] + 1)
    return list(found.values())


def _spare(price: Price | None, people: int) -> int:
    return price.spares(people) if price else 0


def _sheet(work: Work, price: Price | None) -> Sheet | None:
    """What panels are cut from: as the recipe says, else as the list of prices; None: they come cut."""
    panel = work.size.panel
    if panel.supplied:
        return None
    form = price.form if price else None
    listed = form if isinstance(form, stock.Roll | stock.Sheet) else None
    length = panel.stock_length or (listed.length if listed else None)
    width = panel.stock_width or (listed.width if listed else None)
    single = panel.stock_length is not None or isinstance(form, stock.Sheet)
    return Sheet(length, width, single) if length and width else None


def _seam_tapes(work: Work) -> int:
    """Pieces of tape that seam, joints and hem take."""
    panels = round(work.measures.shown("panels"))
    return 2 * panels if work.size.seam.finish == "hem" else panels


def _left(plan: PanelPlan) -> float:
    """What is left at the ends of all rolls over their whole width, mm."""
    ends = [
        (times, max(placed.area.x + placed.area.along for placed in layout.placed))
        for times, layout in plan.layouts
    ]
    return sum(times * (plan.sheet.length - end) for times, end in ends)
