"""What everything that this process started takes: CPU time and memory, read from /proc (Linux)."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from threading import Event, Thread
from time import monotonic
from types import TracebackType
from typing import Self

_TICK = os.sysconf("SC_CLK_TCK")
_EVERY = 0.25


def descendants(root: int) -> Iterator[int]:
    """All processes that descend from one, without it."""
    children: dict[int, list[int]] = {}
    for entry in Path("/proc").iterdir():
        if entry.name.isdigit():
            with suppress(OSError):
                fields = (entry / "stat").read_text().rpartition(")")[2].split()
                children.setdefault(int(fields[1]), []).append(int(entry.name))
    waiting = list(children.get(root, ()))
    while waiting:
        pid = waiting.pop()
        yield pid
        waiting += children.get(pid, ())


def cpu_seconds(root: int) -> float:
    """CPU time of all that descends from a process and of what these have waited for."""
    total = 0
    for pid in descendants(root):
        with suppress(OSError):
            fields = Path(f"/proc/{pid}/stat").read_text().rpartition(")")[2].split()
            total += sum(map(int, fields[11:15]))
    return total / _TICK


def kilobytes(pid: int, file: str, key: str) -> int:
    """What /proc says of a process in a line of a file; 0 if it has ended."""
    with suppress(OSError):
        for line in Path(f"/proc/{pid}/{file}").read_text().splitlines():
            if line.startswith(key):
                return int(line.split()[1])
    return 0


@dataclass
class Watch:
    """While it is open it looks at all that descends from this process, four times a second."""

    together: float = 0.0
    """Most memory of all of them at once, shared parts counted once (PSS), MB."""
    greatest: float = 0.0
    """Most memory of one process (its own peak), MB."""
    seconds: float = 0.0
    cpu: float = 0.0
    """CPU seconds of those that live at the end, and of what they waited for."""
    _over: Event = field(default_factory=Event)

    def __enter__(self) -> Self:
        self._start, self._cpu = monotonic(), cpu_seconds(os.getpid())
        self._looking = Thread(target=self._look, daemon=True)
        self._looking.start()
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        self.seconds = monotonic() - self._start
        self.cpu = cpu_seconds(os.getpid()) - self._cpu
        self._over.set()
        self._looking.join()

    def _look(self) -> None:
        while True:
            found = list(descendants(os.getpid()))
            shared = sum(kilobytes(pid, "smaps_rollup", "Pss:") for pid in found)
            self.together = max(self.together, shared / 1024)
            peaks = (kilobytes(pid, "status", "VmHWM:") for pid in found)
            self.greatest = max(self.greatest, *peaks, 0) if found else self.greatest
            if self._over.wait(_EVERY):
                self.greatest /= 1024
                return
