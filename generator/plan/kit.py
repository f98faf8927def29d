"""What stands in one kit of a size, counted from its measures, and what its maker needs besides."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Literal

from generator.base.errors import Fault, KitError, Warning_
from generator.base.message import message
from generator.base.units import round_nearest, round_up
from generator.measures.converted import in_centimetres, in_inches
from generator.measures.measure import COMMON_PRACTICE, Measure, Measures, Unit
from generator.measures.stated import RECIPE
from generator.plan.fields import Faults
from generator.plan.kit_list import KitList, PartEntry, Weight
from generator.plan.model import Plan
from generator.plan.stock import Form
from generator.recipe.models import SizeRecipe
from generator.shape.say import plain
from generator.shape.shade import Shade

LIST = "the list of parts"
REEL_STEP = 10.0
"""Tape that is packed with some over is cut to a whole so much, mm."""
PartKind = Literal["consumable", "tool", "packing"]


@dataclass(frozen=True, slots=True)
class KitPart:
    """A part as one box holds it."""

    name: str
    kind: PartKind
    """``consumable`` and ``tool``: the wording has a name for it; ``packing``: ``called`` is its name."""
    called: str | None
    shelf: str | None
    count: Measure
    """Pieces, without those to spare."""
    spare: Measure | None
    """Extra pieces."""
    length: Measure | None
    """How much of a reel each piece is."""
    weight: Measure | None
    """What all pieces weigh, with those to spare, grams; None: the list does not say."""

    @property
    def pieces(self) -> int:
        """All pieces in the box, with those to spare."""
        return round(self.count.value + (self.spare.value if self.spare else 0))

    @property
    def measures(self) -> tuple[Measure, ...]:
        """Every number that a page may print of it."""
        return tuple(m for m in (self.count, self.spare, self.length, self.weight) if m is not None)


@dataclass(frozen=True)
class KitContents:
    """One kit of one size."""

    parts: tuple[KitPart, ...]
    """In the order of the list; packing last."""
    needed: tuple[str, ...]
    """Consumables that the work needs and the box does not hold, in the technique's order."""
    needed_tools: tuple[str, ...]
    """Tools likewise."""
    boxes: Measure
    """How many kits of this size are packed."""
    weight: Measure | None
    """What a packed box weighs as far as the list says, grams."""
    unweighed: tuple[str, ...]
    """Parts of which the list says no weight."""
    pieces: Measure
    """Pieces in the box, without those to spare and without packing."""
    spares: Measure
    """Pieces to spare."""
    cloth: tuple[Measure, ...]
    """Length and width of the cloth to cut in centimetres, then in inches; nothing where the box holds it."""
    stock: Mapping[str, Form]
    """In which form the workshop buys what it cuts, by part."""
    digest: str
    """SHA-256 of the list's file, hex."""

    def part(self, name: str) -> KitPart | None:
        """The part of this name, or None if the box does not hold it."""
        return next((part for part in self.parts if part.name == name), None)

    @property
    def supplied(self) -> tuple[KitPart, ...]:
        """What the maker finds in the box: without packing."""
        return tuple(part for part in self.parts if part.kind != "packing")

    @property
    def measures(self) -> Measures:
        """Every number that a page may print of the kit, by id."""
        every = [self.boxes, self.pieces, self.spares, *self.cloth]
        every += [m for part in self.parts for m in part.measures]
        every += [self.weight] if self.weight else []
        return Measures({measure.id: measure for measure in every})


def kit_faults(size: SizeRecipe, listed: KitList, known: Iterable[str]) -> list[Fault]:
    """Parts that no technique knows, spares of parts that the list does not have.

    ``known`` are the tools and consumables of all techniques.
    """
    faults, names = Faults(), frozenset(known)
    for part in listed.parts:
        if part.name not in names and part.called is None:
            faults.unknown(part.span, message("tool or consumable"), part.name, names)
    every = [part.name for part in (*listed.parts, *listed.packing)]
    for name in size.kits.spares if size.kits else ():
        if name not in every:
            faults.unknown(size.span(f"kits.spares.{name}"), message("part"), name, every)
    return faults.found


