"""Jobs done: what is kept is taken, what is new is made by many hands, and all of it put into its places."""

from __future__ import annotations

import os
from collections import deque
from collections.abc import Iterator, Sequence
from contextlib import nullcontext
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from generator import making
from generator.base.assets import languages
from generator.base.edition import NO_WISHES, Wishes
from generator.base.errors import HandsError, RimfoldError, UsageError
from generator.base.message import Message, joined, message, plural
from generator.hands import Alone, Hands, Later, Processes
from generator.jobs import Job
from generator.lesson.roster import Roster
from generator.making import Part
from generator.plan.work import Work
from generator.record.inputs import installation
from generator.record.put import put
from generator.record.store import File, Piece, Role, Store, key_of
from generator.sheets import pseudo
from generator.sheets.catalogues import messages
from generator.sheets.document import document_kind
from generator.sheets.document import document_kinds as known_kinds

MOST_NAMED = 3
"""No more missing sentences are named in a line."""
AHEAD = 8
"""Jobs that are given away before the first is put into its place; more where more is done at once."""


@dataclass(frozen=True, slots=True)
class Placed:
    """A file in its place."""

    path: Path
    role: Role
    sha256: str
    new: bool
    """Whether it is another one than before."""


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
    anew: int = 0
    """How many parts of it were made; the others were kept from an earlier time."""
    changed: bool = True
    """Whether any file is another one than before."""
    placed: tuple[Placed, ...] = ()
    """Every file, those of figures and cards too."""

    @property
    def listed(self) -> tuple[str, ...]:
        """Each document with its pages, and its sheets of paper where both sides are printed; then texts."""
        printed = (
            message("{path} ({pages})", path=str(path), pages=joined(_pages_of(path, pages)))
            for path, pages in self.documents
        )
        return (*printed, *map(str, self.texts))


