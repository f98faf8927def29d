"""Which documents a work gets, and where they go."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass, replace
from multiprocessing import get_context
from pathlib import Path

from generator import pipeline
from generator.base import worker
from generator.base.assets import languages
from generator.base.edition import NO_WISHES, Edition, Wishes
from generator.base.errors import ProofError, RimfoldError, UsageError, WriteError
from generator.figures.model import Figure
from generator.jobs import Job
from generator.lesson.roster import Roster
from generator.pipeline import (
    Drawn,
    Fitted,
    cutter_drawing,
    draw_cards,
    gather,
    illustrate,
    outline_of,
    print_fitting,
    print_sheets,
    sketch,
    tell_document,
    trace,
)
from generator.plan.work import Work
from generator.press.press import Pressed
from generator.press.wish import Wish
from generator.record.put import put
from generator.sheets import pseudo
from generator.sheets.catalogues import messages
from generator.sheets.document import document_kind
from generator.sheets.document import document_kinds as known_kinds
from generator.sheets.step_cards import StepCard

MOST_NAMED = 3
"""No more missing sentences are named in a line."""
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
    texts: tuple[Path, ...] = ()
    """What is read, not printed."""
    notes: tuple[str, ...] = ()
    """A line for each document that has no room in the form that was wished for."""

    @property
    def listed(self) -> tuple[str, ...]:
        """Each document with its pages, and its sheets of paper where both sides are printed; then texts."""
        printed = (f"{path} ({pages} pages{_sheets_of(path, pages)})" for path, pages in self.documents)
        return (*printed, *map(str, self.texts))


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


def spoken(wished: Sequence[str]) -> tuple[str, ...]:
    """The languages wished for, each once. Raises UsageError for one that has no wording."""
    known = languages()
    for language in wished:
        if language not in (*known, *pseudo.LANGUAGES):
            raise UsageError(f"there is no wording in “{language}”; there is {', '.join(known)}")
    return tuple(dict.fromkeys(wished))


def borrowed(jobs: Sequence[Job], wishes: Wishes) -> tuple[str, ...]:
    """A line for each language of these jobs that lacks sentences, which are printed in English."""
    works = [work for job in jobs for work in job.works]
    voices = dict.fromkeys(edition.voice for work in works for edition in work.size.editions(wishes))
    lines = []
    for voice in voices:
        lacking = messages(voice).borrowed
        if lacking:
            shown = ", ".join(lacking[:MOST_NAMED]) + (", …" if len(lacking) > MOST_NAMED else "")
            told = f"the wording “{voice.language}” lacks {len(lacking)} sentences, {shown}"
            lines.append(f"{told}; they are printed in English")
    return tuple(dict.fromkeys(lines))


def make(
    work: Work,
    kinds: Sequence[str],
    out: Path,
    wishes: Wishes = NO_WISHES,
) -> Made:
    """Draw, print and publish the documents of one size; nothing is written unless all pass their proof.

    ``wishes`` take the place of what the recipe says of languages, units, paper and print. Without a document
    only figures and cards are made. Raises RimfoldError of the stage that failed.
    """
    folder = out / work.size.recipe / work.size.name
    figures, cards = folder / "figures", folder / "cards"
    pressed: dict[Path, Pressed] = {}
    notes: list[str] = []
    drawings: dict[Path, str] = {}
    steps: dict[Path, str] = {}
    texts: dict[Path, str] = {}
    full_scale = [kind for kind in kinds if document_kind(kind).full_scale]
    at_a_glance = [kind for kind in kinds if document_kind(kind).glance]
    apart = (*full_scale, *at_a_glance)
    of_steps = [kind for kind in kinds if document_kind(kind).steps and kind not in apart]
    plain = [kind for kind in kinds if kind not in (*of_steps, *apart)]
    editions = work.size.editions(wishes)
    for edition in editions:
        if of_steps or not kinds:
            drawn = illustrate(work, edition)
            pressed |= _printed(of_steps, drawn, folder, notes)
            texts |= _told(of_steps, drawn, folder)
            told = [figure for figure in drawn.figures if figure.number]
            steps |= {figures / _file(figure, edition): figure.svg for figure in told}
            steps |= {cards / _file(card, edition): card.svg for card in draw_cards(drawn)}
        for kind in plain:
            pressed |= _printed([kind], outline_of(work, kind, edition), folder, notes)
        if at_a_glance:
            pressed |= _printed(at_a_glance, sketch(work, edition), folder, notes)
        if full_scale:
            traced = trace(work, edition)
            pressed |= _printed(full_scale, traced, folder, notes)
            if PATTERN in full_scale and edition == editions[0]:
                # One for whoever cuts, in the first language.
                pressed[folder / f"{WHOLE}.pdf"] = _proved(f"{WHOLE}.pdf", WHOLE, traced).pressed
                drawings[folder / f"{PATTERN}.svg"] = cutter_drawing(traced)
    files = _bytes(pressed, drawings | steps | texts)
    put(out / work.size.recipe, work, files, (figures, cards) if steps else ())
    sheets = tuple((path, document.pages) for path, document in pressed.items())
    told_of = len(work.plan.steps) if steps else 0
    return Made(sheets, figures, cards, told_of, tuple(drawings), tuple(texts), tuple(notes))


def wish_for(job: Job, kind: str, edition: Edition) -> Wish:
    """What the proof asks of a document of this job in this edition. Raises RimfoldError of a stage."""
    known, work = document_kind(kind), job.works[0]
    if job.whole:
        drawn = gather(job.works, edition, job.roster)
    elif known.full_scale:
        drawn = trace(work, edition)
    elif known.glance:
        drawn = sketch(work, edition)
    elif known.steps:
        drawn = illustrate(work, edition)
    else:
        drawn = outline_of(work, kind, edition)
    return pipeline.wish_for(kind, drawn)


def make_whole(
    works: Sequence[Work],
    kinds: Sequence[str],
    out: Path,
    roster: Roster | None = None,
    wishes: Wishes = NO_WISHES,
) -> Made:
    """Print and publish the documents that tell of several sizes of a recipe, or of its class; all or none.

    Raises RimfoldError of the stage that failed.
    """
    folder = out / works[0].size.recipe
    pressed: dict[Path, Pressed] = {}
    notes: list[str] = []
    for edition in works[0].size.editions(wishes):
        pressed |= _printed(kinds, gather(works, edition, roster), folder, notes)
    put(folder, works[0], _bytes(pressed, {}), roster=roster)
    sheets = tuple((path, document.pages) for path, document in pressed.items())
    return Made(sheets, folder, folder, 0, (), notes=tuple(notes))


def make_all(
    jobs: Sequence[Job], out: Path, wishes: Wishes = NO_WISHES
) -> Iterator[tuple[Job, Made | RimfoldError]]:
    """Do several jobs, one process a core; each is told when it is done, in their order.

    ``wishes`` as for ``make``. One that fails stops only itself: its error comes instead of what was made.
    Raises WriteError if a process is ended from outside.
    """
    workers = min(len(jobs), os.cpu_count() or 1)
    if workers < 2:
        for job in jobs:
            yield job, _tried(job, out, wishes)
        return
    with ProcessPoolExecutor(workers, mp_context=get_context("spawn"), initializer=worker.start) as pool:
        try:
            waiting = [pool.submit(_tried, job, out, wishes) for job in jobs]
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


def _tried(job: Job, out: Path, wishes: Wishes) -> Made | RimfoldError:
    try:
        if job.whole:
            return make_whole(job.works, job.kinds, out, job.roster, wishes)
        return make(job.works[0], job.kinds, out, wishes)
    except RimfoldError as error:
        return error


def _printed(kinds: Sequence[str], drawn: Drawn, folder: Path, notes: list[str]) -> dict[Path, Pressed]:
    """Each document by its file, and beside it the one for a printer where its kind has one; ``notes`` learn
    what is otherwise than wished."""
    pressed: dict[Path, Pressed] = {}
    for kind in kinds:
        if not document_kind(kind).press:
            continue
        fitted = _proved(f"{kind}{drawn.edition.suffix}.pdf", kind, drawn)
        if fitted.note:
            notes.append(fitted.note)
        # Called after what it is, which need not be what is wished for.
        suffix = replace(drawn.edition, form=fitted.form).suffix
        pressed[folder / f"{kind}{suffix}.pdf"] = fitted.pressed
        sheets = print_sheets(kind, drawn.work, fitted.pressed, fitted.form)
        if sheets:
            pressed[folder / f"{kind}{suffix}.print.pdf"] = sheets
    return pressed


def _proved(name: str, kind: str, drawn: Drawn) -> Fitted:
    """One document; if its pages fail their proof, the error names the file."""
    try:
        return print_fitting(kind, drawn)
    except ProofError as error:
        raise error.in_file(name) from error


def _told(kinds: Sequence[str], drawn: Drawn, folder: Path) -> dict[Path, str]:
    """Each document that is not printed: a page of the web, and the same as plain text."""
    found: dict[Path, str] = {}
    language = drawn.edition.voice.language
    for kind in kinds:
        if not document_kind(kind).press:
            texts = tell_document(kind, drawn)
            found[folder / f"{kind}.{language}.html"] = texts.html
            found[folder / f"{kind}.{language}.txt"] = texts.text
    return found


def _bytes(pressed: dict[Path, Pressed], written: dict[Path, str]) -> dict[Path, bytes]:
    """What is written, by file: what was printed, and drawings and texts."""
    files = {path: document.pdf for path, document in pressed.items()}
    return files | {path: text.encode() for path, text in written.items()}


def _file(drawing: Figure | StepCard, edition: Edition) -> str:
    return f"{drawing.number:02d}-{drawing.id}.{edition.voice.language}.svg"
