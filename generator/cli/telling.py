"""Who is told how the work goes: a person at a terminal in lines, or a program in JSON, one event a line."""

from __future__ import annotations

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any, Protocol

import click

from generator.base.errors import InputError, ProofError, RimfoldError
from generator.base.message import message, under
from generator.cli.progress import Progress
from generator.cli.speech import said, told

if TYPE_CHECKING:
    from generator.answers import Done, Line


@dataclass
class Tally:
    """What came of some work, counted as it goes."""

    new: int = 0
    """Files that are other ones than before."""
    kept: int = 0
    """Files that stay as they were."""
    failed: int = 0
    """Recipes, and sizes of them, that were not made."""
    seconds: float = 0.0


class Teller(Protocol):
    """Whoever is told. All of it may be called from one round of work after the other."""

    brief: bool
    """Whether only what is new is told: a later round of one who watches."""

    def told(self, line: Line) -> None:
        """Something that whoever asked should know."""

    def begin(self, names: Sequence[str], to_make: int) -> None:
        """What the round is about, and how many of that have to be made."""

    def working(self, name: str) -> None:
        """What is being made."""

    def made(self, done: Done, new: Iterable[Path], *, kept_answer: bool) -> None:
        """Documents are in their places, some of them ``new``; ``kept_answer``: nobody had to look."""

    def failed(self, error: RimfoldError, name: str = "") -> None:
        """A recipe, or with a name a size of it, is not made."""

    def saved(self, files: Sequence[Path]) -> None:
        """Somebody has saved files, and what comes from them is made again."""

    def summed_up(self, line: str) -> None:
        """What was saved, and what came of it, in a line."""

    def end(self, tally: Tally) -> None:
        """The round is through."""

    def close(self) -> None:
        """Nothing more comes of this round, whether it is through or not."""


class People:
    """Lines on a terminal; a bar there, too, where something has to be made."""

    def __init__(self) -> None:
        self.brief = False
        self._progress = Progress()
        self._before: set[Line] = set()
        self._told: set[Line] = set()

    def told(self, line: Line) -> None:
        """Warnings go to the error stream. In a later round what the one before it told is known."""
        self._told.add(line)
        if self.brief and line in self._before:
            return
        (self._progress.complain if line.warning else self._progress.say)(line.text)

    def begin(self, names: Sequence[str], to_make: int) -> None:
        """The bar counts what has to be made."""
        self._progress.begin(to_make)

    def working(self, name: str) -> None:
        """The bar says it."""
        self._progress.working(said(name))

    def made(self, done: Done, new: Iterable[Path], *, kept_answer: bool) -> None:
        """A line for the documents, and one for each that is otherwise than was wished."""
        if not kept_answer:
            self._progress.advance()
        if self.brief:
            return
        new_files = any(True for _ in new)
        self._progress.say(done.line if new_files else f"{done.line}; {said(message('unchanged'))}")
        for note in done.notes:
            self._progress.say(said(under(done.name, note)))

    def failed(self, error: RimfoldError, name: str = "") -> None:
        """On the error stream."""
        if name:
            self._progress.advance()
        self._progress.complain(f"{said(name)}: {told(error)}" if name else told(error))

    def saved(self, files: Sequence[Path]) -> None:
        """Told when it is made."""

    def end(self, tally: Tally) -> None:
        """What came of it stands there already."""
        self.close()
        self._before, self._told = self._told, set()

    def summed_up(self, line: str) -> None:
        """Always, even if it is the same as the one before."""
        self._progress.say(line)

    def close(self) -> None:
        """The bar goes."""
        self._progress.close()


class Events:
    """JSON, one event a line, for a program, which is told everything each time."""

    brief = False

    def told(self, line: Line) -> None:
        """The line as a person would read it."""
        _say("told", line=line.text)

    def begin(self, names: Sequence[str], to_make: int) -> None:
        """All that is asked for, whether it has to be made or not."""
        _say("begin", what=list(names), count=len(names))

    def working(self, name: str) -> None:
        """A program waits for what is made."""

    def made(self, done: Done, new: Iterable[Path], *, kept_answer: bool) -> None:
        """An event for each file."""
        others = {str(path) for path in new}
        for file in done.files:
            _say("made", file=file.path, kept=file.path not in others, what=done.name, role=file.role)
        for note in done.notes:
            _say("told", line=f"{done.name}: {note}")

    def failed(self, error: RimfoldError, name: str = "") -> None:
        """An event for each fault."""
        places: list[dict[str, Any]] = [{"message": str(error)}]
        if isinstance(error, InputError) and error.faults:
            places = [
                {
                    "message": str(fault),
                    "file": fault.span.file,
                    "line": fault.span.line,
                    "column": fault.span.column,
                }
                for fault in error.faults
            ]
        elif isinstance(error, ProofError) and error.faults:
            places = [{"message": str(fault), "file": fault.file or None} for fault in error.faults]
        for place in places:
            _say("failed", **{"file": None, "line": None, "column": None, "what": name or None, **place})

    def saved(self, files: Sequence[Path]) -> None:
        """An event for each file."""
        for file in files:
            _say("saved", file=str(file))

    def end(self, tally: Tally) -> None:
        """The sums."""
        seconds = round(tally.seconds, 3)
        _say("end", made=tally.new, kept=tally.kept, failed=tally.failed, seconds=seconds)

    def summed_up(self, line: str) -> None:
        """As any line."""
        _say("told", line=line)

    def close(self) -> None:
        """Every event is told when it happens."""


def _say(event: str, **more: Any) -> None:
    # Letters beyond ASCII are told by their numbers: a program need not know the terminal's letters.
    click.echo(json.dumps({"event": event, **more}))
