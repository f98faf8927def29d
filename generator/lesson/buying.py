"""What a class buys: pieces, packs, rolls, reels, cloth by the plan of cuts; what is left, what it costs."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.base.errors import ClassError, CuttingError, Fault
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
from generator.cutting.model import Piece, Strip
from generator.cutting.numbers import Book
from generator.cutting.offcuts import uses
from generator.cutting.panels import PanelPlan, Sheet, cut_panels
from generator.cutting.reels import Reel, cut_reels
from generator.cutting.roll_numbers import BatchNumbers, batch_numbers
from generator.lesson.prices import Price
from generator.lesson.roster import Guest, Roster
from generator.measures.cloth import SWATCH
from generator.measures.measure import COMMON_PRACTICE, Measure, Measures, Unit
from generator.plan import stock
from generator.plan.work import Work
from generator.shape.say import plain

LIST = "the list of prices"
CLOTH, PANEL = "cloth", "panel"
OF_A_SIZE = ("fitter-ring", "plain-ring")
"""Things of which each size needs its own."""
REELED = {"ring-tape": "ring_tape", "seam-tape": "seam_tape"}
"""What is cut from a reel, and the measure of what one shade takes."""
CLOTH_OVER = 0.05
"""Cloth that is bought over, as a share (common practice, no source); as in the plan of cuts."""
CENT = 0.01


@dataclass(frozen=True, slots=True)
class Item:
    """A line of the buying list."""

    things: tuple[str, ...]
    """Names in the technique; two where one reel serves both."""
    detail: str | None
    """The size or the cloth, where a thing is bought for each; it stands on the page as it is."""
    needed: Measure
    packs: Measure
    """Packs, rolls or reels; of cloth the metres that are bought."""
    left: Measure
    """What is left over, in the unit of ``needed``."""
    each: Measure
    """Price of one."""
    cost: Measure
    form: str
    """``piece``, ``pack``, ``serves``, ``roll``, ``sheet``, ``reel``, ``metre``."""

    @property
    def key(self) -> str:
        """A name for programs."""
        return " + ".join(self.things) + (f" {self.detail}" if self.detail else "")


@dataclass(frozen=True)
class Buying:
    """The whole list. Money is in the currency of the list of prices."""

    items: tuple[Item, ...]
    unpriced: tuple[str, ...]
    """What the work uses up and the list of prices does not have."""
    cutting: BatchNumbers
    """Cloths, rolls and reels as they are cut."""
    goods: Measure
    """All that is bought."""
    kept: Measure
    """Worth of what serves the next class."""
    room: Measure
    tutor: Measure
    head: Measure
    """Cost of one person."""
    fee: Measure | None
    even: Measure | None
    """From so many people on the class pays for itself; None without a fee, or if no number does."""
    measures: Measures
    """Every number of it by id, those of the cutting plan too."""


def buying(roster: Roster) -> Buying:
    """The list for a class.

    Raises ClassError where a panel, a cloth or a tape does not come out of what the list of prices has.
    """
    return _Shop(roster).bought()


def piece_name(roster: Roster, work: Work) -> str:
    """What a size is called in a class: with its shade's name where there are several recipes."""
    recipes = {each.size.recipe for each in roster.works}
    return work.size.name if len(recipes) == 1 else f"{work.size.title} {work.size.name}"


