"""Which documents a work gets, and where they go."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from multiprocessing import get_context
from pathlib import Path

from generator import pipeline
from generator.base import worker
from generator.base.errors import ProofError, RimfoldError, UsageError, WriteError
from generator.examine import REFERENCE
from generator.figures.model import Figure
from generator.figures.pattern.model import paper_of
from generator.jobs import Job
from generator.lesson.roster import Roster
from generator.pipeline import (
    Drawn,
    cutter_drawing,
    draw_cards,
    gather,
    illustrate,
    outline_of,
    print_document,
    print_sheets,
    sketch,
    trace,
)
from generator.plan.work import Work
from generator.press.press import Pressed
from generator.press.wish import Wish
from generator.record.put import put
from generator.sheets.document import document_kind
from generator.sheets.document import document_kinds as known_kinds
from generator.sheets.step_cards import StepCard
from generator.sheets.wording import languages

PATTERN, WHOLE = "pattern", "pattern-whole"
"""The tiled pattern, and the one in one piece that is made with it."""


@dataclass(frozen=True)
class Made:
    """What was written for one size, or for all sizes of a recipe together."""

    documents: tuple[tuple[Path, int], ...]
    """Each file and its number of pages."""
    figures: Path
    """The folder of the figures."""
    cards: Path
    """The folder of the step cards."""
    steps: int
    """Figures in the one and cards in the other; none where no document tells of steps."""
    drawings: tuple[Path, ...] = ()
    """Drawings for machines, beside the documents."""

    @property
    def listed(self) -> tuple[str, ...]:
        """Each document with its pages, and its sheets of paper where both sides are printed."""
        return tuple(f"{path} ({pages} pages{_sheets_of(path, pages)})" for path, pages in self.documents)


def _sheets_of(path: Path, pages: int) -> str:
    kind = known_kinds().get(path.name.partition(".")[0])
    if kind is None or not kind.duplex:
        return ""
    sheets = -(-pages // 2)
    return f", {sheets} sheet{'s' if sheets > 1 else ''} of paper printed on both sides"


def document_kinds(wished: Sequence[str]) -> tuple[str, ...]:
    """Names of the documents to make: those wished for, or all that are made unasked.

    Raises UsageError for an unknown one.
    """
    unasked = (name for name, kind in known_kinds().items() if not kind.only_if_asked)
    return tuple(document_kind(name).name for name in wished) or tuple(unasked)


def full_scale_paper(kinds: Sequence[str], paper: str | None) -> str | None:
    """The paper asked for. Raises UsageError for an unknown one, or if no document is printed on it."""
    if paper is None:
        return None
    if not any(document_kind(kind).full_scale for kind in kinds):
        raise UsageError(
            f"paper {paper} is asked for, but only the pattern has a choice of paper; "
            f"add --document {PATTERN}, or leave --paper out"
        )
    return paper_of(paper).name


def spoken(wished: Sequence[str]) -> tuple[str, ...]:
    """The languages to print in: those wished for, each once, or the language that has every sentence.

    Raises UsageError for one that has no wording.
    """
    known = languages()
    for language in wished:
        if language not in known:
            raise UsageError(f"there is no wording in “{language}”; there is {', '.join(known)}")
    return tuple(dict.fromkeys(wished)) or (REFERENCE,)


def make(
    work: Work,
    kinds: Sequence[str],
    out: Path,
    paper: str | None = None,
    spoken: Sequence[str] = (REFERENCE,),
) -> Made:
    """Draw, print and publish the documents of one size; nothing is written unless all pass their proof.

    ``spoken`` are the languages of each. ``paper`` is that of the full-scale pattern; None: as
    the recipe says. Without a document only figures and cards are made. Raises RimfoldError of the stage that
    failed.
    """
    folder = out / work.size.recipe / work.size.name
    figures, cards = folder / "figures", folder / "cards"
    pressed: dict[Path, Pressed] = {}
    drawings: dict[Path, str] = {}
    steps: dict[Path, str] = {}
    full_scale = [kind for kind in kinds if document_kind(kind).full_scale]
    at_a_glance = [kind for kind in kinds if document_kind(kind).glance]
    apart = (*full_scale, *at_a_glance)
    of_steps = [kind for kind in kinds if document_kind(kind).steps and kind not in apart]
    plain = [kind for kind in kinds if kind not in (*of_steps, *apart)]
    for language in spoken:
        if of_steps or not kinds:
            drawn = illustrate(work, language)
            pressed |= _printed(of_steps, drawn, folder)
            told = [figure for figure in drawn.figures if figure.number]
            steps |= {figures / _file(figure, language): figure.svg for figure in told}
            steps |= {cards / _file(card, language): card.svg for card in draw_cards(drawn)}
        for kind in plain:
            pressed |= _printed([kind], outline_of(work, kind, language), folder)
        if at_a_glance:
            pressed |= _printed(at_a_glance, sketch(work, language), folder)
        if full_scale:
            traced = trace(work, language, paper)
            pressed |= _printed(full_scale, traced, folder)
            if PATTERN in full_scale and language == spoken[0]:
                # One for whoever cuts, in the first language.
                pressed[folder / f"{WHOLE}.pdf"] = _proved(f"{WHOLE}.pdf", WHOLE, traced)
                drawings[folder / f"{PATTERN}.svg"] = cutter_drawing(traced)
    put(out / work.size.recipe, work, _bytes(pressed, drawings | steps), (figures, cards) if steps else ())
    sheets = tuple((path, document.pages) for path, document in pressed.items())
    return Made(sheets, figures, cards, len(work.plan.steps) if steps else 0, tuple(drawings))


def wish_for(job: Job, kind: str, language: str, paper: str | None = None) -> Wish:
    """What the proof asks of a document of this job in this language. Raises RimfoldError of a stage."""
    known, work = document_kind(kind), job.works[0]
    if job.whole:
        drawn = gather(job.works, language, job.roster)
    elif known.full_scale:
        drawn = trace(work, language, paper)
    elif known.glance:
        drawn = sketch(work, language)
    elif known.steps:
        drawn = illustrate(work, language)
    else:
        drawn = outline_of(work, kind, language)
    return pipeline.wish_for(kind, drawn)


def make_whole(
    works: Sequence[Work],
    kinds: Sequence[str],
    out: Path,
    roster: Roster | None = None,
    spoken: Sequence[str] = (REFERENCE,),
) -> Made:
    """Print and publish the documents that tell of several sizes of a recipe, or of its class; all or none.

    Raises RimfoldError of the stage that failed.
    """
    folder = out / works[0].size.recipe
    pressed: dict[Path, Pressed] = {}
    for language in spoken:
        pressed |= _printed(kinds, gather(works, language, roster), folder)
    put(folder, works[0], _bytes(pressed, {}), roster=roster)
    sheets = tuple((path, document.pages) for path, document in pressed.items())
    return Made(sheets, folder, folder, 0)


def make_all(
    jobs: Sequence[Job], out: Path, paper: str | None = None, spoken: Sequence[str] = (REFERENCE,)
) -> Iterator[tuple[Job, Made | RimfoldError]]:
    """Do several jobs, one process a core; each is told when it is done, in their order.

    ``paper`` is that of full-scale patterns, ``spoken`` the languages, as for ``make``.

    One that fails stops only itself: its error comes instead of what was made. Raises WriteError if a
    process is ended from outside.
    """
    workers = min(len(jobs), os.cpu_count() or 1)
    if workers < 2:
        for job in jobs:
            yield job, _tried(job, out, paper, spoken)
        return
    with ProcessPoolExecutor(workers, mp_context=get_context("spawn"), initializer=worker.start) as pool:
        try:
            waiting = [pool.submit(_tried, job, out, paper, spoken) for job in jobs]
            for job, made in zip(jobs, waiting, strict=True):
                yield job, made.result()
        except (BrokenProcessPool, BrokenPipeError) as error:
            # The latter if it was ended while it was told what to do.
            raise WriteError(
                "a process that made pages was ended from outside, most often because memory ran out; "
                "close other programs, then run the command again"
            ) from error
        finally:
            # Whoever stops early does not want the sizes that still wait.
            pool.shutdown(cancel_futures=True)


def _tried(job: Job, out: Path, paper: str | None, spoken: Sequence[str]) -> Made | RimfoldError:
    try:
        if job.whole:
            return make_whole(job.works, job.kinds, out, job.roster, spoken)
        return make(job.works[0], job.kinds, out, paper, spoken)
    except RimfoldError as error:
        return error


def _printed(kinds: Sequence[str], drawn: Drawn, folder: Path) -> dict[Path, Pressed]:
    """Each document by its file, and beside it the one for a printer where its kind has one."""
    pressed: dict[Path, Pressed] = {}
    language = drawn.words.language
    for kind in kinds:
        name = f"{kind}.{language}.pdf"
        document = _proved(name, kind, drawn)
        pressed[folder / name] = document
        sheets = print_sheets(kind, drawn.work, document)
        if sheets:
            pressed[folder / f"{kind}.{language}.print.pdf"] = sheets
    return pressed


def _proved(name: str, kind: str, drawn: Drawn) -> Pressed:
    """One document; if its pages fail their proof, the error names the file."""
    try:
        return print_document(kind, drawn)
    except ProofError as error:
        raise error.in_file(name) from error


def _bytes(pressed: dict[Path, Pressed], drawings: dict[Path, str]) -> dict[Path, bytes]:
    """What is written, by file."""
    files = {path: document.pdf for path, document in pressed.items()}
    return files | {path: svg.encode() for path, svg in drawings.items()}


def _file(drawing: Figure | StepCard, language: str) -> str:
    return f"{drawing.number:02d}-{drawing.id}.{language}.svg"
