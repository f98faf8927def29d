"""One round of ``make``: what still holds is told, the rest is looked at, made and put into its place."""

from __future__ import annotations

import time
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from generator import answers
from generator.answers import Answer, Done, Line, Output
from generator.base.edition import Wishes
from generator.base.errors import RimfoldError
from generator.base.message import joined, plural, under
from generator.base.readings import Readings, readings
from generator.cli.chosen import chosen
from generator.cli.console import debugging, same_names
from generator.cli.speech import said, speaking
from generator.cli.telling import Tally, Teller
from generator.record.store import Store

if TYPE_CHECKING:
    from generator.base.edition import PaperName, PrintSize, Tone, Units
    from generator.build import Made
    from generator.hands import Hands
    from generator.jobs import Job

# What makes pages is imported where something has to be made: most of an unchanged call would be loading it.


@dataclass(frozen=True)
class Request:
    """What was asked for on the command line."""

    recipes: tuple[Path, ...]
    sizes: tuple[str, ...]
    documents: tuple[str, ...]
    spoken: str | None
    units: Units | None
    paper: PaperName | None
    print_size: PrintSize | None
    grey: bool | None
    duplex: bool | None
    tone: Tone | None
    out: Path
    anew: bool

    @property
    def wished(self) -> tuple[object, ...]:
        """Everything that decides what is made of a recipe."""
        pages = (self.units, self.paper, self.print_size, self.grey, self.duplex, self.tone)
        return (self.sizes, self.documents, self.spoken, *pages)


@dataclass
class OfRecipe:
    """What a round did for one recipe."""

    readings: Readings = field(default_factory=dict)
    """What was read, each with its hash, those too without which it could not be made."""
    done: list[Done] = field(default_factory=list)
    new: set[Path] = field(default_factory=set)
    failed: bool = False

    @property
    def files(self) -> list[Output]:
        """All that stands in its place."""
        return [file for done in self.done for file in done.files]


@dataclass
class Round:
    """What came of a round."""

    code: int = 0
    """The worst exit code."""
    tally: Tally = field(default_factory=Tally)
    recipes: dict[Path, OfRecipe] = field(default_factory=dict)

    def fail(self, error: RimfoldError, recipe: Path) -> None:
        """Count something that was not made."""
        self.code = max(self.code, error.exit_code)
        self.tally.failed += 1
        self.recipes.setdefault(recipe, OfRecipe()).failed = True


@dataclass
class _Work:
    """A recipe on its way: with an answer that holds, or with jobs to do."""

    recipe: Path
    key: str
    answer: Answer | None = None
    lines: list[Line] = field(default_factory=list)
    jobs: tuple[Job, ...] = ()

    @property
    def names(self) -> list[str]:
        """What is made of it."""
        return [each.name for each in (self.answer.done if self.answer else self.jobs)]


def one_round(request: Request, teller: Teller, standing: str, hands: Hands | None = None) -> Round:
    """Make some recipes, each told as it goes; a bad one stops only itself.

    ``standing`` is the installation's hash; ``hands`` are those of ``build.make_all``. Raises UsageError for
    wishes that nobody can meet, HandsError.
    """
    began = time.monotonic()
    found = Round()
    try:
        works = list(_looked_at(request, teller, standing, found))
        _carried_out(request, works, teller, standing, hands, found)
        found.tally.seconds = time.monotonic() - began
        teller.end(found.tally)
    finally:
        teller.close()
    return found


def _looked_at(request: Request, teller: Teller, standing: str, found: Round) -> Iterable[_Work]:
    """What is to be done for each recipe."""
    store, doubles = Store(request.out), same_names(request.recipes)
    told: set[Line] = set()

    def tell(line: Line) -> None:
        if line not in told:
            told.add(line)
            teller.told(line)

    for recipe in dict.fromkeys(request.recipes):
        if recipe in doubles:
            teller.failed(doubles[recipe])
            found.fail(doubles[recipe], recipe)
            continue
        of = found.recipes[recipe] = OfRecipe()
        work = _Work(recipe, answers.question(standing, recipe, request.out, (*request.wished, speaking())))
        if not request.anew:
            work.answer = answers.recall(store, work.key, request.out)
        if work.answer:
            of.readings = work.answer.readings
            for line in work.answer.lines:
                tell(line)
            yield work
            continue
        try:
            with readings() as of.readings:
                for line in _jobs_of(work, request):
                    work.lines.append(line)
                    tell(line)
        except RimfoldError as error:
            # Where nothing was read yet, it is the command line that is at fault, for every recipe.
            if debugging() or not of.readings:
                raise
            teller.failed(error)
            found.fail(error, recipe)
        else:
            yield work


