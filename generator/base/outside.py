"""Programs of others that are started here get the variables that we were started with, not those set for us.

The document engine sees our fonts alone, by a variable that a browser or a viewer would inherit: with no font
of the system it shows nothing, or ends.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager

_before: dict[str, str | None] = {}
"""What variables were before we changed them; None: not there."""


def change(name: str, value: str | None) -> None:
    """Set a variable for this process alone, or take it away."""
    _before.setdefault(name, os.environ.get(name))
    _put(name, value)


def environment() -> dict[str, str]:
    """All variables as they were before we changed any, for a program that is started."""
    found = dict(os.environ)
    for name, value in _before.items():
        if value is None:
            found.pop(name, None)
        else:
            found[name] = value
    return found


@contextmanager
def as_outside() -> Iterator[None]:
    """For a moment this process has them too: for what starts a program without being told its variables."""
    ours = {name: os.environ.get(name) for name in _before}
    for name, value in _before.items():
        _put(name, value)
    try:
        yield
    finally:
        for name, value in ours.items():
            _put(name, value)


def _put(name: str, value: str | None) -> None:
    if value is None:
        os.environ.pop(name, None)
    else:
        os.environ[name] = value
