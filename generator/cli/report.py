"""Measures and steps on the terminal: as tables for people, as JSON for programs."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any

import click

from generator.base.edition import ENGLISH, Units, Voice
from generator.measures.inches import inches_of, tolerance_in_inches
from generator.measures.measure import Measure, Value
from generator.plan.critical import Pace, critical_path
from generator.plan.model import Plan, Step
from generator.sheets.formatting import fraction, quantity
from generator.sheets.why import why
from generator.sheets.wording import Catalogue, load_words

if TYPE_CHECKING:
    from generator.plan.work import Work


def measures_json(works: Sequence[Work]) -> None:
    """One object, sizes by name, measures by id; ``shown`` is a number (or a list) in ``unit``."""
    print_json(
        {
            work.size.name: {"measures": {key: as_json(m) for key, m in work.measures.items()}}
            for work in works
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


def print_json(sizes: dict[str, Any]) -> None:
    """One object on the output."""
    click.echo(json.dumps({"sizes": sizes}, indent=2, ensure_ascii=False))


def _text(measure: Measure, units: Units = "metric") -> str:
    if measure.values and inches_of(measure) is not None and units != "metric":
        return quantity(measure, Voice(units=units))
    return _metric(measure)


def _within(measure: Measure, units: Units) -> str:
    if measure.tolerance is None:
        return ""
    if units == "inch" and inches_of(measure) is not None:
        return f"± {fraction(tolerance_in_inches(measure.tolerance))} in"
    return f"± {measure.tolerance:g}"


def _metric(measure: Measure) -> str:
    units = {"count": "", "fraction": "", "deg": "°"}
    unit = units.get(measure.unit, f" {measure.unit}")
    return (", ".join(f"{v:.10g}" for v in measure.values) or "none") + (unit if measure.values else "")


def measures_table(works: Sequence[Work], units: Units = "metric") -> None:
    """Value, tolerance, formula with the numbers filled in (always mm), source; one table a size."""
    for work in works:
        rows = [
            (
                m.label,
                _text(m, units),
                _within(m, units),
                m.formula,
                m.source,
            )
            for m in work.measures.values()
        ]
        print_table(
            f"{work.size.title}, size {work.size.name}",
            ("measure", "value", "tolerance", "formula", "source"),
            rows,
        )


def print_table(
    title: str, heads: Sequence[str], rows: Sequence[Sequence[str]], right: Sequence[str] = ("value",)
) -> None:
    """A table as wide as its words, on a terminal as wide as that."""
    from rich import box
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    console = Console(highlight=False, markup=False, emoji=False)
    if not console.is_terminal:
        console.width = 160
    for line in title.splitlines():
        console.print(Text(line))
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False)
    for head in heads:
        table.add_column(head, justify="right" if head in right else "left", no_wrap=head in right)
    for row in rows:
        table.add_row(*(Text(cell) for cell in row))
    console.print(table)


def steps_json(works: Sequence[Work], more: Callable[[Plan], dict[str, Any]] | None = None) -> None:
    """One object, sizes by name, steps in order; ``more`` adds to a size."""
    print_json(
        {
            work.size.name: {
                "steps": [
                    {
                        "number": step.number,
                        "id": step.id,
                        "title": words_of(work).say(f"{step.task.key}.title"),
                        "stage": step.task.stage,
                        "needs": list(step.task.needs),
                        "gives": list(step.task.gives),
                        "tools": list(step.task.tools),
                        "consumables": list(step.task.consumables),
                        "minutes": {
                            "first_time": round(step.minutes.first_time, 3),
                            "practised": round(step.minutes.practised, 3),
                        },
                        "measured": step.number not in work.plan.estimated,
                        "rest": round(step.rest, 3),
                        "times": step.times,
                        "adult": step.adult,
                        "helper": step.helper,
                        "hands": step.task.hands,
                        "irreversible": step.task.irreversible,
                        "after": step.task.after,
                        "cautions": list(step.task.cautions),
                        "why": " ".join(why(step, words_of(work))),
                    }
                    for step in work.plan.steps
                ],
                "order": _order(work.plan),
                "times": _times(work.plan),
                "critical_path": _critical(work.plan),
                **(more(work.plan) if more else {}),
            }
            for work in works
        }
    )


def steps_table(works: Sequence[Work]) -> None:
    """Number, title, minutes, tools, and what to mind."""
    for work in works:
        words = words_of(work)
        rows = [
            (
                str(step.number),
                words.say(f"{step.task.key}.title"),
                *map(str, step.whole),
                _tools(words, step),
                _mind(step),
            )
            for step in work.plan.steps
        ]
        heads = ("step", "task", "first time, min", "practised, min", "tools", "mind")
        print_table(_total(work), heads, rows, right=("step", "first time, min", "practised, min"))


def steps_with_reasons(works: Sequence[Work]) -> None:
    """Each step with the reason for its place, as running text."""
    for work in works:
        words = words_of(work)
        click.echo("\n".join(textwrap.fill(line, 96) for line in _total(work).splitlines()))
        for step in work.plan.steps:
            click.echo(
                f"\n{step.number:>3}  {words.say(f'{step.task.key}.title')}: "
                f"{step.whole[0]} min the first time, {step.whole[1]} practised"
            )
            for line in filter(None, (_tools(words, step), _mind(step))):
                click.echo(f"     {line}")
            click.echo(
                textwrap.fill(
                    " ".join(why(step, words)), 96, initial_indent="     ", subsequent_indent="     "
                )
            )


def words_of(work: Work) -> Catalogue:
    """The words of a work, bound to its plan."""
    return load_words(ENGLISH).bound(work.plan, work.measures)


def _tools(words: Catalogue, step: Step) -> str:
    return ", ".join(words.say(f"tool.{tool}") for tool in step.task.tools)


def _mind(step: Step) -> str:
    notes = [
        *([f"once for each of {step.times} {step.task.times}"] if step.times > 1 else []),
        *(["a named adult does it"] if step.adult else []),
        *(["get a helper"] if step.helper else []),
        *(["cannot be undone"] if step.task.irreversible else []),
        *(["do not wait after it"] if step.task.after == "at-once" else []),
        *([f"then wait {step.rest:.0f} min"] if step.rest else []),
        *(["good place to stop"] if step.task.after == "safe-pause" else []),
    ]
    return ", ".join(notes)


def _total(work: Work) -> str:
    total = work.plan.minutes
    lines = [
        f"{work.size.title}, size {work.size.name}: {total.first_time:.0f} min the first time, "
        f"{total.practised:.0f} min practised ({_source(work.plan)})"
    ]
    if not work.plan.proved:
        lines.append(unproved(work.plan))
    return "\n".join(lines)


def _source(plan: Plan) -> str:
    measured = plan.measured
    if measured is None:
        return "estimates"
    spread = f"± {measured.spread[0]:.0f} and ± {measured.spread[1]:.0f} min"
    told = f"measured on {measured.shades} shades, {measured.workroom}, {spread}"
    if not plan.estimated:
        return told
    return f"{told}; estimates in steps {', '.join(map(str, plan.estimated))}"


def unproved(plan: Plan) -> str:
    """Says of a plan whose search had to stop how good it is, and how good any could be."""
    faces, places, tools, late = plan.cost
    least_faces, least_places, least_tools, latest = plan.bound
    return (
        "This order is the best that was found, and not proved to be the best there is: there are too many "
        f"to try them all. It turns the work {faces} times (no order fewer than {least_faces}), changes the "
        f"place {places} times ({least_places}), the tool {tools} times ({least_tools}); the positions of "
        f"what cannot be undone add up to {late} (in no order more than {latest})."
    )


def _order(plan: Plan) -> dict[str, Any]:
    names = ("faces", "places", "tools", "irreversible_positions")
    return {
        "proved": plan.proved,
        "cost": dict(zip(names, plan.cost, strict=True)),
        "bound": dict(zip(names, plan.bound, strict=True)),
    }


def _times(plan: Plan) -> dict[str, Any]:
    measured = plan.measured
    if measured is None:
        return {"source": "estimates"}
    return {
        "source": "measured",
        "workroom": measured.workroom,
        "shades": measured.shades,
        "spread": {"first_time": round(measured.spread[0], 3), "practised": round(measured.spread[1], 3)},
        "estimated_steps": list(plan.estimated),
    }


def _critical(plan: Plan) -> dict[str, Any]:
    paces: tuple[Pace, ...] = ("first_time", "practised")
    paths = {pace: critical_path(plan, pace) for pace in paces}
    return {
        pace: {
            "minutes": round(path.length, 3),
            "steps": list(path.steps),
            "slack": {str(number): round(slack, 3) for number, slack in path.slack.items()},
        }
        for pace, path in paths.items()
    }
