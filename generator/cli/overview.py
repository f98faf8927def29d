"""One shade at a glance on the terminal: five numbers with a drawing, what to have ready, minutes."""

from __future__ import annotations

import sys
import textwrap
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Any

import click

from generator.base.errors import InputError, RimfoldError
from generator.cli.measures_report import as_json
from generator.cli.report import words_of
from generator.cli.sketch import COARSE, FINE, sketch
from generator.sheets.cards import plan_minutes, text_of
from generator.sheets.context import subline
from generator.sheets.formatting import duration
from generator.sheets.kinds.crib_sheet import five_numbers

if TYPE_CHECKING:
    from generator.plan.work import Work

WIDTH = 78
"""Columns that a terminal has, as far as one may count on."""
_DRAWING, _ROWS = 36, 9
"""Columns and rows of the drawing beside the numbers."""


def show(work: Work) -> None:
    """Print it."""
    words = words_of(work)
    click.echo(f"{work.size.called}: {text_of(subline(work.size, words))}")
    click.echo()
    drawing = sketch(work.shade, _DRAWING, _ROWS, _grid(), ("side", "above"))
    for line in _beside(list(numbers(work)), drawing):
        click.echo(line)
    click.echo()
    for head, kind, names in (
        ("Lay out", "layout", work.plan.consumables),
        ("Tools", "tool", work.plan.tools),
    ):
        _paragraph(f"{head}: {'; '.join(words.say(f'{kind}.{name}') for name in names)}.")
    first, practised = (duration(plan_minutes(work.plan, practised=each)) for each in (False, True))
    source = "estimates" if work.plan.measured is None else "measured"
    _paragraph(f"{first} the first time, {practised} practised ({source}); {len(work.plan.steps)} steps.")


def changed_numbers(before: Work, now: Work) -> tuple[str, ...]:
    """Those of the five numbers that an answer has changed, in one line, or nothing."""
    old = {name: value for value, name in _rows(before)}
    new = [f"{name}: {value}" for value, name in _rows(now) if old.get(name) != value]
    return (f"→ {'; '.join(new)}",) if new else ()


def _rows(work: Work) -> list[tuple[str, str]]:
    """Value and name of each of the five numbers."""
    return [
        (f"{text_of(number.value)}{number.unit}", text_of(number.name))
        for number in five_numbers(work.measures, words_of(work))
    ]


def numbers(work: Work) -> Iterator[str]:
    """The five numbers, one a line, the values below one another."""
    rows = _rows(work)
    wide = max(len(value) for value, _ in rows)
    for value, name in rows:
        yield f"  {value:>{wide}}  {name}"


def to_json(work: Work) -> dict[str, Any]:
    """The same as plain values: the five by name with the ids of their measures, and every measure."""
    words = words_of(work)
    return {
        "title": work.size.title,
        "size": work.size.name,
        "outline": work.size.outline,
        "use": work.size.use,
        "five": {number.key: list(number.measures) for number in five_numbers(work.measures, words)},
        "tools": list(work.plan.tools),
        "consumables": list(work.plan.consumables),
        "steps": len(work.plan.steps),
        "minutes": {
            "first_time": plan_minutes(work.plan),
            "practised": plan_minutes(work.plan, practised=True),
        },
        "measures": {key: as_json(measure) for key, measure in work.measures.items()},
    }


def reasons(error: RimfoldError) -> tuple[str, ...]:
    """What is wrong, what was expected and what to do, without a place: nobody has written a file."""
    if not isinstance(error, InputError):
        return error.lines
    return tuple(dict.fromkeys(fault.said for fault in error.faults))


def _beside(left: Sequence[str], right: Sequence[str]) -> Iterator[str]:
    """Two blocks beside one another, their middles level; or one below the other where that is too wide."""
    wide = max(map(len, left)) + 4
    if wide + max(map(len, right)) > WIDTH:
        yield from (*left, "", *(f"  {line}" for line in right))
        return
    height = max(len(left), len(right))
    blocks = []
    for block in (left, right):
        above = (height - len(block)) // 2
        blocks.append([*[""] * above, *block, *[""] * (height - len(block) - above)])
    for one, other in zip(*blocks, strict=True):
        yield f"{one:<{wide}}{other}".rstrip()


def _paragraph(text: str) -> None:
    click.echo(textwrap.fill(text, WIDTH, subsequent_indent="  "))


def _grid() -> Any:
    """Fine where the output can hold braille."""
    try:
        chr(0x2800).encode(getattr(sys.stdout, "encoding", None) or "ascii")
    except (UnicodeEncodeError, LookupError):
        return COARSE
    return FINE
