"""What is made at the bench: the steps with their pictures and reasons, what is cut, the class."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from starlette.concurrency import run_in_threadpool
from starlette.requests import Request
from starlette.responses import Response
from starlette.routing import Route

from generator.base.edition import Edition, Voice
from generator.base.errors import RimfoldError, UsageError
from generator.base.message import message
from generator.base.units import round_nearest
from generator.cutting.batch import cut_batch
from generator.cutting.roll_numbers import batch_numbers
from generator.examine import Examined
from generator.figures.cut_layout import cut_figures
from generator.lesson.outcome import NO_DELAY, minutes_over
from generator.lesson.pack import ClassNumbers, class_numbers
from generator.lesson.roster import Roster, clock
from generator.lesson.runs import outlook
from generator.page.folder import NotThereError
from generator.page.html import language_of, page
from generator.page.start import recipes_of
from generator.pipeline import illustrate, subject_of
from generator.plan.work import Work
from generator.sheets.cards import StageView, stages, text_of
from generator.sheets.class_run import run_view
from generator.sheets.context import wording
from generator.sheets.last import all_faults
from generator.sheets.why import why
from generator.sheets.wording import Catalogue, load_words

Shower = Callable[[Examined], Mapping[str, object]]
"""What a tab shows of a recipe, for its template."""


@dataclass(frozen=True)
class Bench:
    """The steps of one size, told and drawn."""

    stages: tuple[StageView, ...]
    reasons: Mapping[int, tuple[str, ...]]
    faults: Sequence[Mapping[str, str]]


async def steps(request: Request) -> Response:
    """GET /shade/NAME/steps"""
    return await run_in_threadpool(_steps, request)


def _steps(request: Request) -> Response:
    def shown(examined: Examined) -> Mapping[str, object]:
        work = _chosen(request, examined)
        return {"bench": _bench(work, Voice(language_of(request))), "work": work}

    return _tab(request, "steps", shown, alone=True)


def _bench(work: Work, voice: Voice) -> Bench:
    subject = subject_of(illustrate(work, Edition(voice)))
    words = wording(subject)
    return Bench(
        stages(subject, words),
        {step.number: why(step, words) for step in work.plan.steps},
        [
            {
                "see": text_of(fault.see),
                "step": str(fault.step),
                "cause": text_of(fault.cause),
                "mend": text_of(fault.mend),
                "until": text_of(fault.until),
            }
            for fault in all_faults(work.plan, words)
        ],
    )


async def cutting(request: Request) -> Response:
    """GET /shade/NAME/cutting"""
    return await run_in_threadpool(_cutting, request)


def _cutting(request: Request) -> Response:
    def shown(examined: Examined) -> Mapping[str, object]:
        works = tuple(work for work in examined.works if work.size.boxes) or examined.works
        words = _words(works[0], request)
        return {"figures": cut_figures(batch_numbers(cut_batch(works)), words), "works": works}

    return _tab(request, "cutting", shown, alone=True)


async def lesson(request: Request) -> Response:
    """GET /shade/NAME/class"""
    return await run_in_threadpool(_lesson, request)


def _lesson(request: Request) -> Response:
    def shown(examined: Examined) -> Mapping[str, object]:
        roster = examined.roster
        return {"roster": roster, "end": _end(roster) if roster else None}

    return _tab(request, "class", shown, alone=False)


async def run_sheet(request: Request) -> Response:
    """GET /shade/NAME/run: the run sheet of the class, which takes some seconds to work out."""
    return await run_in_threadpool(_run_sheet, request)


def _run_sheet(request: Request) -> Response:
    try:
        roster = _roster(request)
        words = _words(roster.guests[0].work, request)
        plans = list({id(guest.work.plan): guest.work.plan for guest in roster.guests}.values())
        shown = {"run": run_view(_course(roster), plans, words), "told": (), "text_of": text_of}
    except RimfoldError as error:
        shown = {"run": None, "told": error.lines, "text_of": text_of}
    return page(request, "run-sheet.html", shown)


_courses: dict[int, ClassNumbers] = {}
COURSES = 8


def _course(roster: Roster) -> ClassNumbers:
    """The class by the clock; a recipe that was worked out before has the same roster and course."""
    found = _courses.get(id(roster))
    if found is None or found.roster is not roster:
        if len(_courses) >= COURSES:
            _courses.clear()
        found = _courses[id(roster)] = class_numbers(roster)
    return found


async def what_if(request: Request) -> Response:
    """POST /shade/NAME/what-if: when the class would end with other people, tools or places."""
    async with request.form(max_files=0, max_fields=200) as sent:
        asked = {name: value for name, value in sent.items() if isinstance(value, str)}
    return await run_in_threadpool(_what_if, request, asked)


def _what_if(request: Request, asked: Mapping[str, str]) -> Response:
    try:
        return page(request, "what-if.html", {"end": _end(_roster(request), asked), "told": ()})
    except RimfoldError as error:
        return page(request, "what-if.html", {"end": None, "told": error.lines})


@dataclass(frozen=True, slots=True)
class End:
    """When a class ends, usually and in eight classes of ten; and who waits longest for what."""

    usual: str
    eight_of_ten: str
    in_time: bool
    waits: tuple[tuple[str, int], ...]
    """For what, by its name in the technique, and how many minutes; the longest first."""


def _end(roster: Roster, asked: Mapping[str, str] | None = None) -> End:
    """The end of a class, or of one with other counts: ``people``, ``places``, ``tool/…``."""
    setup = roster.setup
    wished = {
        key: int(value) for key, value in (asked or {}).items() if value.isdecimal() and 0 < int(value) <= 40
    }
    people = wished.get("people", len(setup.members))
    members = tuple(setup.members[at % len(setup.members)] for at in range(people))
    tools = {tool: wished.get(f"tool/{tool}", count) for tool, count in setup.tools.items()}
    other = replace(setup, members=members, tools=tools, stations=wished.get("places", setup.stations))
    ahead = outlook(other.lesson, roster.taught.seed)
    begin = roster.taught.start
    waits = sorted(
        ((name, round(minutes)) for name, minutes in ahead.waits.items() if minutes >= 1),
        key=lambda each: -each[1],
    )
    return End(
        _clock(round_nearest(begin + ahead.last, 1.0)),
        _clock(round_nearest(begin + ahead.last_p80, 1.0)),
        minutes_over(roster, ahead) <= NO_DELAY,
        tuple(waits[:4]),
    )


def _clock(minutes: float) -> str:
    return "{:02d}:{:02d}".format(*clock(minutes))


def _tab(request: Request, tab: str, shown: Shower, *, alone: bool) -> Response:
    name = str(request.path_params["name"])
    values: dict[str, object] = {"told": ()}
    try:
        examined = _examined(request, alone=alone)
        values |= shown(examined)
        values |= {"title": examined.recipe.title, "sizes": [size.name for size in examined.recipe.sizes]}
    except NotThereError:
        raise
    except RimfoldError as error:
        values = {"told": error.lines, "title": name, "sizes": []}
    values |= {"tab": tab, "name": name, "text_of": text_of, "size": request.query_params.get("size", "")}
    return page(request, f"{tab}.html", values)


def _examined(request: Request, *, alone: bool) -> Examined:
    return recipes_of(request).examined(str(request.path_params["name"]), alone=alone)


def _roster(request: Request) -> Roster:
    """The class of a recipe. Raises UsageError for one without, and what ``examine`` raises."""
    roster = _examined(request, alone=False).roster
    if roster is None:
        raise UsageError(message("this recipe has no class"))
    return roster


def _chosen(request: Request, examined: Examined) -> Work:
    return examined.work(request.query_params.get("size", "")) or examined.works[0]


def _words(work: Work, request: Request) -> Catalogue:
    return load_words(Voice(language_of(request))).bound(work.plan, work.measures)


ROUTES = [
    Route("/shade/{name}/steps", steps),
    Route("/shade/{name}/cutting", cutting),
    Route("/shade/{name}/class", lesson),
    Route("/shade/{name}/run", run_sheet),
    Route("/shade/{name}/what-if", what_if, methods=["POST"]),
]