def _pages_of(path: Path, pages: int) -> Iterator[Message]:
    yield plural("{count} pages", "{count} page", count=pages)
    kind = known_kinds().get(path.name.partition(".")[0])
    if kind is not None and kind.duplex:
        yield plural(
            "{count} sheets of paper printed on both sides",
            "{count} sheet of paper printed on both sides",
            count=-(-pages // 2),
        )


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
            raise UsageError(
                message(
                    "there is no wording in “{language}”; there is {known}",
                    language=language,
                    known=", ".join(known),
                )
            )
    return tuple(dict.fromkeys(wished))


def borrowed(jobs: Sequence[Job], wishes: Wishes) -> tuple[Message, ...]:
    """A line for each language of these jobs that lacks sentences, which are printed in English."""
    works = [work for job in jobs for work in job.works]
    voices = dict.fromkeys(edition.voice for work in works for edition in work.size.editions(wishes))
    lines = []
    for voice in voices:
        lacking = messages(voice).borrowed
        if lacking:
            shown = ", ".join(lacking[:MOST_NAMED]) + (", …" if len(lacking) > MOST_NAMED else "")
            lines.append(
                message(
                    "the wording “{language}” lacks {count} sentences, {shown}; they are printed in English",
                    language=voice.language,
                    count=len(lacking),
                    shown=shown,
                )
            )
    return tuple(dict.fromkeys(lines))


def make(work: Work, kinds: Sequence[str], out: Path, wishes: Wishes = NO_WISHES) -> Made:
    """Draw, print and publish the documents of one size; nothing is written unless all pass their proof.

    ``wishes`` take the place of what the recipe says of languages, units, paper and print. Without a document
    only figures and cards are made. Raises RimfoldError of the stage that failed.
    """
    return _made(Job((work,), tuple(kinds)), out, wishes)


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
    return _made(Job(tuple(works), tuple(kinds), whole=True, roster=roster), out, wishes)


def _made(job: Job, out: Path, wishes: Wishes) -> Made:
    pieces = making.made(job, making.parts_of(job, wishes))
    return _put(job, pieces, out, len(pieces))


def make_all(
    jobs: Sequence[Job],
    out: Path,
    wishes: Wishes = NO_WISHES,
    *,
    anew: bool = False,
    hands: Hands | None = None,
) -> Iterator[tuple[Job, Made | RimfoldError]]:
    """Do several jobs; each is told when it is done, in their order.

    ``wishes`` as for ``make``. What an earlier run has kept is taken, unless ``anew``. The rest is done by
    ``hands``, who stay as they are, or by one process a core. A job that fails stops only itself: its error
    comes instead of what was made. Raises HandsError if a process is ended from outside.
    """
    store, standing = Store(out), installation()
    orders = [_Order(job, wishes, standing, store, anew) for job in jobs]
    groups = sum(len(order.groups) for order in orders)
    count = min(groups, os.cpu_count() or 1)
    keep_open = nullcontext(hands) if hands else Alone() if count < 2 else Processes(count)
    with keep_open as several:
        ahead: deque[_Order] = deque()
        waiting = iter(orders)
        for order in orders:
            while len(ahead) < max(AHEAD, 2 * several.at_once) and (following := next(waiting, None)):
                following.give(several)
                ahead.append(following)
            ahead.popleft()
            try:
                pieces = order.pieces()
                yield order.job, _put(order.job, pieces, out, order.anew)
            except HandsError:
                raise
            except RimfoldError as error:
                yield order.job, error
    if groups:
        store.trim()


class _Order:
    """A job on its way: which parts are kept, and who makes the others."""

    def __init__(self, job: Job, wishes: Wishes, standing: str, store: Store, anew: bool) -> None:
        self.job, self.store = job, store
        self.parts = making.parts_of(job, wishes)
        self.keys = {part: making.key(job, part, standing) for part in self.parts}
        missing = [part for part in self.parts if anew or not store.has(self.keys[part])]
        self.groups = making.together(missing)
        self.anew = len(missing)
        self._given: deque[tuple[tuple[Part, ...], Later[list[Piece] | RimfoldError]]] = deque()

    def give(self, hands: Hands) -> None:
        """Have what is missing made. Raises HandsError if nobody is there any more."""
        for group in self.groups:
            content = key_of(self.keys[part] for part in group)
            self._given.append((group, hands.give(content, _tried, self.job, group)))

    def pieces(self) -> list[Piece]:
        """All parts, in their order. Raises RimfoldError of one that failed, HandsError."""
        found: dict[Part, Piece] = {}
        failed: RimfoldError | None = None
        # Let go of each as it is taken, or all pages of all jobs would be held until the last is made.
        while self._given:
            group, later = self._given.popleft()
            made = later.result()
            del later
            if isinstance(made, RimfoldError):
                failed = failed or made
                continue
            for part, piece in zip(group, made, strict=True):
                found[part] = piece
                self.store.keep(self.keys[part], piece)
        if failed:
            raise failed
        for part in self.parts:
            if part not in found:
                kept = self.store.get(self.keys[part])
                # Somebody may have swept the store, or damaged it, since it was looked at.
                found[part] = kept or making.made(self.job, [part])[0]
                self.anew += kept is None
        return [found[part] for part in self.parts]


def _tried(job: Job, parts: Sequence[Part]) -> list[Piece] | RimfoldError:
    # Errors of ours travel as values: what a pool makes of an exception is not the same everywhere.
    try:
        return making.made(job, parts)
    except RimfoldError as error:
        return error


def _put(job: Job, pieces: Sequence[Piece], out: Path, anew: int) -> Made:
    """Put the parts of a job into their places. Raises WriteError."""
    first = job.works[0]
    home = out / first.size.recipe
    folder = home if job.whole else home / first.size.name
    files = [file for piece in pieces for file in piece.files]
    steps = len({file.name for file in files if file.role == "figure"}) > 0
    of_steps = (folder / "figures", folder / "cards") if steps else ()
    changed = put(home, first, {home / file.name: file.data for file in files}, of_steps, job.roster)

    def named(*roles: str) -> Iterator[File]:
        return (file for file in files if file.role in roles)

    return Made(
        documents=tuple((home / file.name, file.pages) for file in named("document", "print")),
        figures=folder / "figures" if not job.whole else folder,
        cards=folder / "cards" if not job.whole else folder,
        steps=len(first.plan.steps) if steps else 0,
        drawings=tuple(home / file.name for file in named("drawing")),
        texts=tuple(home / file.name for file in named("text")),
        notes=tuple(piece.note for piece in pieces if piece.note),
        anew=anew,
        changed=bool(changed),
        placed=tuple(
            Placed(home / file.name, file.role, sha256(file.data).hexdigest(), home / file.name in changed)
            for file in files
        ),
    )