def kit_notes(size: SizeRecipe, kits: Sequence[KitContents]) -> Iterator[Warning_]:
    """Spares of a part that the list has and no size's box holds."""
    for name in size.kits.spares if size.kits else ():
        if not any(kit.part(name) for kit in kits):
            wrong = message(
                "{key} is not used: {reason}",
                key=message("“{text}”", text=f"kits.spares.{name}"),
                reason=message("the work of no size uses it"),
            )
            yield Warning_(size.span(f"kits.spares.{name}"), wrong)


def kit_contents(
    size: SizeRecipe, shade: Shade, measures: Measures, plan: Plan, listed: KitList
) -> KitContents:
    """One kit of a size. Raises KitError for a weight by a measure that this shade does not have."""
    used: dict[str, PartKind] = dict.fromkeys(plan.consumables, "consumable")
    used |= dict.fromkeys(plan.tools, "tool")
    taken: list[tuple[PartEntry, PartKind]] = [
        (entry, used.get(entry.name, "packing"))
        for entry in listed.parts
        if entry.name in used or entry.called is not None
    ]
    taken += [(entry, "packing") for entry in listed.packing]
    rulers = _rulers(shade, measures)
    parts = tuple(_part(size, measures, rulers, entry, kind) for entry, kind in taken)
    held = {part.name for part in parts}
    weights = [part.weight for part in parts if part.weight is not None]
    total = None
    if weights:
        total = Measure(
            id="kit_weight",
            label="A packed box weighs, about",
            exact=sum(_exact(weight) for weight in weights),
            shown=sum(weight.value for weight in weights),
            unit="g",
            formula="the parts together",
            source=LIST,
            inputs=tuple(weight.id for weight in weights),
        )
    return KitContents(
        parts=parts,
        needed=tuple(name for name in plan.consumables if name not in held),
        needed_tools=tuple(name for name in plan.tools if name not in held),
        boxes=_counted("kits", "Kits of this size", size.boxes, "as the recipe says", RECIPE),
        weight=total,
        pieces=_sum("kit_pieces", "Pieces in the box", [p.count for p in parts if p.kind != "packing"]),
        spares=_sum("kit_spares", "Pieces to spare", [p.spare for p in parts if p.spare is not None]),
        cloth=() if "cloth" in held else tuple(_cloth(measures)),
        unweighed=tuple(part.name for part in parts if part.weight is None),
        stock=listed.stock,
        digest=listed.digest,
    )


def _sum(id_: str, label: str, counts: list[Measure]) -> Measure:
    whole = sum(count.value for count in counts)
    inputs = tuple(count.id for count in counts)
    return Measure(id_, label, whole, whole, "count", "the parts together", LIST, inputs=inputs)


def _cloth(measures: Measures) -> Iterator[Measure]:
    for convert in (in_centimetres, in_inches):
        yield from (convert(measures[key]) for key in ("cloth_length", "cloth_width"))


def _part(
    size: SizeRecipe, measures: Measures, rulers: Mapping[str, float], entry: PartEntry, kind: PartKind
) -> KitPart:
    key = "kit_" + entry.name.replace("-", "_")
    label = entry.called or entry.name.replace("-", " ").capitalize()
    if isinstance(entry.count, int):
        count = _counted(f"{key}_count", f"{label}, pieces", entry.count, "as the list says", LIST)
    else:
        number, formula = _number(entry.count, size, measures)
        source = measures["panels"].source
        count = _counted(f"{key}_count", f"{label}, pieces", number, formula, source, ("panels",))
    extra = size.kits.spares.get(entry.name, 0) if size.kits else 0
    spare = _counted(f"{key}_spare", f"{label}, to spare", extra, "as the recipe says", RECIPE)
    length = _length(f"{key}_length", f"{label}, length", entry, measures)
    pieces = count.value + extra
    weight = None
    if entry.weight is not None:
        one = _grams(entry, entry.weight, length, rulers)
        weight = _measure(
            f"{key}_weight",
            f"{label}, weight",
            one * pieces,
            round_nearest(one * pieces),
            "g",
            f"{plain(pieces)} × {plain(one)} g",
            LIST,
        )
    return KitPart(
        entry.name, kind, entry.called, entry.shelf, count, spare if extra else None, length, weight
    )


