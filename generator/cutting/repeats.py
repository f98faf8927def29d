"""Lengths of cloth that are cut alike, told once with how often."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from generator.cutting.model import UNIT, Area, Cut, Layout, Placed


@dataclass(frozen=True, slots=True)
class Length:
    """A part of the cloth between two cuts across all of it."""

    placed: tuple[Placed, ...]
    offcuts: tuple[Area, ...]
    cuts: tuple[Cut, ...]
    """Cuts within it; places count from its own beginning, and numbers from 0."""
    size: float
    """Along the cloth, mm."""


@dataclass(frozen=True, slots=True)
class Lot:
    """One length as it is drawn, and how many are cut so."""

    start: float
    stop: float
    times: int


@dataclass(frozen=True)
class Told:
    """A layout in which each length stands once; equal lengths share the numbers of their cuts."""

    layout: Layout
    lots: tuple[Lot, ...]

    @property
    def ends(self) -> tuple[float, ...]:
        """Where something that is cut more than once begins or ends."""
        several = [lot for lot in self.lots if lot.times > 1]
        return tuple(sorted({x for lot in several for x in (lot.start, lot.stop)}))

    def times(self, x: float) -> int:
        """How often what lies before the place ``x`` is cut."""
        return next((lot.times for lot in self.lots if lot.start < x <= lot.stop + UNIT), 1)


def told_once(layout: Layout) -> Told:
    """Each length of a layout once, in the order of cutting; those alike must follow one another."""
    kept: list[tuple[Length, int]] = []
    for length in _lengths(layout):
        if kept and kept[-1][0] == length:
            kept[-1] = length, kept[-1][1] + 1
        else:
            kept.append((length, 1))
    placed: list[Placed] = []
    offcuts: list[Area] = []
    cuts: list[Cut] = []
    lots: list[Lot] = []
    x = 0.0
    for number, (length, times) in enumerate(kept):
        stop = round(x + length.size, 2)
        if number < len(kept) - 1 or times > 1:
            cuts.append(_across(layout, stop, length, len(cuts) + 1))
        placed += [replace(one, area=_moved(one.area, x)) for one in length.placed]
        offcuts += [_moved(area, x) for area in length.offcuts]
        cuts += [
            replace(cut, number=len(cuts) + place, start=_shifted(cut.start, x), end=_shifted(cut.end, x))
            for place, cut in enumerate(length.cuts, 1)
        ]
        lots.append(Lot(x, stop, times))
        x = stop
    whole = replace(layout, length=x, placed=tuple(placed), cuts=tuple(cuts), offcuts=tuple(offcuts))
    return Told(whole, tuple(lots))


def _lengths(layout: Layout) -> Iterator[Length]:
    edges = sorted({0.0, layout.length, *(cut.start[0] for cut in layout.cuts if _whole(cut, layout))})
    for start, stop in pairwise(edges):
        yield Length(
            tuple(
                replace(one, area=_moved(one.area, -start))
                for one in layout.placed
                if start - UNIT < one.area.x < stop - UNIT
            ),
            tuple(_moved(a, -start) for a in layout.offcuts if start - UNIT < a.x < stop - UNIT),
            tuple(
                replace(cut, number=0, start=_shifted(cut.start, -start), end=_shifted(cut.end, -start))
                for cut in layout.cuts
                if not _whole(cut, layout) and start - UNIT < cut.start[0] < stop - UNIT
            ),
            round(stop - start, 2),
        )


def _whole(cut: Cut, layout: Layout) -> bool:
    """Whether it parts the cloth across its whole width."""
    return not cut.runs_along and abs(cut.end[1] - cut.start[1]) > layout.width - UNIT


def _across(layout: Layout, x: float, length: Length, number: int) -> Cut:
    """The cut that takes a length off the cloth."""
    gives = length.placed[0].name if len(length.placed) == 1 else None
    return Cut(number, (x, 0.0), (x, layout.width), gives, distance=length.size)


def _moved(area: Area, by: float) -> Area:
    return replace(area, x=round(area.x + by, 2))


def _shifted(place: tuple[float, float], by: float) -> tuple[float, float]:
    return round(place[0] + by, 2), place[1]
