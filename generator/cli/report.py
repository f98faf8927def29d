"""Measures and steps on the terminal: as tables for people, as JSON for programs."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import click

from generator.measures.measure import Measure, Value
from generator.plan.model import Step
from generator.sheets.wording import Catalogue, load_words

if TYPE_CHECKING:
    from generator.pipeline import Work


def measures_json(works: Sequence[Work]) -> None:
    """One object, sizes by name, measures by id; ``shown`` is a number (or a list) in ``unit``."""
    _json(
        {
            work.size.name: {"measures": {key: _measure(m) for key, m in work.measures.items()}}
            for work in works
        }
    )


def _measure(measure: Measure) -> dict[str, Any]:
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


def _json(sizes: dict[str, Any]) -> None:
    click.echo(json.dumps({"sizes": sizes}, indent=2, ensure_ascii=False))


def _text(measure: Measure) -> str:
    units = {"count": "", "fraction": "", "deg": "°"}
    unit = units.get(measure.unit, f" {measure.unit}")
    return (", ".join(f"{v:.10g}" for v in measure.values) or "none") + (unit if measure.values else "")


def measures_table(works: Sequence[Work]) -> None:
    """Value, tolerance, formula with the numbers filled in, source; one table a size."""
    for work in works:
        rows = [
            (
                m.label,
                _text(m),
                f"± {m.tolerance:g}" if m.tolerance is not None else "",
                m.formula,
                m.source,
            )
            for m in work.measures.values()
        ]
        _table(
            f"{work.size.title}, size {work.size.name}",
            ("measure", "value", "tolerance", "formula", "source"),
            rows,
        )


def _table(
    title: str, heads: Sequence[str], rows: Sequence[Sequence[str]], right: Sequence[str] = ("value",)
) -> None:
    from rich import box
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    console = Console(highlight=False, markup=False, emoji=False)
    if not console.is_terminal:
        console.width = 160
    table = Table(title=Text(title), title_justify="left", box=box.SIMPLE_HEAD, pad_edge=False)
    for head in heads:
        table.add_column(head, justify="right" if head in right else "left", no_wrap=head in right)
    for row in rows:
        table.add_row(*(Text(cell) for cell in row))
    console.print(table)


def steps_json(works: Sequence[Work]) -> None:
    """One object, sizes by name, steps in order."""
    _json(
        {
            work.size.name: {
                "steps": [
                    {
                        "number": step.number,
                        "id": step.id,
                        "title": _words(work).say(f"{step.task.key}.title"),
                        "stage": step.task.stage,
                        "needs": list(step.task.needs),
                        "gives": list(step.task.gives),
                        "tools": list(step.task.tools),
                        "consumables": list(step.task.consumables),
                        "minutes": {
                            "first_time": round(step.minutes.first_time, 3),
                            "practised": round(step.minutes.practised, 3),
                        },
                        "irreversible": step.task.irreversible,
                        "after": step.task.after,
                        "cautions": list(step.task.cautions),
                        "why": " ".join(step.why),
                    }
                    for step in work.plan.steps
                ]
            }
            for work in works
        }
    )


def steps_table(works: Sequence[Work]) -> None:
    """Number, title, minutes, tools, and what to mind."""
    for work in works:
        words = _words(work)
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
        _table(_total(work), heads, rows, right=("step", "first time, min", "practised, min"))


def steps_with_reasons(works: Sequence[Work]) -> None:
    """Each step with the reason for its place, as running text."""
    for work in works:
        words = _words(work)
        click.echo(_total(work))
        for step in work.plan.steps:
            click.echo(
                f"\n{step.number:>3}  {words.say(f'{step.task.key}.title')}: "
                f"{step.whole[0]} min the first time, {step.whole[1]} practised"
            )
            for line in filter(None, (_tools(words, step), _mind(step))):
                click.echo(f"     {line}")
            click.echo(
                textwrap.fill(" ".join(step.why), 96, initial_indent="     ", subsequent_indent="     ")
            )


def _words(work: Work) -> Catalogue:
    return load_words("en").bound(work.plan, work.measures)


def _tools(words: Catalogue, step: Step) -> str:
    return ", ".join(words.say(f"tool.{tool}") for tool in step.task.tools)


def _mind(step: Step) -> str:
    notes = [
        *(["cannot be undone"] if step.task.irreversible else []),
        *(["do not wait after it"] if step.task.after == "at-once" else []),
        *(["good place to stop"] if step.task.after == "safe-pause" else []),
    ]
    return ", ".join(notes)


def _total(work: Work) -> str:
    total = work.plan.minutes
    return (
        f"{work.size.title}, size {work.size.name}: {total.first_time:.0f} min the first time, "
        f"{total.practised:.0f} min practised (estimates)"
    )
