"""What a job consists of, and how each part is made: drawn, printed, proved. Nothing is written."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from functools import partial

from generator import fitting, pipeline
from generator.base.edition import Edition, Wishes
from generator.base.errors import ProofError
from generator.figures.model import Figure
from generator.jobs import Job
from generator.pipeline import Drawn
from generator.press.wish import Wish
from generator.recipe.content import content_digest
from generator.record.store import File, Piece, Role, key_of
from generator.sheets.document import document_kind
from generator.sheets.step_cards import StepCard

PATTERN, WHOLE = "pattern", "pattern-whole"
"""The tiled pattern, and the one in one piece that is made with it."""


@dataclass(frozen=True, slots=True)
class Part:
    """A document of a job in one edition; without a kind, the figures and cards of its steps."""

    kind: str
    edition: Edition
    first: bool
    """Whether the edition is the first of the job: what has no words is made with that."""

    @property
    def drawn(self) -> str:
        """Parts of a job and an edition of which this is the same share their drawings."""
        if not self.kind:
            return "steps"
        known = document_kind(self.kind)
        if known.scope == "recipe":
            return "together"
        if known.full_scale:
            return "full scale"
        if known.glance:
            return "glance"
        return "steps" if known.steps else f"outline of {self.kind}"


def parts_of(job: Job, wishes: Wishes) -> tuple[Part, ...]:
    """All parts of a job, in the order in which they are told."""
    found: list[Part] = []
    for at, edition in enumerate(job.works[0].size.editions(wishes)):
        parts = [Part(kind, edition, at == 0) for kind in job.kinds]
        if not job.whole and (not parts or any(part.drawn == "steps" for part in parts)):
            parts.append(Part("", edition, at == 0))
        # Of those who share drawings the first makes them, and the rest follow.
        order = ("steps", "outline", "glance", "full scale", "together")
        found += sorted(parts, key=lambda part: order.index(part.drawn.partition(" of ")[0]))
    return tuple(found)


def together(parts: Iterable[Part]) -> tuple[tuple[Part, ...], ...]:
    """Parts of a job in groups that share their drawings, so that each group may be made elsewhere."""
    groups: dict[tuple[Edition, str], list[Part]] = {}
    for part in parts:
        groups.setdefault((part.edition, part.drawn), []).append(part)
    return tuple(map(tuple, groups.values()))


def key(job: Job, part: Part, installation: str) -> str:
    """The hash of everything that a part is made from, ``installation`` among it."""
    of_kits = bool(part.kind) and document_kind(part.kind).of_kits
    kits = of_kits or job.whole
    read: list[str] = []
    for work in job.works:
        read += [content_digest(work.size, kits=kits, taught=job.roster is not None), work.plan.digest]
        read.append(work.kit.digest if work.kit and kits else "")
    if job.roster:
        read += job.roster.digests
    return key_of([installation, part.kind, repr(part.edition), str(part.first), *read])


def made(job: Job, parts: Sequence[Part]) -> list[Piece]:
    """Make some parts of a job, each figure drawn once. Raises RimfoldError of the stage that failed."""
    drawings: dict[tuple[Edition, str], Drawn] = {}

    def drawn(part: Part) -> Drawn:
        at = part.edition, part.drawn
        if at not in drawings:
            drawings[at] = _draw(job, part)
        return drawings[at]

    return [_piece(job, part, partial(drawn, part)) for part in parts]


def wish_for(job: Job, kind: str, edition: Edition) -> Wish:
    """What the proof asks of a document of this job in this edition. Raises RimfoldError of a stage."""
    return pipeline.wish_for(kind, _draw(job, Part(kind, edition, True)))


def _draw(job: Job, part: Part) -> Drawn:
    work = job.works[0]
    if job.whole:
        return pipeline.gather(job.works, part.edition, job.roster)
    ways: dict[str, Callable[[], Drawn]] = {
        "steps": lambda: pipeline.illustrate(work, part.edition),
        "glance": lambda: pipeline.sketch(work, part.edition),
        "full scale": lambda: fitting.trace(work, part.edition),
    }
    return ways.get(part.drawn, lambda: pipeline.outline_of(work, part.kind, part.edition))()


def _piece(job: Job, part: Part, drawn: Callable[[], Drawn]) -> Piece:
    folder = "" if job.whole else f"{job.works[0].size.name}/"
    if not part.kind:
        return _of_steps(drawn(), folder)
    if not document_kind(part.kind).press:
        return _told(part.kind, drawn(), folder)
    piece = _printed(part.kind, drawn(), folder)
    if part.kind == PATTERN and part.first:
        # One for whoever cuts, in the first language.
        whole = _proved(f"{WHOLE}.pdf", WHOLE, drawn()).pressed
        files = (
            File(f"{folder}{WHOLE}.pdf", whole.pdf, "document", whole.pages),
            _text(f"{folder}{PATTERN}.svg", pipeline.cutter_drawing(drawn()), "drawing"),
        )
        return replace(piece, files=(*piece.files, *files))
    return piece


def _printed(kind: str, drawn: Drawn, folder: str) -> Piece:
    """A document, and beside it the one for a printer where its kind has one."""
    fitted = _proved(f"{kind}{drawn.edition.suffix}.pdf", kind, drawn)
    # Called after what it is, which need not be what is wished for.
    name = f"{folder}{kind}{replace(drawn.edition, form=fitted.form).suffix}"
    files = [File(f"{name}.pdf", fitted.pressed.pdf, "document", fitted.pressed.pages)]
    sheets = pipeline.print_sheets(kind, drawn.work, fitted.pressed, fitted.form)
    if sheets:
        files.append(File(f"{name}.print.pdf", sheets.pdf, "print", sheets.pages))
    return Piece(tuple(files), fitted.note)


def _proved(name: str, kind: str, drawn: Drawn) -> fitting.Fitted:
    """One document; if its pages fail their proof, the error names the file."""
    try:
        return fitting.print_fitting(kind, drawn)
    except ProofError as error:
        raise error.in_file(name) from error


def _told(kind: str, drawn: Drawn, folder: str) -> Piece:
    """A document that is not printed: a page of the web, and the same as plain text."""
    texts = pipeline.tell_document(kind, drawn)
    name = f"{folder}{kind}.{drawn.edition.voice.language}"
    return Piece((_text(f"{name}.html", texts.html, "text"), _text(f"{name}.txt", texts.text, "text")))


def _of_steps(drawn: Drawn, folder: str) -> Piece:
    """Each step's figure and card, as drawings of their own."""

    def named(place: str, drawing: Figure | StepCard) -> str:
        language = drawn.edition.voice.language
        return f"{folder}{place}/{drawing.number:02d}-{drawing.id}.{language}.svg"

    figures = [figure for figure in drawn.figures if figure.number]
    return Piece(
        (
            *(_text(named("figures", figure), figure.svg, "figure") for figure in figures),
            *(_text(named("cards", card), card.svg, "card") for card in pipeline.draw_cards(drawn)),
        )
    )


def _text(name: str, text: str, role: Role) -> File:
    return File(name, text.encode(), role)