class _Shop:
    """Collects items and their measures."""

    def __init__(self, roster: Roster) -> None:
        self.roster = roster
        self.people = len(roster.guests)
        self.book = Book()
        self.items: list[Item] = []
        self.worth = 0.0

    def bought(self) -> Buying:
        used = dict.fromkeys(thing for guest in self.roster.guests for thing in guest.work.plan.consumables)
        priced = self.roster.prices.things
        batch = Batch(self.roster.works, *self._cut(used), without_roll=())
        for thing in used:
            price = priced.get(thing)
            if price is not None:
                self._counted(thing, price)
        cutting = batch_numbers(batch)
        unpriced = tuple(thing for thing in used if thing not in priced and (thing != CLOTH or batch.cloths))
        return self._summed(cutting, unpriced)

    def _cut(
        self, used: dict[str, None]
    ) -> tuple[tuple[ClothPlan, ...], tuple[PanelRolls, ...], tuple[TapePlan, ...]]:
        cloths = tuple(self._cloths()) if CLOTH in used else ()
        return cloths, tuple(self._panels()), tuple(self._tapes(used))

    def _cloths(self) -> Iterator[ClothPlan]:
        """The workroom's cloths: what people bring is theirs."""
        groups: dict[object, list[Guest]] = {}
        for guest in self.roster.guests:
            if guest.cloth is None:
                cloth = guest.work.size.covering
                key = (cloth.name, cloth.width, cloth.direction, cloth.repeat)
                groups.setdefault(key, []).append(guest)
        for guests in groups.values():
            size = guests[0].work.size
            pieces = tuple(_named(cloth_piece(work, count), work, self) for work, count in _counts(guests))
            turn = may_turn(size)
            try:
                layout = cut_cloth(pieces, size.covering.width, turn)
            except CuttingError as error:
                raise self._refused(error, guests[0], "covering.width", "state a wider cloth") from error
            wishes = [Piece(piece.name, piece.length, piece.width, MANY, piece.pitch) for piece in pieces]
            cloth = size.covering
            yield ClothPlan(
                cloth.name,
                cloth.width,
                turn,
                cloth.direction == "one-way",
                pieces,
                layout,
                uses(layout.offcuts, [*wishes, Piece(SWATCH_NAME, SWATCH, SWATCH, MANY)], turn),
            )
            self._metres(cloth.name, layout.length)

    def _metres(self, name: str, length: float) -> None:
        price = self.roster.prices.things.get(CLOTH)
        if price is None:
            return
        step = price.step or 100.0
        buy = round_up(length * (1 + CLOTH_OVER), step)
        formula = f"the plan of cuts, {plain(length)} mm"
        more = f"{plain(1 + CLOTH_OVER, 2)} × {plain(length)} mm, up to a whole {plain(step)}"
        self._item((CLOTH,), name, price, "metre", length / 1000, buy / 1000, buy / 1000, formula, more)

    def _panels(self) -> Iterator[PanelRolls]:
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
                _named(panel_piece(work, count + _spare(price, count)), work, self)
                for work, count in _counts(guests)
            ]
            try:
                plans = cut_panels(pieces, sheet)
            except CuttingError as error:
                fix = "state a larger roll in the list of prices, or panel: {stock_width: …} in the recipe"
                raise self._refused(error, guests[0], "class.stock", fix) from error
            for plan in plans:
                rest = [area for n, layout in plan.layouts for area in layout.offcuts for _ in range(n)]
                wishes = [Piece(piece.name, piece.length, piece.width, MANY) for piece in plan.pieces]
                yield PanelRolls(plan, uses(rest, wishes, turn=True), scored)
                self._rolls(plan.count, plan.pieces, sheet, price, _left(plan))
        for guests in loose.values():
            work = guests[0].work
            count = round(work.measures.shown("panels")) * len(guests)
            if price is not None:
                self._pieces((PANEL,), self.name(work), price, count + _spare(price, len(guests)))

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
        self._item(
            (PANEL,), names, price, form, needed, rolls, whole, formula, "the plan of cuts", left=left / 1000
        )

    def _tapes(self, used: dict[str, None]) -> Iterator[TapePlan]:
        """One reel serves ring and seam where both are bought alike."""
        groups: dict[tuple[Reel, float, float, float], dict[str, list[Strip]]] = {}
        for thing, measure in REELED.items():
            price = self.roster.prices.things.get(thing)
            if thing not in used or price is None or not isinstance(price.form, stock.Reel):
                continue
            reel = Reel(price.form.length, price.form.core, price.form.outer)
            for work, count in _counts(self.roster.guests):
                if measure not in work.measures:
                    continue
                times = _seam_tapes(work) if thing == "seam-tape" else 1
                length = round(work.measures.shown(measure) * (1 + price.over), 1)
                strip = Strip(f"{thing} {self.name(work)}", length, count * times)
                key = (reel, work.size.tape.width, price.price, price.over)
                groups.setdefault(key, {}).setdefault(thing, []).append(strip)
        for (reel, _, _, over), things in groups.items():
            strips = tuple(strip for each in things.values() for strip in each)
            try:
                plan = cut_reels(strips, reel.length)
            except CuttingError as error:
                fix = "state a longer reel in the list of prices"
                raise self._refused(error, self.roster.guests[0], "class.stock", fix) from error
            yield TapePlan(reel, strips, plan)
            price = self.roster.prices.things[next(iter(things))]
            needed = sum(strip.length * strip.count for strip in strips)
            reels = len(plan.rolls)
            formula = f"rings and seams, {plain(over * 100)} % over: {plain(needed)} mm"
            self._item(
                tuple(things),
                None,
                price,
                "reel",
                needed / 1000,
                reels,
                reels * reel.length / 1000,
                formula,
                "the plan of cuts",
            )

    def _counted(self, thing: str, price: Price) -> None:
        """Things that are bought by the piece, by the pack, or by what a pack is enough for."""
        users = [guest for guest in self.roster.guests if thing in guest.work.plan.consumables]
        if thing in (CLOTH, PANEL) or (thing in REELED and isinstance(price.form, stock.Reel)):
            return
        if thing in OF_A_SIZE:
            for work, count in _counts(users):
                self._pieces((thing,), self.name(work), price, count + price.spares(count))
        elif price.serves is not None:
            needed, packs = len(users), math.ceil(len(users) / price.serves)
            formula = f"{needed} shades, {price.serves} out of one"
            self._item(
                (thing,), None, price, "serves", needed, packs, packs * price.serves, "one a shade", formula
            )
        elif price.form is None:
            self._pieces((thing,), None, price, len(users) + price.spares(len(users)))

    def _pieces(self, things: tuple[str, ...], detail: str | None, price: Price, needed: int) -> None:
        packs = math.ceil(needed / price.pack)
        form = "pack" if price.pack > 1 else "piece"
        formula = f"{needed} pieces, {price.pack} in a pack"
        self._item(
            things, detail, price, form, needed, packs, packs * price.pack, "people and spares", formula
        )

    def _item(
        self,
        things: tuple[str, ...],
        detail: str | None,
        price: Price,
        form: str,
        needed: float,
        packs: float,
        bought: float,
        formula: str,
        how: str,
        *,
        left: float | None = None,
    ) -> None:
        """``bought`` is in the unit of ``needed``; or, with ``left``, both are metres off rolls."""
        key = f"buy_{len(self.items) + 1}"
        label = f"{' and '.join(things).replace('-', ' ').capitalize()}{f', {detail}' if detail else ''}"
        metres = form in ("metre", "reel")
        unit: Unit = "m" if metres else "count"
        cost = packs * price.price
        book = self.book
        over = bought - needed if left is None else left
        need = round_up(needed, 0.1) if metres else needed
        item = Item(
            things,
            detail,
            book.put(
                f"{key}_needed", f"{label}: needed", needed, formula, LIST, unit=unit, shown=round(need, 1)
            ),
            book.put(
                f"{key}_packs",
                f"{label}: to buy",
                packs,
                how,
                LIST,
                unit="m" if form == "metre" else "count",
                shown=round(packs, 2),
            ),
            book.put(
                f"{key}_left",
                f"{label}: left over",
                over,
                "what is bought less what is needed",
                LIST,
                unit=unit if left is None else "m",
                shown=round(bought - round(need, 1), 1) if left is None else round(over, 1),
            ),
            self._money(f"{key}_each", f"{label}: price", price.price, "as listed"),
            self._money(f"{key}_cost", f"{label}: cost", cost, "to buy × price"),
            form,
        )
        self.items.append(item)
        if price.keeps:
            self.worth += cost * over / bought if bought else 0.0

    def _summed(self, cutting: BatchNumbers, unpriced: tuple[str, ...]) -> Buying:
        costs, book, people = self.roster.taught.costs, self.book, self.people
        goods = sum(item.cost.value for item in self.items)
        kept = round(self.worth, 2)
        fixed = costs.room + costs.tutor
        head = (goods - kept + fixed) / people
        formula = f"(bought {goods:.2f} − kept {kept:.2f} + room and tutor {fixed:.2f}) / {people} people"
        each = (goods - kept) / people
        even = None
        if costs.fee is not None and costs.fee > each + 1e-9:
            number = max(1, math.ceil(fixed / (costs.fee - each) - 1e-9))
            told = f"room and tutor {fixed:.2f} / (fee {costs.fee:.2f} − material of one {each:.2f})"
            even = book.count("even", "Pays for itself from so many people on", number, told, COMMON_PRACTICE)
        fee = None
        if costs.fee is not None:
            fee = self._money("fee", "Fee", costs.fee, "as the recipe says", "the recipe")
        return Buying(
            tuple(self.items),
            unpriced,
            cutting,
            goods=self._money("goods", "All that is bought", goods, "the costs together"),
            kept=self._money("kept", "Kept for the next class", kept, "left over, by share"),
            room=self._money("room", "Room", costs.room, "as the recipe says", "the recipe"),
            tutor=self._money("tutor", "Tutor", costs.tutor, "as the recipe says", "the recipe"),
            head=book.put(
                "head",
                "Cost of one person",
                head,
                formula,
                COMMON_PRACTICE,
                unit="money",
                shown=round(round_up(head, CENT), 2),
            ),
            fee=fee,
            even=even,
            measures=Measures({**book.measures, **cutting.measures}),
        )

    def _money(self, id_: str, label: str, amount: float, formula: str, source: str = LIST) -> Measure:
        return self.book.put(id_, label, amount, formula, source, unit="money", shown=round(amount, 2))

    def name(self, work: Work) -> str:
        """What a size is called in this class."""
        return piece_name(self.roster, work)

    def _refused(self, error: CuttingError, guest: Guest, key: str, fix: str) -> ClassError:
        return ClassError([Fault(guest.work.size.span(key), error.wrong, error.expected, fix)])


def _counts(guests: Sequence[Guest]) -> list[tuple[Work, int]]:
    """Each size once, and how many make it."""
    found: dict[tuple[str, str], tuple[Work, int]] = {}
    for guest in guests:
        key = (guest.work.size.recipe, guest.work.size.name)
        found[key] = (found[key][0] if key in found else guest.work, found.get(key, (None, 0))[1] + 1)
    return list(found.values())


def _named(piece: Piece, work: Work, shop: _Shop) -> Piece:
    return Piece(shop.name(work), piece.length, piece.width, piece.count, piece.pitch)


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
