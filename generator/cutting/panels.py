"""Panels out of rolls or sheets: laid in lanes, then the fewest rolls."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.base.errors import CuttingError
from generator.cutting.model import UNIT, Area, Cut, Layout, Piece, Placed, Roll, Rolls, Strip, mm, units
from generator.cutting.rolls import cut_rolls
from generator.shape.say import plain


@dataclass(frozen=True, slots=True)
class Sheet:
    """A roll or a single sheet as it is bought, mm."""

    length: float
    width: float


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
        f"a panel of {plain(piece.length)} × {plain(piece.width)} mm for {piece.name} does not come out of "
        f"{plain(sheet.length)} × {plain(sheet.width)} mm, neither along nor across"
    )


def _laid(sheet: Sheet, lanes: Sequence[Sequence[tuple[str, float, float, bool]]]) -> Layout:
    """Panels from the beginning of a roll, lane by lane.

    A single lane is cut off across the whole roll, panel by panel, and each panel then to its height.
    """
    placed: list[Placed] = []
    offcuts: list[Area] = []
    single = len(lanes) == 1 and 2 * max(across for _, _, across, _ in lanes[0]) > sheet.width
    wide = sheet.width if single else max(across for lane in lanes for _, _, across, _ in lane)
    for number, lane in enumerate(lanes):
        y, x = number * wide, 0
        for name, along, across, turned in lane:
            at = mm(x)
            placed.append(Placed(name, Area(at, y, along, across), turned))
            if across < wide - UNIT:
                offcuts.append(Area(at, y + across, along, wide - across))
            x += units(along)
        if sheet.length - mm(x) > UNIT:
            offcuts.append(Area(mm(x), y, sheet.length - mm(x), wide))
    over = sheet.width - len(lanes) * wide
    if over > UNIT:
        offcuts.append(Area(0.0, len(lanes) * wide, sheet.length, over))
    cuts = tuple(_numbered(placed, sheet.length, wide))
    return Layout(
        sheet.width, sheet.length, tuple(placed), cuts, tuple(offcuts), exact=True, bound=sheet.length
    )


def _numbered(placed: Sequence[Placed], length: float, wide: float) -> Iterator[Cut]:
    """The far end of each panel, in order, across its lane; none at the end of the roll itself."""
    ends = [one for one in placed if one.area.x + one.area.along < length - UNIT]
    for number, one in enumerate(ends, 1):
        area = one.area
        end = area.x + area.along
        yield Cut(number, (end, area.y), (end, area.y + wide), one.name, distance=area.along)
