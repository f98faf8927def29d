"""Who does the work: this process, or others of this machine."""

from __future__ import annotations

import os
from collections.abc import Callable
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from multiprocessing import get_context
from types import TracebackType
from typing import Any, ParamSpec, Protocol, Self, TypeVar

from generator.base import worker
from generator.base.errors import HandsError
from generator.base.message import message

T = TypeVar("T")
T_co = TypeVar("T_co", covariant=True)
P = ParamSpec("P")

ENOUGH = 50
"""Pieces of work that one process does before another takes its place."""

_ENDED = (
    message("a process that made pages was ended from outside, most often because memory ran out"),
    message("close other programs, then run the command again"),
)


class Later(Protocol[T_co]):
    """Something that is being done."""

    def result(self) -> T_co:
        """What came of it, once it is there.

        Raises what the work raised; HandsError if whoever did it was ended.
        """


class Hands(Protocol):
    """Whoever can be given work; closed when the work is over."""

    @property
    def at_once(self) -> int:
        """How many things are done at once."""

    def give(self, key: str, work: Callable[P, T], *args: P.args, **more: P.kwargs) -> Later[T]:
        """Have something done; what it is given and gives must be able to travel to another process.

        ``key`` is a hash of everything that it depends on.
        """

    def __enter__(self) -> Self: ...

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None: ...


class _AskedFor:
    """Work that is done when its result is asked for."""

    def __init__(self, work: Callable[[], Any]) -> None:
        self._work = work

    def result(self) -> Any:
        """Do it now."""
        return self._work()


class Alone:
    """This process, one thing after the other."""

    at_once = 1

    def give(self, key: str, work: Callable[P, T], *args: P.args, **more: P.kwargs) -> Later[T]:
        """It is done when it is asked for: nothing is in vain where an earlier one fails."""
        return _AskedFor(lambda: work(*args, **more))

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        return None


class _Elsewhere:
    def __init__(self, future: Future[Any]) -> None:
        self._future = future

    def result(self) -> Any:
        """Wait for it."""
        try:
            return self._future.result()
        except (BrokenProcessPool, BrokenPipeError) as error:
            # The latter if it was ended while it was told what to do.
            raise HandsError(*_ENDED) from error


class Processes:
    """Other processes of this machine, each with an engine that stays warm.

    A process grew by about a megabyte with each document, until fonts were shared (``press/engine.py``).
    After ``ENOUGH`` pieces of work new ones take over; the old ones go when they have done what they were
    given.
    """

    def __init__(self, count: int | None = None) -> None:
        """``count`` processes at most, or one a core."""
        self.at_once = count or os.cpu_count() or 1
        self._given = 0
        self._pool, self._going = self._new(), list[ProcessPoolExecutor]()

    def _new(self) -> ProcessPoolExecutor:
        return ProcessPoolExecutor(self.at_once, mp_context=get_context("spawn"), initializer=worker.start)

    def give(self, key: str, work: Callable[P, T], *args: P.args, **more: P.kwargs) -> Later[T]:
        """It waits until one of them is free. Raises HandsError if one was ended from outside."""
        if self._given >= ENOUGH * self.at_once:
            self._pool.shutdown(wait=False)
            self._going.append(self._pool)
            self._pool, self._given = self._new(), 0
        self._given += 1
        try:
            return _Elsewhere(self._pool.submit(work, *args, **more))
        except (BrokenProcessPool, BrokenPipeError) as error:
            raise HandsError(*_ENDED) from error

    def __enter__(self) -> Self:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        # Whoever stops early does not want what still waits.
        for pool in (*self._going, self._pool):
            pool.shutdown(cancel_futures=True)
