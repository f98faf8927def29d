"""Which files of people's are read meanwhile, each as it was, for whoever keeps what came of them.

Rooms that read such files say so here, and know nothing of whoever asks. It holds for this process and this
thread of work alone.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from hashlib import sha256
from pathlib import Path

ABSENT = "absent"
"""In the place of a hash: there was no such file, or none that could be read."""

_LARGEST = 64 * 1024 * 1024
"""No file that people name or that we make comes near; whatever is larger is not read to its end."""

Readings = dict[Path, str]
"""The hash of each file, as it was when it was read. Paths are absolute, links in them not followed."""

_asked: ContextVar[Readings | None] = ContextVar("asked", default=None)


@contextmanager
def readings() -> Iterator[Readings]:
    """What is read within; the mapping fills as it goes, and stays when it ends with an error."""
    found: Readings = {}
    before = _asked.set(found)
    try:
        yield found
    finally:
        _asked.reset(before)


def read_as(path: Path | str, digest: str) -> None:
    """A file was read, and this is the SHA-256 of its bytes."""
    found = _asked.get()
    if found is not None:
        found[absolute(path)] = digest


def will_read(path: Path | str) -> None:
    """A file is about to be read, or was looked for and is not there."""
    found = _asked.get()
    if found is not None:
        found[absolute(path)] = hash_of(path)


def hash_of(path: Path | str) -> str:
    """SHA-256 of an ordinary file's bytes, hex; ABSENT if there is none that can be read."""
    try:
        if not os.path.isfile(path) or os.path.getsize(path) > _LARGEST:
            return ABSENT
        with open(path, "rb") as file:
            whole = sha256()
            while part := file.read(1 << 20):
                whole.update(part)
            return whole.hexdigest()
    except (OSError, ValueError):  # ValueError: a zero byte in the name
        return ABSENT


def absolute(path: Path | str) -> Path:
    """From the root, without dots; links stay as they are."""
    return Path(os.path.abspath(path))
