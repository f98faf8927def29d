"""Whether a plan can be put into words and pictures: what a changed technique may have left without."""

from __future__ import annotations

from collections.abc import Iterator

from generator.base.errors import Fault, WordingError, nearest
from generator.base.message import message
from generator.base.registry import kinds
from generator.base.spans import Span
from generator.figures.kinds import PACKAGE
from generator.plan.model import Plan, Step
from generator.sheets.wording import Catalogue

FEWEST = 2
"""How many instructions a card has at least."""
MOST = 20
"""Up to this number instructions are looked for."""


def unspoken(plan: Plan, words: Catalogue) -> tuple[Fault, ...]:
    """Every sentence and figure that the plan needs and does not have. ``words`` are bound to the plan."""
    spans = {phrase.key: phrase.span for phrase in plan.phrases}
    found = [fault for step in plan.steps for fault in _step(step, words, spans)]
    things = {
        **{f"{kind}.{name}": step for step in reversed(plan.steps) for kind, name in _things(step)},
        **{f"stage.{stage.id}": stage.steps[0] for stage in plan.stages},
    }
    for key, step in sorted(things.items(), key=lambda item: item[1].number):
        found += _said(key, step, words, spans)
    return tuple(dict.fromkeys(found))


def _things(step: Step) -> Iterator[tuple[str, str]]:
    task = step.task
    for tool in task.tools:
        yield from (("tool", tool), ("layout", tool))
    for thing in task.consumables:
        yield from (("consumable", thing), ("layout", thing))
    for caution in task.cautions:
        yield from (("caution", f"{caution}.{part}") for part in ("hazard", "consequence", "avoid"))
    if task.pair is not None:
        yield "pair", task.pair


def _step(step: Step, words: Catalogue, spans: dict[str, Span]) -> Iterator[Fault]:
    task = step.task
    mishaps = [f".{n}" if n > 1 else "" for n in range(1, len(task.mend_until) + 1)] or [""]
    parts = [
        "title",
        "check",
        *(f"{what}{part}" for part in mishaps for what in ("mistake", "rescue", "see")),
    ]
    for part in parts:
        key = f"{task.key}.{part}"
        yield from _said(key, step, words, spans)
    count, faults = _instructions(step, words, spans)
    yield from faults
    if count < FEWEST:
        yield Fault(
            task.span,
            message("the task {id} has fewer than {fewest} instructions", id=task.id, fewest=FEWEST),
            message("two to four, one a line"),
            message("add {text} to the task", text="words: {do: [first, second]}"),
        )
    if task.figure not in kinds(PACKAGE):
        close = nearest(task.figure, sorted(kinds(PACKAGE)))
        fix = (
            message("did you mean {text}?", text=close)
            if close
            else message("write figure: and the name of one that is there")
        )
        yield Fault(
            task.span,
            message("nobody has drawn the figure “{figure}”", figure=task.figure),
            message("a figure's name"),
            fix,
        )


def _instructions(step: Step, words: Catalogue, spans: dict[str, Span]) -> tuple[int, list[Fault]]:
    """How many instructions hold for this plan, and what is wrong with them."""
    numbers = [n for n in range(MOST + 1) if words.has(f"{step.task.key}.do.{n}")]
    faults: list[Fault] = []
    for number in numbers:
        key = f"{step.task.key}.do.{number}"
        faults += _said(key, step, words, spans)
    return len(numbers), faults


def _said(key: str, step: Step, words: Catalogue, spans: dict[str, Span]) -> Iterator[Fault]:
    try:
        words.judge(key)
    except WordingError as error:
        span = spans.get(words.variant(key) or key, step.task.span)
        fix = message(
            "add it to words: in the technique, or keep the line wording: of the file that you copied"
        )
        yield Fault(
            span,
            message("{reason}, which the task {id} needs", reason=str(error), id=step.id),
            message("words for all that a card says"),
            fix,
        )
