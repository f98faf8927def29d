"""Measures on the terminal: as a table for people, as JSON for programs."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from generator.base.edition import Units, Voice
from generator.cli.chosen import named
from generator.cli.tables import print_json, print_table
from generator.measured import Measured, measured
from generator.measures.inches import inches_of, tolerance_in_inches
from generator.measures.measure import Measure, Measures, Value

if TYPE_CHECKING:
    from generator.examine import Examined
    from generator.recipe.models import SizeRecipe


def look(recipe: Path) -> Measured | Examined:
    """A recipe's measures; what only a plan can tell is asked of one where there has to be one.

    Raises what ``examine`` raises.
    """
    found = measured(recipe)
    if found is not None:
        return found
    from generator.examine import examine

    return examine(recipe)


def show(found: Measured | Examined, sizes: Sequence[str], units: Units, *, in_json: bool) -> int:
    """Print the measures of the sizes asked for, or of all. Raises UsageError for one that is not there."""
    wanted = named(found.recipe.path, [work.size.name for work in found.works], sizes)
    works = [(work.size, work.measures) for work in found.works if work.size.name in wanted]
    if in_json:
        _in_json(works)
    else:
        _tables(works, units)
    return 0


def _in_json(works: Sequence[tuple[SizeRecipe, Measures]]) -> None:
    """One object, sizes by name, measures by id; ``shown`` is a number (or a list) in ``unit``."""
    print_json(
        {
            size.name: {"measures": {key: as_json(measure) for key, measure in measures.items()}}
            for size, measures in works
        }
    )


def as_json(measure: Measure) -> dict[str, Any]:
    """A measure as plain values."""
    return {
        "exact": _plain(measure.exact),
        "shown": _plain(measure.shown),
        "unit": measure.unit,
        "tolerance": measure.tolerance,
        "label": measure.label,
        "formula": measure.formula,
        "source": measure.source,
    }


def _plain(value: Value) -> Any:
    return [_number(v) for v in value] if isinstance(value, tuple) else _number(value)


def _number(value: float) -> float | int:
    """Whole numbers without a point; others as they are computed."""
    return int(value) if float(value).is_integer() else value


def _text(measure: Measure, units: Units = "metric") -> str:
    if measure.values and inches_of(measure) is not None and units != "metric":
        # What writes numbers as a language has them is not loaded where nobody asks for inches.
        from generator.sheets.formatting import quantity

        return quantity(measure, Voice(units=units))
    return _metric(measure)


def _within(measure: Measure, units: Units) -> str:
    if measure.tolerance is None:
        return ""
    if units == "inch" and inches_of(measure) is not None:
        from generator.sheets.formatting import fraction

        return f"± {fraction(tolerance_in_inches(measure.tolerance))} in"
    return f"± {measure.tolerance:g}"


def _metric(measure: Measure) -> str:
    units = {"count": "", "fraction": "", "deg": "°"}
    unit = units.get(measure.unit, f" {measure.unit}")
    return (", ".join(f"{v:.10g}" for v in measure.values) or "none") + (unit if measure.values else "")


def _tables(works: Sequence[tuple[SizeRecipe, Measures]], units: Units) -> None:
    """Value, tolerance, formula with the numbers filled in (always mm), source; one table a size."""
    for size, measures in works:
        rows = [(m.label, _text(m, units), _within(m, units), m.formula, m.source) for m in measures.values()]
        heads = ("measure", "value", "tolerance", "formula", "source")
        print_table(f"{size.title}, size {size.name}", heads, rows)
