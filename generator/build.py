"""Which documents a work gets, and where they go."""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from multiprocessing import get_context
from pathlib import Path

from generator.base import worker
from generator.base.errors import RimfoldError, WriteError
from generator.figures.model import Figure
from generator.pipeline import Work, cutter_drawing, draw_cards, illustrate, print_document, trace
from generator.press.press import Pressed
from generator.record.put import put
from generator.sheets.document import document_kind
from generator.sheets.document import document_kinds as known_kinds
from generator.sheets.step_cards import StepCard

LANGUAGE = "en"
PATTERN, WHOLE = "pattern", "pattern-whole"
"""The tiled pattern, and the one in one piece that is made with it."""


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


def make(work: Work, kinds: Sequence[str], out: Path) -> Made:
    """Draw, print and publish the documents of one size; nothing is written unless all pass their proof.

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
        traced = trace(work, LANGUAGE)
        pressed |= {folder / f"{kind}.{LANGUAGE}.pdf": print_document(kind, traced) for kind in full_scale}
        if PATTERN in full_scale:
            pressed[folder / f"{WHOLE}.pdf"] = print_document(WHOLE, traced)
            drawings[folder / f"{PATTERN}.svg"] = cutter_drawing(traced)
    files = {path: document.pdf for path, document in pressed.items()}
    files |= {path: svg.encode() for path, svg in (drawings | steps).items()}
    put(out / work.size.recipe, work, files, (figures, cards) if steps else ())
    sheets = tuple((path, document.pages) for path, document in pressed.items())
    return Made(sheets, figures, cards, len(work.plan.steps) if steps else 0, tuple(drawings))


def make_all(
    works: Sequence[Work], kinds: Sequence[str], out: Path
) -> Iterator[tuple[Work, Made | RimfoldError]]:
    """Make several sizes, one process a core; each is told when it is done, in the order of ``works``.

    A size that fails stops only itself: its error comes instead of what was made. Raises WriteError if a
    process is ended from outside.
    """
    workers = min(len(works), os.cpu_count() or 1)
    if workers < 2:
        for work in works:
            yield work, _tried(work, kinds, out)
        return
    with ProcessPoolExecutor(workers, mp_context=get_context("spawn"), initializer=worker.start) as pool:
        waiting = [pool.submit(_tried, work, kinds, out) for work in works]
        try:
            for work, made in zip(works, waiting, strict=True):
                yield work, made.result()
        except BrokenProcessPool as error:
            raise WriteError(
                "a process that made pages was ended from outside, most often because memory ran out; "
                "close other programs, then run the command again"
            ) from error
        finally:
            # Whoever stops early does not want the sizes that still wait.
            pool.shutdown(cancel_futures=True)


def _tried(work: Work, kinds: Sequence[str], out: Path) -> Made | RimfoldError:
    try:
        return make(work, kinds, out)
    except RimfoldError as error:
        return error


def _file(drawing: Figure | StepCard) -> str:
    return f"{drawing.number:02d}-{drawing.id}.{LANGUAGE}.svg"
