"""Files that appear whole or not at all."""

from __future__ import annotations

import contextlib
import errno
import os
import tempfile
from pathlib import Path

from generator.base.errors import WriteError

_MODE = 0o666
"""Wished permissions of a new file; the user's mask takes from them."""


def publish(path: Path, data: bytes) -> None:
    """Put ``data`` at ``path``: a reader sees the old file or the new one, never a part.

    Missing folders are made. What stood there stays if anything fails, and nothing else is left behind.
    Raises WriteError in plain words.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        if path.is_dir():
            raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR), str(path))
        _write_whole(path, data)
    except OSError as error:
        raise WriteError(_words(path, error)) from error


def _write_whole(path: Path, data: bytes) -> None:
    # In the same folder, or the last move would cross to another disk and copy.
    handle, name = tempfile.mkstemp(prefix=".rimfold-", suffix=".part", dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fchmod(file.fileno(), _MODE & ~_mask())
            os.fsync(file.fileno())
        os.replace(name, path)
    except BaseException:
        with contextlib.suppress(OSError):
            os.unlink(name)
        raise
    _sync_folder(path.parent)


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


def _words(path: Path, error: OSError) -> str:
    folder = path.parent
    reasons = {
        errno.EACCES: f"you may not write in the folder {folder}; choose another with --out",
        errno.EPERM: f"you may not write in the folder {folder}; choose another with --out",
        errno.EROFS: f"the disk of {folder} can only be read; choose another folder with --out",
        errno.ENOSPC: f"the disk of {folder} is full; make room, then try again",
        errno.EDQUOT: f"your share of the disk of {folder} is full; make room, then try again",
        errno.EISDIR: "a folder stands in its place; move that folder or choose another with --out",
        errno.ENOTDIR: f"a file stands where the folder {folder} must be; move it, or use --out",
        errno.EEXIST: f"a file stands where the folder {folder} must be; move it, or use --out",
        errno.ENAMETOOLONG: "its name is too long for this disk; shorten the name of the recipe or size",
        errno.EINVAL: "its name holds a sign that this disk does not take; rename the recipe",
    }
    reason = reasons.get(error.errno or 0, (error.strerror or str(error)).lower())
    return f"{path} was not written: {reason}"
