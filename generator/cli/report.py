"""Steps on the terminal: as tables for people, as JSON for programs."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any

import click

from generator.base.edition import ENGLISH
from generator.cli.tables import print_json, print_table
from generator.plan.critical import Pace, critical_path
from generator.plan.model import Plan, Step
from generator.sheets.why import why
from generator.sheets.wording import Catalogue, load_words

if TYPE_CHECKING:
    from generator.plan.work import Work


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