def _jobs_of(work: _Work, request: Request) -> Iterable[Line]:
    """Read a recipe and say what is to be made; each line is told before the next thing is looked at.

    Raises UsageError before anything is read for wishes that nobody can meet, RimfoldError of the recipe.
    """
    from generator import build
    from generator.examine import examine
    from generator.jobs import jobs_for, printed_otherwise

    kinds = build.document_kinds(request.documents)
    wishes = wishes_of(request)
    examined = examine(work.recipe)
    for warning in examined.warnings:
        yield Line(said(warning.line), warning=True)
    found = jobs_for(examined.works, chosen(examined, request.sizes), kinds, examined.roster)
    work.jobs = found.jobs
    for line in map(said, (*found.skipped, *printed_otherwise(found.jobs, wishes))):
        yield Line(line, warning=False)
    for line in build.borrowed(found.jobs, wishes):
        yield Line(said(line), warning=True)


def wishes_of(request: Request) -> Wishes:
    """What was asked for of language, units, words, paper and print. Raises UsageError."""
    from generator import build

    languages = build.spoken([code.strip() for code in request.spoken.split(",")] if request.spoken else [])
    return Wishes(
        languages,
        request.units,
        request.tone,
        request.paper,
        request.print_size,
        request.grey,
        request.duplex,
    )


def _carried_out(
    request: Request,
    works: Sequence[_Work],
    teller: Teller,
    standing: str,
    hands: Hands | None,
    found: Round,
) -> None:
    """Do all jobs, and keep the answers. Raises HandsError."""
    jobs = [job for work in works for job in work.jobs]
    teller.begin([name for work in works for name in work.names], len(jobs))
    results = _results(jobs, request, hands)
    for work in works:
        of = found.recipes[work.recipe]
        if work.answer:
            for done in work.answer.done:
                _told(teller, done, (), of, found, kept_answer=True)
            continue
        written: dict[Path, str] = {}
        for job in work.jobs:
            teller.working(job.name)
            made = next(results)
            if isinstance(made, RimfoldError):
                teller.failed(made, job.name)
                found.fail(made, work.recipe)
                continue
            written |= {placed.path: placed.sha256 for placed in made.placed}
            new = [placed.path for placed in made.placed if placed.new]
            _told(teller, _done(job, made), new, of, found, kept_answer=False)
        # Where nothing is made nothing is written, not even that.
        if written and not of.failed and answers.standing() == standing:
            store = Store(request.out)
            answers.remember(store, work.key, request.out, work.lines, of.done, of.readings, written)
    # Whoever makes them has something to do when the last one is taken.
    next(results, None)


def _results(jobs: Sequence[Job], request: Request, hands: Hands | None) -> Iterator[Made | RimfoldError]:
    if jobs:
        from generator import build

        wishes = wishes_of(request)
        for _, made in build.make_all(jobs, request.out, wishes, anew=request.anew, hands=hands):
            yield made


def _told(
    teller: Teller, done: Done, new: Sequence[Path], of: OfRecipe, found: Round, *, kept_answer: bool
) -> None:
    of.done.append(done)
    of.new |= set(new)
    found.tally.new += len(new)
    found.tally.kept += len(done.files) - len(new)
    teller.made(done, new, kept_answer=kept_answer)


def _done(job: Job, made: Made) -> Done:
    more: list[str] = [str(path) for path in made.drawings]
    if made.steps:
        places = {"figures": str(made.figures), "cards": str(made.cards)}
        more.append(
            plural(
                "{count} figures in {figures}, cards in {cards}",
                "{count} figure in {figures}, cards in {cards}",
                count=made.steps,
                **places,
            )
        )
    line = under(job.name, joined([joined(made.listed), *more], "; "))
    files = tuple(Output(str(placed.path), placed.role) for placed in made.placed)
    return Done(said(job.name), said(line), tuple(map(said, made.notes)), files)
