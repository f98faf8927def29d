"""Who writes where: locks that end with their process, however it ends.

A lock is the kernel's own (``flock``): it leaves no file behind and none that is stale after a power cut.
Some network disks have none; there every file is still whole, only a set may be mixed with another's.
"""

from __future__ import annotations

import contextlib
import errno
import fcntl
import os
import time
from collections.abc import Iterator
from pathlib import Path

from generator.base.errors import WriteError
from generator.base.message import message
from generator.base.reasons import reason

PATIENCE = 60.0
"""How long a build waits for another one that writes in the same folder, seconds. Writing takes a moment."""

_PAUSE = 0.02
_BUSY = (errno.EWOULDBLOCK, errno.EAGAIN, errno.EACCES)


def take(handle: int) -> bool | None:
    """Try to lock an open file or folder: True: it is ours, False: another's, None: there are no locks."""
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as error:
        return False if error.errno in _BUSY else None
    return True


@contextlib.contextmanager
def alone_in(folder: Path, patience: float = PATIENCE) -> Iterator[None]:
    """Keep other builds from writing in a folder meanwhile; it must be there.

    Raises WriteError if another one still writes there after ``patience`` seconds, or the folder cannot be
    opened.
    """
    try:
        handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    except OSError as error:
        raise WriteError(
            message(
                "the folder {folder} cannot be opened: {reason}", folder=str(folder), reason=reason(error)
            )
        ) from error
    try:
        until = time.monotonic() + patience
        while take(handle) is False:
            if time.monotonic() > until:
                raise WriteError(
                    message(
                        "another Rimfold has been writing in the folder {folder} for {seconds} seconds",
                        folder=str(folder),
                        seconds=f"{patience:.0f}",
                    ),
                    message("wait for it or end it, then run the command again"),
                )
            time.sleep(_PAUSE)
        yield
    finally:
        os.close(handle)
