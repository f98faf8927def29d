"""Files that appear whole or not at all.

Each is written under another name in its own folder, made lasting, then moved into its place in one stroke:
a reader sees the old file or the new one. A set is moved only when all of it is written, so that a disk that
fills up changes nothing. What a process that died has left is swept away by the next that writes there.
"""

from __future__ import annotations

import contextlib
import errno
import os
import tempfile
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from generator.base.errors import WriteError
from generator.base.message import Message, message
from generator.base.reasons import reason
from generator.press.locking import take

_MODE = 0o666
"""Wished permissions of a new file; the user's mask takes from them."""

_PREFIX, _SUFFIX = ".rimfold-", ".part"


@dataclass
class _Part:
    """A file that is written but not in its place. Its handle holds a lock: its process lives."""

    path: Path
    name: str
    handle: int
    placed: bool = False


def publish(path: Path, data: bytes) -> None:
    """Put ``data`` at ``path``: a reader sees the old file or the new one, never a part.

    Missing folders are made. What stood there stays if anything fails, and nothing else is left behind.
    Raises WriteError in plain words.
    """
    publish_all({path: data})


def publish_all(files: Mapping[Path, bytes]) -> None:
    """Put several files in their places: first all are written, then all are moved, in their order.

    If one cannot be written none is moved. Should the process die while they are moved, each is the old one
    or the new one, and whole. Missing folders are made, and go again if nothing came into them.
    Raises WriteError in plain words.
    """
    parts: list[_Part] = []
    made: list[Path] = []
    at = Path()
    try:
        for at in files:
            _make(at.parent, made)
            if at.is_dir():
                raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), str(at))
        sweep({path.parent for path in files})
        for at, data in files.items():
            parts.append(_part(at))
            _write(parts[-1], data)
        for part in parts:
            at = part.path
            os.replace(part.name, part.path)
            part.placed = True
    except BaseException as error:
        _withdraw(parts, made)
        if isinstance(error, OSError):
            raise _refused(at, error) from error
        raise
    finally:
        for part in parts:
            os.close(part.handle)
    for folder in {path.parent for path in files} | {folder.parent for folder in made}:
        _sync_folder(folder)


@contextlib.contextmanager
def folder_for(folder: Path) -> Iterator[None]:
    """A folder to write in, made if it is missing; if the work fails and nothing came into it, it goes again.

    Raises WriteError if it cannot be made.
    """
    made: list[Path] = []
    try:
        _make(folder, made)
    except OSError as error:
        _withdraw((), made)
        raise _refused(folder / "…", error) from error
    try:
        yield
    except BaseException:
        _withdraw((), made)
        raise


def sweep(folders: Iterable[Path]) -> None:
    """Remove what processes that died have left in some folders. What a living one writes is locked."""
    for folder in folders:
        for path in folder.glob(f"{_PREFIX}*{_SUFFIX}"):
            with contextlib.suppress(OSError):
                handle = os.open(path, os.O_RDWR | os.O_NOFOLLOW | os.O_NONBLOCK)
                try:
                    if take(handle):
                        path.unlink()
                finally:
                    os.close(handle)


def _make(folder: Path, made: list[Path]) -> None:
    """Make a folder and those above it; ``made`` learns which, the upper ones first."""
    missing = []
    while not folder.exists() and folder != folder.parent:
        missing.append(folder)
        folder = folder.parent
    for each in reversed(missing):
        try:
            each.mkdir()
        except FileExistsError:
            # Another build was quicker; a file in its place is an error all the same.
            if not each.is_dir():
                raise
        else:
            made.append(each)
    if not folder.is_dir():
        raise NotADirectoryError(errno.ENOTDIR, os.strerror(errno.ENOTDIR), str(folder))


def _part(path: Path) -> _Part:
    # In the same folder, or the last move would cross to another disk and copy.
    while True:
        handle, name = tempfile.mkstemp(prefix=_PREFIX, suffix=_SUFFIX, dir=path.parent)
        # Another build may sweep between the two calls, and then takes the new file for a dead one's.
        if take(handle) is not False and os.fstat(handle).st_nlink:
            return _Part(path, name, handle)
        os.close(handle)


def _write(part: _Part, data: bytes) -> None:
    with os.fdopen(part.handle, "wb", closefd=False) as file:
        file.write(data)
        file.flush()
        os.fchmod(part.handle, _MODE & ~_mask())
        os.fsync(part.handle)


def _withdraw(parts: Iterable[_Part], made: Iterable[Path]) -> None:
    for part in parts:
        if not part.placed:
            with contextlib.suppress(OSError):
                os.unlink(part.name)
    for folder in reversed(list(made)):
        with contextlib.suppress(OSError):
            folder.rmdir()


def _mask() -> int:
    # The mask can only be read by setting it.
    mask = os.umask(0o077)
    os.umask(mask)
    return mask


def _sync_folder(folder: Path) -> None:
    """Make the new name last through a power cut. Some network disks cannot, which is no failure."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _refused(path: Path, error: OSError) -> WriteError:
    """Why a file was not written, and what to do."""
    folder = str(path.parent)
    elsewhere, make_room = message("choose another folder with --out"), message("make room, then try again")
    may_not = message("you may not write in the folder {folder}", folder=folder), elsewhere
    stands = (
        message("a file stands where the folder {folder} must be", folder=folder),
        message("move it, or choose another folder with --out"),
    )
    known: dict[int, tuple[Message, Message]] = {
        errno.EACCES: may_not,
        errno.EPERM: may_not,
        errno.EROFS: (message("the disk of {folder} can only be read", folder=folder), elsewhere),
        errno.ENOSPC: (message("the disk of {folder} is full", folder=folder), make_room),
        errno.EDQUOT: (message("your share of the disk of {folder} is full", folder=folder), make_room),
        errno.EFBIG: (message("it is larger than the disk of {folder} takes", folder=folder), elsewhere),
        errno.EIO: (message("the disk of {folder} does not answer as it should", folder=folder), elsewhere),
        errno.EISDIR: (
            message("a folder stands in its place"),
            message("move that folder, or choose another with --out"),
        ),
        errno.ENOTDIR: stands,
        errno.EEXIST: stands,
        errno.ENAMETOOLONG: (
            message("its name is too long for this disk"),
            message("shorten the name of the recipe or size"),
        ),
        errno.EINVAL: (
            message("its name holds a sign that this disk does not take"),
            message("rename the recipe"),
        ),
    }
    why, fix = known.get(error.errno or 0, (reason(error), None))
    return WriteError(message("{path} was not written: {reason}", path=str(path), reason=why), fix)
