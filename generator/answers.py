"""What an earlier call made of a recipe, as long as everything is as it was: then nobody need read it.

An answer is kept in the store of the documents. It names every file that was read and every file that was
put into its place, and holds only while each of them is the same. Whether a file is the same is asked of the
system first (size, times and number of the file), and of its bytes where the system says something else.
As in version control, times are believed only of a file that was old enough when it was looked at: one that
is changed twice within a tick of the clock keeps its times.
"""

from __future__ import annotations

import os
import time
from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from pydantic import TypeAdapter, ValidationError

from generator.base.readings import ABSENT, absolute, hash_of
from generator.record.inputs import installation, shipped_hash
from generator.record.manifest import NAME
from generator.record.store import key_of

if TYPE_CHECKING:
    from generator.record.store import Store

YOUNG = 2_000_000_000
"""A file that was changed less than so many nanoseconds ago may change again without another time: some disks
count in steps of two seconds."""

Marks = tuple[int, int, int, int]
"""Size in bytes, times of the last change of its bytes and of anything else (ns), its number on the disk."""


@dataclass(frozen=True, slots=True)
class Seen:
    """A file as it was."""

    path: str
    """From the root; of what was made from the folder of the documents."""
    sha256: str
    marks: Marks | None
    """What the system said of it; None: it was too young for that to count."""


@dataclass(frozen=True, slots=True)
class Output:
    """A file that stands in its place."""

    path: str
    """As it is told to people."""
    role: str


@dataclass(frozen=True, slots=True)
class Done:
    """What was made for one size, or for all sizes together, as it is told."""

    name: str
    line: str
    """What was made, in a line."""
    notes: tuple[str, ...]
    """What is otherwise than was wished, a line each."""
    files: tuple[Output, ...]


@dataclass(frozen=True, slots=True)
class Line:
    """A line for people."""

    text: str
    warning: bool
    """Whether it stands on the error stream."""


@dataclass(frozen=True, slots=True)
class Answer:
    """Everything that is told of a recipe, and what it hangs on."""

    lines: tuple[Line, ...]
    """Before anything is made: warnings, and what is not made or not as was wished."""
    done: tuple[Done, ...]
    read: tuple[Seen, ...]
    written: tuple[Seen, ...]

    @property
    def readings(self) -> dict[Path, str]:
        """The hash of each file that was read."""
        return {Path(seen.path): seen.sha256 for seen in self.read}


_ANSWER = TypeAdapter(Answer)


def standing() -> str:
    """The hash of this installation: what decides how a page looks, and every technique and form of times.

    A recipe that names none may use one that comes new.
    """
    return key_of([installation(), *(shipped_hash(f"recipes/{name}") for name in ("techniques", "times"))])


def question(standing: str, recipe: Path, out: Path, asked: Iterable[object]) -> str:
    """The key of a question: this recipe, by this installation, into this folder, with these wishes."""
    places = (str(recipe), str(absolute(recipe)), str(out), str(absolute(out)))
    # A name need not be text; ascii tells it all the same.
    return key_of([standing, *map(ascii, places), *(repr(each) for each in asked)])


def recall(store: Store, key: str, out: Path) -> Answer | None:
    """The answer to a question, if everything that it hangs on is as it was; else None."""
    kept = store.answer(key)
    if kept is None:
        return None
    try:
        found = _ANSWER.validate_python(kept)
    except ValidationError:
        return None
    read, written = _again(found.read, Path()), _again(found.written, out)
    if read is None or written is None:
        return None
    now = replace(found, read=read, written=written)
    if now != found:
        # Files have grown old enough, or were only touched: the next call need not read them.
        _note(store, key, now)
    return found


def remember(
    store: Store,
    key: str,
    out: Path,
    lines: Iterable[Line],
    done: Iterable[Done],
    read: Mapping[Path, str],
    written: Mapping[Path, str],
) -> bool:
    """Keep an answer, if every file is still the one that was read or written. Returns whether it is kept.

    ``read`` and ``written`` have the hash of each file, as it was then.
    """
    inputs = _now({str(path): digest for path, digest in read.items()}, Path())
    homes = {path.relative_to(out).parts[0] for path in written}
    manifests = {out / home / NAME: hash_of(out / home / NAME) for home in homes}
    all_written = {**written, **manifests}
    outputs = _now({path.relative_to(out).as_posix(): digest for path, digest in all_written.items()}, out)
    if inputs is None or outputs is None:
        return False
    return _note(store, key, Answer(tuple(lines), tuple(done), inputs, outputs))


def _note(store: Store, key: str, answer: Answer) -> bool:
    try:
        store.note(key, asdict(answer))
    except UnicodeEncodeError:
        # A name that is no text cannot stand in JSON; such a recipe is read each time.
        return False
    return True


def _now(files: Mapping[str, str], folder: Path) -> tuple[Seen, ...] | None:
    """Files as they are, or None if one is not what it should be."""
    return _again((Seen(path, digest, None) for path, digest in files.items()), folder)


def _again(files: Iterable[Seen], folder: Path) -> tuple[Seen, ...] | None:
    """The same files as they are now; None if one is another one, or was not there."""
    found = []
    for seen in files:
        place = os.path.join(folder, seen.path)
        marks = _marks(place)
        if marks is None or seen.sha256 == ABSENT:
            return None
        if marks == seen.marks:
            found.append(seen)
            continue
        young = max(marks[1], marks[2]) > time.time_ns() - YOUNG
        if hash_of(place) != seen.sha256:
            return None
        found.append(replace(seen, marks=None if young else marks))
    return tuple(found)


def _marks(path: str) -> Marks | None:
    try:
        about = os.stat(path)
    except (OSError, ValueError):
        return None
    return (about.st_size, about.st_mtime_ns, about.st_ctime_ns, about.st_ino)
