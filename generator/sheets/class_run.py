"""The run sheet of a class as its template shows it: rows by the clock, checkpoints, what to do when late."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.lesson.pack import ClassNumbers
from generator.lesson.route import ADULT
from generator.lesson.schedule import Part
from generator.measures.measure import Measure
from generator.plan.model import Plan, Step
from generator.sheets.cards import Caution, caution
from generator.sheets.formatting import quantity
from generator.sheets.wording import Catalogue, Segment, Sentence

MOST_CAUTIONS = 6
ROW = 3
"""So many of them stand side by side."""
WORST = ("rotary-blade", "hot-iron", "shears", "small-scissors", "snips")
"""Cautions that are read aloud before all others."""


@dataclass(frozen=True, slots=True)
class Row:
    """A row of the run sheet."""

    look: str
    """``show``, ``work``, ``break``, ``welcome``, ``close``, ``check``."""
    clock: str
    minutes: str
    what: str
    steps: str
    tutor: Sentence
    who: str
    tools: str
    latest: str
    count: str = ""
    """Of a checkpoint: how many people are to have come so far."""


@dataclass(frozen=True)
class RunView:
    """The whole sheet."""

    line: Sentence
    guards: tuple[tuple[Caution, ...], ...]
    """Cautions for the whole class, the most dangerous first, a few together."""
    rows: tuple[Row, ...]
    notes: tuple[Sentence, ...]
    adult: Sentence
    """Which steps an adult does; may be empty."""
    adult_named: bool
    """No line is needed to write a name on."""


def run_view(course: ClassNumbers, plans: Sequence[Plan], words: Catalogue) -> RunView:
    """Raises WordingError."""
    times, named = course.schedule, _cautions(course)
    return RunView(
        line=words.rich(
            "class.run.line",
            people=course.room.people,
            end=times.end,
            late=times.late,
            close=times.close,
        ),
        guards=tuple(
            tuple(caution(words, name) for name in named[at : at + ROW]) for at in range(0, len(named), ROW)
        ),
        rows=tuple(_rows(course, words)),
        notes=tuple(_notes(course, words)),
        adult=_adult(course, plans, words),
        adult_named=course.roster.taught.adult is not None,
    )


def _cautions(course: ClassNumbers) -> list[str]:
    """What can hurt in the room, the most dangerous first; all of it stands in the risk record too."""
    found: dict[str, None] = {}
    for guest in course.roster.guests:
        before = course.outcome.setup.terms.pre_cut and guest.cloth is None
        for step in guest.work.plan.steps:
            if not (before and step.task.ahead):
                found |= dict.fromkeys(step.task.cautions)
    first = [name for name in WORST if name in found]
    return [*first, *(name for name in found if name not in first)][:MOST_CAUTIONS]


def _rows(course: ClassNumbers, words: Catalogue) -> Iterator[Row]:
    """By the clock: each part when it begins, each check when the last has come to it."""
    parts = course.schedule.parts
    last_show = max((n for n, part in enumerate(parts) if part.kind == "show"), default=-1)
    timed: list[tuple[float, int, Row]] = []
    for place, part in enumerate(parts):
        timed.append((part.start.value, 2 * place, _row(part, course, words)))
        before_last = place + 1 == last_show and part.kind == "work"
        checked = part.pause or (part.steps[-1] if before_last and part.steps else None)
        if part.end is not None and checked is not None:
            following = next((other for other in parts[place:] if other.kind != "work"), None)
            # A check stands before what everybody is gathered for.
            at = min(part.end.value, following.start.value) if following else part.end.value
            when = part.end if at == part.end.value or following is None else following.start
            timed.append((at, 2 * place + 1, _check(part, checked, when, course, words)))
    return (row for _, _, row in sorted(timed, key=lambda each: each[:2]))


def _row(part: Part, course: ClassNumbers, words: Catalogue) -> Row:
    voice = words.voice
    key = {
        "welcome": "class.do.welcome",
        "break": "class.do.break",
        "close": "class.do.close",
        "show": f"class.cue.{part.name}",
        "work": f"class.do.{part.name}",
    }[part.kind]
    fallback = "class.cue.any" if part.kind == "show" else "class.do.any"
    return Row(
        look=part.kind,
        clock=quantity(part.start, voice),
        minutes=quantity(part.minutes, voice),
        what=_what(part, words),
        steps=_steps(part.steps),
        tutor=words.rich(key if words.has(key) else fallback),
        who=words.say(f"class.who.{part.who}") if part.kind == "work" else "",
        tools=", ".join(_tools(part, course, words)),
        latest=quantity(part.latest, voice),
    )


def _what(part: Part, words: Catalogue) -> str:
    if part.kind == "show":
        key = f"class.show.{part.name}"
        return words.say(key) if words.has(key) else words.say("class.show.any", name=part.name)
    if part.kind == "work":
        return words.say(f"stage.{part.name}")
    return words.say(f"class.what.{part.kind}")


def _steps(steps: Sequence[Step]) -> str:
    """Runs of numbers: ``12–14, 17``."""
    runs: list[list[int]] = []
    for number in sorted({step.number for step in steps}):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return ", ".join(str(run[0]) if len(run) == 1 else f"{run[0]}–{run[-1]}" for run in runs)


def _tools(part: Part, course: ClassNumbers, words: Catalogue) -> Iterator[str]:
    """Shared tools that the part uses, with how many there are."""
    if part.kind != "work":
        return
    used = {tool for step in part.steps for tool in step.task.tools}
    for tool, count in course.tools:
        if tool in used:
            yield words.say("class.tools.some", count=count, tool=words.say(f"tool.{tool}"))


def _check(part: Part, step: Step, when: Measure, course: ClassNumbers, words: Catalogue) -> Row:
    whole = course.halves[part.who]
    safe = "class.check.pause" if part.pause is not None else "class.check.go-on"
    right = words.rich(f"{step.task.key}.check")
    if _differs(right, course):
        right = words.rich("class.check.own")
    return Row(
        look="check",
        clock=quantity(when, words.voice),
        minutes="",
        what=words.say("class.check", number=step.number)
        if part.who == "all"
        else words.say("class.check.half", number=step.number, who=words.say(f"class.who.{part.who}")),
        steps="",
        tutor=(*right, Segment(" "), *words.rich(safe)),
        who="",
        tools="",
        latest="",
        count=words.say("class.check.count", people=whole),
    )


def _differs(sentence: Sentence, course: ClassNumbers) -> bool:
    """Whether a sentence has a number that is another for somebody in the class."""
    ids = [segment.measure for segment in sentence if segment.measure]
    return any(
        len({work.measures[id_].shown if id_ in work.measures else None for work in course.roster.works}) > 1
        for id_ in ids
    )


def _notes(course: ClassNumbers, words: Catalogue) -> Iterator[Sentence]:
    yield words.rich("class.run.latest", latest=course.schedule.latest)
    ways = list(zip(course.outcome.ways, course.saved, strict=True))
    for way, saved in ways[:3]:
        adult = way.what == ADULT
        name = words.say(f"tool.{way.what}") if way.kind == "tool" and not adult else way.what
        if adult:
            name = words.say("class.adult.one")
        if way.kind == "pause":
            name = words.say(f"stage.{way.what}")
        yield words.rich(f"class.way.{way.kind}", saved=saved, name=name)
    yield words.rich("class.run.late")


def _adult(course: ClassNumbers, plans: Sequence[Plan], words: Catalogue) -> Sentence:
    steps = [step for plan in plans for step in plan.steps if step.adult]
    if not steps:
        return ()
    named = course.roster.taught.adult
    if named:
        return words.rich("class.adult.named", name=named, numbers=_steps(steps))
    return words.rich("class.adult", numbers=_steps(steps))