def _number(counter: str, size: SizeRecipe, measures: Measures) -> tuple[int, str]:
    """How many pieces a counter of the list comes to for one shade, and how that is found."""
    panels = round(measures.shown("panels"))
    if counter == "seam_tapes" and size.seam.finish == "hem":
        return 2 * panels, "for each panel one to hold its hem and one to close it"
    return panels, "one for each panel"


def _length(id_: str, label: str, entry: PartEntry, measures: Measures) -> Measure | None:
    """How much is cut off the reel for one piece: as the shade needs it, or with so much over."""
    if entry.length is None or entry.length not in measures:
        return None
    need = measures[entry.length]
    if not entry.over:
        return replace(need, id=id_, label=label, tolerance=None, inputs=(need.id,))
    exact = _exact(need) * (1 + entry.over)
    formula = f"{plain(_exact(need))} and {plain(entry.over * 100)} % over, up to a whole {plain(REEL_STEP)}"
    return Measure(
        id=id_,
        label=label,
        exact=exact,
        shown=round_up(exact, REEL_STEP),
        unit="mm",
        formula=formula,
        source=COMMON_PRACTICE,
        inputs=(need.id,),
        rounding="up",
        ruler="eighths",
    )


def _grams(entry: PartEntry, weight: Weight, length: Measure | None, rulers: Mapping[str, float]) -> float:
    """What one piece weighs. Raises KitError if it goes by something that this shade does not have."""
    if weight.of is None:
        return weight.each
    if length is not None and weight.of == entry.length:
        of = length.value
    elif weight.of in rulers:
        of = rulers[weight.of]
    else:
        faults = Faults()
        faults.unknown(entry.span, message("measure to weigh by"), weight.of, rulers)
        raise KitError(faults.found)
    return weight.each + weight.metre * of / 1000 + weight.square_metre * of / 1_000_000


def _rulers(shade: Shade, measures: Measures) -> dict[str, float]:
    """What a weight may go by: lengths and areas in mm and mm², with those that depend on the ends."""
    found = dict(_lengths(measures))
    plain_end: Literal["top", "bottom"] = "bottom" if shade.fitter_end == "top" else "top"
    found |= {
        "fitter_round": shade.rim(shade.fitter_end).length,
        "plain_round": shade.rim(plain_end).length,
        "panel_area": shade.panel_length * shade.panel_height,
    }
    if shade.tapered:
        # Without kiss cuts its maker cuts the panel out of the rectangle that holds it.
        box = measures.exact("blank_length") * measures.exact("blank_width")
        found["panel_area"] = measures.exact("blank_area") if shade.kiss_cut else box
    return found


def _lengths(measures: Measures) -> Iterator[tuple[str, float]]:
    for key, measure in measures.items():
        if measure.unit in ("mm", "mm²") and not isinstance(measure.exact, tuple):
            yield key, measure.exact


def _exact(measure: Measure) -> float:
    assert not isinstance(measure.exact, tuple)
    return measure.exact


def _counted(
    id_: str, label: str, count: int, formula: str, source: str, inputs: tuple[str, ...] = ()
) -> Measure:
    return _measure(id_, label, float(count), float(count), "count", f"{count}, {formula}", source, inputs)


def _measure(
    id_: str,
    label: str,
    exact: float | tuple[float, ...],
    shown: float | tuple[float, ...],
    unit: Unit,
    formula: str,
    source: str,
    inputs: tuple[str, ...] = (),
) -> Measure:
    return Measure(id_, label, exact, shown, unit, formula, source, inputs=inputs)
