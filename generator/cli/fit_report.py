"""What a remnant makes, on the terminal: a table for people, JSON for programs."""

from __future__ import annotations

import json
import math
import textwrap
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import click

from generator.base.errors import UsageError
from generator.base.message import joined
from generator.base.sides import SidesError, parse_sides
from generator.base.units import round_down
from generator.cli.tables import print_table
from generator.measures.fit import Fit, Largest, OnCloth, Remnant
from generator.recipe.models import SizeRecipe
from generator.shape.build import outline_keys
from generator.shape.say import mm, plain

if TYPE_CHECKING:
    from generator.examine import Fitted

SEEN = 0.5
"""A pattern that is turned less is upright to the hand, degrees."""


def remnant_of(text: str, *, one_way: bool) -> Remnant:
    """The piece of cloth that a command line names. Raises UsageError."""
    try:
        width, length = parse_sides(text)
    except SidesError as error:
        raise UsageError(joined(["--cloth", error.said], ": ")) from error
    return Remnant(width, length, one_way)


def fit_table(fitted: Fitted, fits: Sequence[Fit]) -> None:
    """Three rows a size: as the recipe has it, the largest of its shape, the largest of its height."""
    remnant = fitted.remnant
    title = f"{fitted.recipe.title} on a cloth {mm(remnant.width)} wide and {mm(remnant.length)} long"
    rows = []
    for one in fits:
        rows.append((one.size.name, "as it is", _dimensions(one.size), *_cells(one.as_it_is)))
        for found, words in _both(one):
            best = found.best
            rows.append(("", words, _dimensions(best.size) if best else "none", *_cells(best, none=True)))
    heads = ("size", "shade", "measures", "to cut, mm", "comes out", "lies", "spare, mm")
    print_table(title + (", its print one way" if remnant.one_way else ""), heads, rows, right=("size",))
    for one in fits:
        for line in _notes(one):
            click.echo(textwrap.fill(line, 96))


def fit_json(fitted: Fitted, fits: Sequence[Fit]) -> None:
    """One object: the cloth, and sizes by name; lengths in mm, angles in degrees."""
    cloth = {
        "width": _number(fitted.remnant.width),
        "length": _number(fitted.remnant.length),
        "one_way": fitted.remnant.one_way,
    }
    sizes = {
        one.size.name: {
            "fits": one.as_it_is is not None and one.as_it_is.layout is not None,
            **(_laid(one.as_it_is) if one.as_it_is else {}),
            "faults": [str(fault) for fault in one.faults],
            "largest": _found(one.largest),
            "largest_of_same_height": _found(one.same_height),
        }
        for one in fits
    }
    click.echo(json.dumps({"cloth": cloth, "sizes": sizes}, indent=2, ensure_ascii=False))


def _both(one: Fit) -> tuple[tuple[Largest, str], tuple[Largest, str]]:
    return (one.largest, "largest of this shape"), (one.same_height, "largest of this height")


def _cells(on: OnCloth | None, *, none: bool = False) -> tuple[str, str, str, str]:
    """What to cut, whether it comes out, how it lies, what is left."""
    if on is None:
        return "", "" if none else "cannot be made", "", ""
    piece = " × ".join(plain(side) for side in on.cut)
    cut = piece if on.pieces == 1 else f"{on.pieces} of {piece}"
    if on.layout is None:
        return cut, "no" + _short_by(on), "", ""
    across, along = (plain(round_down(side)) for side in on.spare)
    return cut, "yes", _lies(on), f"{across} of width, {along} of length"


def _short_by(on: OnCloth) -> str:
    """What one piece lacks, the way in which it lacks least."""
    covering = on.size.covering
    if on.pieces > 1 or covering.length is None:
        return ""
    ways = [on.cut] if covering.direction == "one-way" else [on.cut, (on.cut[1], on.cut[0])]
    lacks = [(max(a - covering.width, 0.0), max(b - covering.length, 0.0)) for a, b in ways]
    across, along = min(lacks, key=sum)
    told = [f"{mm(lack)} {word}" for lack, word in ((across, "too wide"), (along, "too long")) if lack]
    return f": {' and '.join(told)}"


