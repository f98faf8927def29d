"""Why the system did not do what it was asked for, in words."""

from __future__ import annotations

import errno

from generator.base.message import message

_KNOWN = {
    errno.ENOENT: message("no such file or directory"),
    errno.EACCES: message("permission denied"),
    errno.EPERM: message("operation not permitted"),
    errno.ENOTDIR: message("not a directory"),
    errno.EISDIR: message("is a directory"),
    errno.EEXIST: message("file exists"),
    errno.ENAMETOOLONG: message("file name too long"),
    errno.ELOOP: message("too many levels of symbolic links"),
    errno.ENOSPC: message("no space left on device"),
    errno.EROFS: message("read-only file system"),
    errno.EIO: message("input/output error"),
    errno.EADDRINUSE: message("address already in use"),
}


def reason(error: OSError) -> str:
    """The system's own words, a Message for what it says often."""
    return _KNOWN.get(error.errno or 0) or (error.strerror or str(error)).lower()
