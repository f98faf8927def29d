"""Which documents a work gets, and where they go."""

from __future__ import annotations

import os
import re
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from multiprocessing import get_context
from pathlib import Path

from generator.base.errors import RimfoldError, UsageError, WriteError
from generator.figures.model import Figure
from generator.figures.pattern.model import paper_of
from generator.pipeline import Work, cutter_drawing, draw_cards, illustrate, print_document, trace
from generator.press.press import Pressed
from generator.press.publish import publish
from generator.sheets.document import document_kind
from generator.sheets.document import document_kinds as known_kinds
from generator.sheets.step_cards import StepCard

LANGUAGE = "en"
PATTERN, WHOLE = "pattern", "pattern-whole"
"""The tiled pattern, and the one in one piece that is made with it."""
_STEP_FILE = re.compile(r"\d\d-[a-z0-9-]+\.[a-z-]+\.svg")


@dataclass(frozen=True)
class Made:
    """What was written for one size."""

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


def make(work: Work, kinds: Sequence[str], out: Path, paper: str | None = None) -> Made:
    """Draw, print and publish the documents of one size; nothing is written unless all pass their proof.

    ``paper`` is that of the full-scale pattern; None: as the recipe says.

    Raises RimfoldError of the stage that failed.
    """
    folder = out / work.size.recipe / work.size.name
    of_steps = [kind for kind in kinds if not document_kind(kind).full_scale]
    full_scale = [kind for kind in kinds if document_kind(kind).full_scale]
    figures, cards = folder / "figures", folder / "cards"
    pressed: dict[Path, Pressed] = {}
    drawings: dict[Path, str] = {}
    steps: dict[Path, str] = {}
    if of_steps or not full_scale:
        drawn = illustrate(work, LANGUAGE)
        pressed |= {folder / f"{kind}.{LANGUAGE}.pdf": print_document(kind, drawn) for kind in of_steps}
        steps = {figures / _file(figure): figure.svg for figure in drawn.figures if figure.number}
        steps |= {cards / _file(card): card.svg for card in draw_cards(drawn)}
    if full_scale:
        traced = trace(work, LANGUAGE, paper)
        pressed |= {folder / f"{kind}.{LANGUAGE}.pdf": print_document(kind, traced) for kind in full_scale}
        if PATTERN in full_scale:
            pressed[folder / f"{WHOLE}.pdf"] = print_document(WHOLE, traced)
            drawings[folder / f"{PATTERN}.svg"] = cutter_drawing(traced)
    for path, document in pressed.items():
        publish(path, document.pdf)
    for path, svg in (drawings | steps).items():
        publish(path, svg.encode())
    for place in (figures, cards) if steps else ():
        _remove_stale(place, {path.name for path in steps if path.parent == place})
    sheets = tuple((path, document.pages) for path, document in pressed.items())
    return Made(sheets, figures, cards, len(work.plan.steps) if steps else 0, tuple(drawings))


def make_all(
    works: Sequence[Work], kinds: Sequence[str], out: Path, paper: str | None = None
) -> Iterator[tuple[Work, Made | RimfoldError]]:
    """Make several sizes, one process a core; each is told when it is done, in the order of ``works``.

    A size that fails stops only itself: its error comes instead of what was made.
    """
    workers = min(len(works), os.cpu_count() or 1)
    if workers < 2:
        for work in works:
            yield work, _tried(work, kinds, out, paper)
        return
    with ProcessPoolExecutor(workers, mp_context=get_context("spawn")) as pool:
        waiting = [pool.submit(_tried, work, kinds, out, paper) for work in works]
        try:
            for work, made in zip(works, waiting, strict=True):
                yield work, made.result()
        except BrokenProcessPool as error:
            raise WriteError("a process that made pages ended by itself; run the command again") from error


def _tried(work: Work, kinds: Sequence[str], out: Path, paper: str | None) -> Made | RimfoldError:
    try:
        return make(work, kinds, out, paper)
    except RimfoldError as error:
        return error


def _file(drawing: Figure | StepCard) -> str:
    return f"{drawing.number:02d}-{drawing.id}.{LANGUAGE}.svg"


def _remove_stale(folder: Path, current: set[str]) -> None:
    """Drawings of an earlier plan of this size would be taken for today's."""
    try:
        for path in folder.iterdir():
            if _STEP_FILE.fullmatch(path.name) and path.name not in current:
                path.unlink()
    except OSError as error:
        raise WriteError(f"{folder}: an old drawing cannot be removed: {error.strerror}") from error
