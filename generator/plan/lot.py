"""What all boxes of a recipe take together: pieces, tape, weight."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from generator.base.units import round_up
from generator.measures.inches import FOOT_STEP, LONG, inches_of
from generator.measures.measure import Measure, Measures
from generator.plan.kit import LIST, KitContents, KitPart, PartKind
from generator.plan.work import Work

METRE = 1000.0
TENTH = 0.1


@dataclass(frozen=True, slots=True)
class LotPart:
    """A part of one size, for all boxes of that size."""

    part: KitPart
    total: Measure
    """Pieces, with those to spare."""
    length: Measure | None
    """What is cut off the reel for them, m."""


@dataclass(frozen=True, slots=True)
class TotalPart:
    """A part over all sizes."""

    name: str
    kind: PartKind
    called: str | None
    shelf: str | None
    by_size: tuple[Measure | None, ...]
    """Pieces for each size in turn; None: that size has no such part."""
    total: Measure
    length: Measure | None


@dataclass(frozen=True)
class Lot:
    """All boxes of a recipe."""

    parts: tuple[TotalPart, ...]
    """In the order of the list."""
    boxes: Measure
    weight: Measure | None
    """What all packed boxes weigh as far as the list says, kg."""

    @property
    def measures(self) -> Measures:
        """Every number of it, by id; those of single sizes are in ``size_lot``."""
        every = [self.boxes, *([self.weight] if self.weight else [])]
        every += [m for part in self.parts for m in (part.total, part.length) if m is not None]
        return Measures({measure.id: measure for measure in every})


def size_lot(kit: KitContents) -> tuple[LotPart, ...]:
    """What all boxes of one size take."""
    return tuple(_lot_part(kit, part) for part in kit.parts)


def batch_lot(works: Sequence[Work]) -> Lot:
    """What the boxes of several sizes take together; each must have its kit."""
    kits = [work.kit for work in works if work.kit is not None]
    lots = [size_lot(kit) for kit in kits]
    names = dict.fromkeys(each.part.name for lot in lots for each in lot)
    count = sum(kit.boxes.value for kit in kits)
    boxes = Measure("total_kits", "Kits of all sizes", count, count, "count", "the sizes together", LIST)
    grams = [kit.weight.value * kit.boxes.value for kit in kits if kit.weight is not None]
    weight = None
    if grams:
        kilos = sum(grams) / 1000
        shown = round(round_up(kilos, TENTH), 1)
        weight = Measure(
            "total_weight", "All boxes weigh, about", kilos, shown, "kg", "the boxes together", LIST
        )
    return Lot(tuple(_total(name, lots) for name in names), boxes, weight)


def _lot_part(kit: KitContents, part: KitPart) -> LotPart:
    key = part.name.replace("-", "_")
    pieces = float(part.pieces) * kit.boxes.value
    formula = f"{part.pieces} × {kit.boxes.value:g} boxes"
    total = Measure(f"lot_{key}", f"{_named(part)}, for the lot", pieces, pieces, "count", formula, LIST)
    length = None
    if part.length is not None:
        metres = pieces * part.length.value / METRE
        shown = round(round_up(metres, TENTH), 1)
        formula = f"{pieces:g} × {part.length.value:g} mm"
        label = f"{_named(part)}, off the reel for the lot"
        length = _off_the_reel(f"lot_{key}_length", label, metres, shown, formula)
    return LotPart(part, total, length)


def _off_the_reel(id_: str, label: str, metres: float, shown: float, formula: str) -> Measure:
    return Measure(id_, label, metres, shown, "m", formula, LIST, rounding="up", ruler="feet")


def _total(name: str, lots: Sequence[Sequence[LotPart]]) -> TotalPart:
    found = [next((each for each in lot if each.part.name == name), None) for lot in lots]
    there = [each for each in found if each is not None]
    first, key = there[0].part, name.replace("-", "_")
    pieces = sum(each.total.value for each in there)
    label = f"{_named(first)}, for all sizes"
    total = Measure(f"total_{key}", label, pieces, pieces, "count", "the sizes together", LIST)
    # Shown parts add up to the shown whole.
    lengths = [each.length for each in there if each.length is not None]
    length = None
    if lengths:
        exact, shown = sum(_exact(lengths)), round(sum(each.value for each in lengths), 1)
        label = f"{_named(first)}, off the reel for all sizes"
        length = _off_the_reel(f"total_{key}_length", label, exact, shown, "the sizes together")
        inches = sum((each[0] for one in lengths if (each := inches_of(one))), Fraction(0))
        if inches < LONG or inches % FOOT_STEP == 0:
            length = replace(length, inches=(inches,))
    by_size = tuple(each.total if each else None for each in found)
    return TotalPart(name, first.kind, first.called, first.shelf, by_size, total, length)


def _exact(measures: Sequence[Measure]) -> Iterator[float]:
    for measure in measures:
        assert not isinstance(measure.exact, tuple)
        yield measure.exact


def _named(part: KitPart) -> str:
    return part.called or part.name.replace("-", " ").capitalize()
