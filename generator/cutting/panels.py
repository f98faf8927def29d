"""Panels out of rolls or sheets: laid in lanes, then the fewest rolls."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from generator.base.errors import CuttingError
from generator.base.message import message
from generator.cutting.model import UNIT, Area, Cut, Layout, Piece, Placed, Roll, Rolls, Strip, mm, units
from generator.cutting.rolls import cut_rolls
from generator.shape.say import plain


@dataclass(frozen=True, slots=True)
class Sheet:
    """A roll or a single sheet as it is bought, mm."""

    length: float
    width: float
    single: bool = False
    """A sheet; else a roll."""


@dataclass(frozen=True)
class PanelPlan:
    """Panels of one or more sizes out of rolls of one kind."""

    sheet: Sheet
    pieces: tuple[Piece, ...]
    """``Piece.length`` is once round the shade, ``Piece.width`` up it."""
    lanes: int
    """How many panels lie beside one another on a roll."""
    plan: Rolls
    """Lanes, each as long as a roll."""

    @property
    def count(self) -> int:
        """Rolls to have."""
        return math.ceil(len(self.plan.rolls) / self.lanes)

    @property
    def bound(self) -> int:
        """Fewer rolls will not do in lanes."""
        return math.ceil(self.plan.bound / self.lanes)

    @property
    def exact(self) -> bool:
        """It is proved that no fewer will do."""
        return self.count == self.bound

    @property
    def layouts(self) -> tuple[tuple[int, Layout], ...]:
        """How often a roll is cut so, and where its panels lie."""
        each = [self.plan.rolls[at : at + self.lanes] for at in range(0, len(self.plan.rolls), self.lanes)]
        return tuple((each.count(lanes), self._layout(lanes)) for lanes in dict.fromkeys(each))

    def _layout(self, lanes: Sequence[Roll]) -> Layout:
        return _laid(self.sheet, [[self._sides(name, along) for name, along in r.pieces] for r in lanes])

    def _sides(self, name: str, along: float) -> tuple[str, float, float, bool]:
        piece = next(piece for piece in self.pieces if piece.name == name)
        turned = along != piece.length
        return name, along, piece.length if turned else piece.width, turned


def cut_panels(pieces: Sequence[Piece], sheet: Sheet) -> tuple[PanelPlan, ...]:
    """The fewest rolls or sheets for all panels.

    A panel lies along the roll if it is low enough, else across it: PVC has no direction. Where two panels
    lie beside one another, only such as take the same width share a roll. Raises CuttingError for a panel
    that comes out neither way.
    """
    wanted = [piece for piece in pieces if piece.count]
    ways = {piece.name: _along(piece, sheet) for piece in wanted}
    single = all(2 * across > sheet.width for _, across in ways.values())
    groups: dict[float, list[Piece]] = {}
    for piece in wanted:
        groups.setdefault(0.0 if single else ways[piece.name][1], []).append(piece)
    return tuple(
        PanelPlan(
            sheet,
            tuple(group),
            1 if single else math.floor(sheet.width / across + UNIT),
            cut_rolls([Strip(p.name, ways[p.name][0], p.count) for p in group], sheet.length),
        )
        for across, group in groups.items()
    )


def _along(piece: Piece, sheet: Sheet) -> tuple[float, float]:
    """What a panel takes along and across the roll. Raises CuttingError if it does not come out of it."""
    for along, across in ((piece.length, piece.width), (piece.width, piece.length)):
        if along <= sheet.length + UNIT and across <= sheet.width + UNIT:
            return along, across
    raise CuttingError(
        message(
            "a panel of {length} × {width} mm for {name} does not come out of {sheet_length} × "
            "{sheet_width} mm, neither along nor across",
            length=plain(piece.length),
            width=plain(piece.width),
            name=piece.name,
            sheet_length=plain(sheet.length),
            sheet_width=plain(sheet.width),
        ),
        message(
            "a roll or sheet of at least {length} × {width} mm",
            length=plain(piece.length),
            width=plain(piece.width),
        ),
    )


def _laid(sheet: Sheet, lanes: Sequence[Sequence[tuple[str, float, float, bool]]]) -> Layout:
    """Panels from the beginning of a roll.

    Of a single lane panel by panel is cut off across the whole roll, then to its height. Several lanes are
    parted along the roll first.
    """
    hand = _Knife(sheet)
    wide = max(across for lane in lanes for _, _, across, _ in lane)
    if len(lanes) == 1 and 2 * wide > sheet.width:
        hand.lane(lanes[0], 0.0, sheet.width)
    else:
        held = sheet.width
        for number, lane in enumerate(lanes):
            y = number * wide
            if held > wide + UNIT:
                hand.cut((0.0, y + wide), (sheet.length, y + wide), wide)
            hand.lane(lane, y, wide)
            held -= wide
        if held > UNIT:
            hand.offcuts.append(Area(0.0, sheet.width - held, sheet.length, held))
    return hand.layout


class _Knife:
    """Collects what is cut, in order."""

    def __init__(self, sheet: Sheet) -> None:
        self.sheet = sheet
        self.placed: list[Placed] = []
        self.cuts: list[Cut] = []
        self.offcuts: list[Area] = []

    @property
    def layout(self) -> Layout:
        """What is cut so far."""
        return Layout(
            self.sheet.width,
            self.sheet.length,
            tuple(self.placed),
            tuple(self.cuts),
            tuple(self.offcuts),
            exact=True,
            bound=self.sheet.length,
        )

    def lane(self, panels: Sequence[tuple[str, float, float, bool]], y: float, wide: float) -> None:
        """Panels one after the other in a lane ``wide`` mm across, each cut off and then to its height."""
        x = 0
        for name, along, across, turned in panels:
            start, end = mm(x), mm(x + units(along))
            if end < self.sheet.length - UNIT:
                self.cut((end, y), (end, y + wide), along, name)
            if across < wide - UNIT:
                self.cut((start, y + across), (end, y + across), across, waste=True)
                self.offcuts.append(Area(start, y + across, along, wide - across))
            self.placed.append(Placed(name, Area(start, y, along, across), turned))
            x += units(along)
        if mm(x) < self.sheet.length - UNIT:
            self.offcuts.append(Area(mm(x), y, self.sheet.length - mm(x), wide))

    def cut(
        self,
        start: tuple[float, float],
        end: tuple[float, float],
        distance: float,
        gives: str | None = None,
        *,
        waste: bool = False,
    ) -> None:
        """One cut."""
        self.cuts.append(Cut(len(self.cuts) + 1, start, end, gives, waste, distance))
