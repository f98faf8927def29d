"""When Python looks for objects that nobody can reach any more."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def collected_later() -> Iterator[None]:
    """No search for lost objects while one document is made. Within another of these it changes nothing.

    A page makes hundreds of thousands of small objects that are all in use, and the collector walks over them
    again and again: a tenth of the time of a document. What is lost is found when it has ended.
    """
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()
