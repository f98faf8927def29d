"""What else a plan tells on the terminal: a pair's schedule, faults by what is seen, its graph as an SVG."""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from generator.base.errors import UsageError
from generator.base.message import message
from generator.cli.report import words_of
from generator.cli.tables import print_json, print_table
from generator.plan.critical import Pace, critical_path
from generator.plan.model import Plan
from generator.plan.outlook import PACES, Outlook, outlook
from generator.plan.pair import pair_plan

if TYPE_CHECKING:
    from generator.plan.work import Work

_CALLED: dict[Pace, str] = {"first_time": "the first time", "practised": "practised"}


def pair_json(plan: Plan) -> dict[str, Any]:
    """Both paces of a pair: minutes, minutes saved, the bound, and each step's people and times."""
    found: dict[str, Any] = {}
    for pace in PACES:
        pair = pair_plan(plan, pace)
        found[pace] = {
            "minutes": round(pair.minutes, 3),
            "alone": round(pair.alone, 3),
            "saved": round(pair.saved, 3),
            "bound": round(pair.bound, 3),
            "proved": pair.proved,
            "tools_twice": list(pair.twice),
            "steps": [
                {
                    "step": turn.step,
                    "people": list(turn.people),
                    "start": round(turn.start, 3),
                    "end": round(turn.end, 3),
                }
                for turn in pair.turns
            ],
        }
    return found


def pair_tables(works: Sequence[Work]) -> None:
    """Who does what when, for the first time; what a pair saves, at both paces; in printed minutes."""
    for work in works:
        words = words_of(work)
        title = {step.number: words.say(f"{step.task.key}.title") for step in work.plan.steps}
        ahead = outlook(work.plan)
        rows = []
        for turn in ahead.pairs["first_time"].turns:
            cells = [f"{turn.step} {title[turn.step]}" if person in turn.people else "" for person in (1, 2)]
            rows.append((f"{turn.start:.0f}", f"{turn.end:.0f}", *cells))
        heads = ("from, min", "to, min", "first person", "second person")
        name = f"{work.size.title}, size {work.size.name}: two people, the first time"
        print_table(name, heads, rows, right=("from, min", "to, min"))
        for line in _pair_lines(ahead, words.say):
            click.echo(textwrap.fill(line, 96))
        click.echo()


def _pair_lines(ahead: Outlook, say: Any) -> list[str]:
    lines = []
    pairs = ahead.pairs
    for pace, pair in pairs.items():
        shown = f"{pair.minutes:.0f} min instead of {pair.alone:.0f}: {pair.saved:.0f} min saved"
        if abs(pair.minutes - ahead.paths[pace].length) < 0.01:
            why = "no two people can be quicker, since this is the critical path"
        elif pair.proved:
            why = "no other way of sharing the steps out is quicker"
        else:
            why = f"the best that was found; it cannot be less than {pair.bound:.0f} min"
        lines.append(f"Two people, {_CALLED[pace]}: {shown}; {why}.")
    if not any(len(turn.people) > 1 for turn in pairs["first_time"].turns):
        lines.append(
            "No step is done by both at once. A technique can let them: pair: {how: hold, factor: 0.6}."
        )
    if pairs["first_time"].twice:
        tools = ", ".join(say(f"tool.{tool}") for tool in pairs["first_time"].twice)
        lines.append(f"Have two of each: {tools}.")
    return lines


def faults_json(works: Sequence[Work]) -> None:
    """One object, sizes by name, faults in the order of the steps that cause them."""
    print_json({work.size.name: {"faults": list(_faults(work))} for work in works})


def faults_table(works: Sequence[Work]) -> None:
    """What you see, what went wrong, how to mend it, and until when."""
    for work in works:
        rows = [
            (fault["see"], str(fault["step"]), fault["mistake"], fault["mend"], fault["until"])
            for fault in _faults(work)
        ]
        name = f"{work.size.title}, size {work.size.name}: faults by what you see"
        print_table(
            name, ("you see", "step", "what went wrong", "mend it", "last moment"), rows, right=("step",)
        )


def _faults(work: Work) -> list[dict[str, Any]]:
    from generator.sheets.cards import text_of
    from generator.sheets.last import all_faults

    return [
        {
            "step": fault.step,
            "task": mishap.task,
            "see": text_of(fault.see),
            "mistake": text_of(fault.cause),
            "mend": text_of(fault.mend),
            "until": text_of(fault.until),
            "moment": mishap.until,
            "before": mishap.before,
        }
        for mishap, fault in zip(work.plan.mishaps, all_faults(work.plan, words_of(work)), strict=True)
    ]


def write_graph(works: Sequence[Work], path: Path, *, quiet: bool = False) -> None:
    """The graph of one size as an SVG. Raises UsageError for several sizes or another kind of file."""
    from generator.figures.plan_graph import plan_graph
    from generator.press.publish import publish

    if path.suffix.lower() != ".svg":
        raise UsageError(
            message("{path} is no name of a drawing", path=str(path)), message("write one that ends in .svg")
        )
    if len(works) != 1:
        names = ", ".join(work.size.name for work in works)
        raise UsageError(
            message("one drawing shows one size"),
            message("choose one of {names} with --size", names=names),
        )
    (work,) = works
    publish(path, plan_graph(work.plan, words_of(work)).svg.encode())
    if quiet:
        return
    length = critical_path(work.plan.printed).length
    click.echo(
        f"{path}: the steps of {work.size.title}, size {work.size.name}; critical path {length:.0f} min"
    )