def _lies(on: OnCloth) -> str:
    assert on.layout is not None
    turned = on.layout.turned
    if turned in (0, on.pieces):
        lies = "turned" if turned else "straight"
    else:
        lies = f"{on.pieces - turned} straight, {turned} turned"
    if abs(on.turned) > SEEN:
        lies += f", the pattern turned {abs(on.turned):.0f}° off upright"
    return lies


def _notes(one: Fit) -> list[str]:
    """What the largest shades ask for, and why a larger one will not do."""
    lines = []
    if one.size.panel.supplied is not None:
        lines.append(
            f"Size {one.size.name}: its supplied panel fits this size alone; the largest shades take "
            "panels of their own."
        )
    for found, words in _both(one):
        name = f"Size {one.size.name}, {words}"
        if found.refused is not None:
            why = "; ".join(fault.wrong for fault in found.faults)
            larger = _dimensions(found.refused.size)
            lines.append(f"{name}: the cloth would make {larger}, which cannot be made: {why}.")
        elif found.best is None:
            lines.append(f"{name}: no shade comes out of this cloth.")
    return lines


def _dimensions(size: SizeRecipe) -> str:
    slant = size.ends.slant if size.ends else None
    tall = f"height {mm(size.height)}" if slant is None else f"slant {mm(slant)}"
    return f"{_ring(size)}; {tall}"


def _ring(size: SizeRecipe) -> str:
    if size.ends is None:
        return _told(size.outline, size.dimensions)
    rings = (f"{name} {_told(end.outline, end.dimensions)}" for name, end in _ends(size))
    shift = [f"{name} {mm(way)}" for name, way in zip("xy", size.ends.shift, strict=True) if way]
    return "; ".join([*rings, *([f"shift {', '.join(shift)}"] if shift else [])])


def _ends(size: SizeRecipe) -> list[tuple[str, Any]]:
    assert size.ends is not None
    return [("bottom", size.ends.bottom), ("top", size.ends.top)]


def _told(outline: str, dimensions: Any) -> str:
    counts = outline_keys()[outline].counts
    return ", ".join(
        f"{key.replace('_', ' ')} {mm(dimensions[key])}" for key in dimensions if key not in counts
    )


def _found(found: Largest) -> dict[str, Any]:
    shade = None
    if found.best is not None:
        shade = {**_shape(found.best.size), **_laid(found.best)}
    refused = None
    if found.refused is not None:
        refused = {**_shape(found.refused.size), "why": [fault.wrong for fault in found.faults]}
    return {"shade": shade, "refused": refused}


def _shape(size: SizeRecipe) -> dict[str, Any]:
    """A shade in a recipe's own keys."""

    def ring(outline: str, dimensions: Any) -> dict[str, Any]:
        return {"outline": outline, **{key: _number(value) for key, value in dimensions.items()}}

    if size.ends is None:
        return {**ring(size.outline, size.dimensions), "height": _number(size.height)}
    tall = ("height", size.height) if size.ends.slant is None else ("slant", size.ends.slant)
    shape: dict[str, Any] = {name: ring(end.outline, end.dimensions) for name, end in _ends(size)}
    shift = {key: _number(way) for key, way in zip("xy", size.ends.shift, strict=True) if way}
    return {**shape, tall[0]: _number(tall[1]), **({"shift": shift} if shift else {})}


def _laid(on: OnCloth) -> dict[str, Any]:
    layout = on.layout
    spare = None if layout is None else dict(zip(("width", "length"), map(_number, on.spare), strict=True))
    return {
        "cut": {"pieces": on.pieces, "length": _number(on.cut[0]), "width": _number(on.cut[1])},
        "turned_pieces": None if layout is None else layout.turned,
        "pattern_turned": round(on.turned, 3),
        "spare": spare,
    }


def _number(value: float) -> float | int | None:
    if not math.isfinite(value):
        return None
    return int(value) if float(value).is_integer() else round(value, 6)
