"""How far the work is: a bar on a terminal, plain lines elsewhere."""

from __future__ import annotations

import sys
from typing import Any

import click

LOOKS_BACK = 3600.0
"""Seconds of work from which it is told how long the rest takes: a sheet takes ten or twenty."""


class Progress:
    """A bar on a terminal, with what is being made, how many of how many, and how long yet."""

    def __init__(self) -> None:
        self._failures: list[str] = []
        self._bar: Any = None
        self._task: Any = None

    def begin(self, total: int) -> None:
        """So many things are to be made."""
        if sys.stdout.isatty() and total:
            from rich.progress import BarColumn, MofNCompleteColumn, TextColumn, TimeRemainingColumn
            from rich.progress import Progress as Bar

            self._bar = Bar(
                BarColumn(),
                MofNCompleteColumn(),
                TimeRemainingColumn(),
                TextColumn("{task.description}", markup=False),
                transient=True,
                speed_estimate_period=LOOKS_BACK,
            )
            self._bar.start()
            self._task = self._bar.add_task("", total=total)

    def working(self, what: str) -> None:
        """What is being made."""
        if self._bar:
            self._bar.update(self._task, description=what, refresh=True)

    def advance(self) -> None:
        """One thing is in its place, or could not be made."""
        if self._bar:
            self._bar.advance(self._task)

    def say(self, words: str) -> None:
        """A line on the output, above the bar."""
        if self._bar:
            self._bar.console.print(words, markup=False, highlight=False, soft_wrap=True)
        else:
            click.echo(words)

    def complain(self, words: str) -> None:
        """A line on the error stream; with a bar, once the bar is gone."""
        if self._bar:
            self._failures.append(words)
        else:
            click.echo(words, err=True)

    def close(self) -> None:
        """The bar goes. It may be called again."""
        if self._bar:
            self._bar.stop()
            self._bar = None
        for words in self._failures:
            click.echo(words, err=True)
        self._failures.clear()
