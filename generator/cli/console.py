"""What a person sees while the program works: warnings, faults, progress."""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, Any, Self

import click

from generator.base.errors import RimfoldError

if TYPE_CHECKING:
    from generator.examine import Examined


def each(recipes: Sequence[Path], work: Callable[[Examined], int]) -> int:
    """Examine each recipe and do the work; a bad one stops only itself. Returns the worst exit code."""
    from generator.examine import examine

    worst, doubles = 0, _same_names(recipes)
    for recipe in dict.fromkeys(recipes):
        if recipe in doubles:
            click.echo(
                f"{recipe}: another recipe of this call is also called {recipe.stem}, and both would go to "
                "one folder; rename one of them, or make them one by one into different --out folders",
                err=True,
            )
            worst = max(worst, 2)
            continue
        try:
            examined = examine(recipe)
            for warning in examined.warnings:
                click.echo(str(warning), err=True)
            worst = max(worst, work(examined))
        except RimfoldError as error:
            if click.get_current_context().find_root().params.get("debug"):
                raise
            click.echo(str(error), err=True)
            worst = max(worst, error.exit_code)
    return worst


def _same_names(recipes: Sequence[Path]) -> set[Path]:
    by_name: dict[str, set[Path]] = {}
    for recipe in recipes:
        by_name.setdefault(recipe.stem.casefold(), set()).add(recipe)
    return {recipe for same in by_name.values() if len(same) > 1 for recipe in same}


class Progress:
    """A bar on a terminal, plain lines elsewhere."""

    def __init__(self, total: int) -> None:
        """``total`` is the number of sizes to come."""
        self.total = total
        self.failures: list[str] = []
        self.bar: Any = None
        self.task: Any = None

    def __enter__(self) -> Self:
        if sys.stdout.isatty() and self.total:
            from rich.progress import BarColumn, MofNCompleteColumn, TextColumn
            from rich.progress import Progress as Bar

            self.bar = Bar(
                BarColumn(),
                MofNCompleteColumn(),
                TextColumn("{task.description}", markup=False),
                transient=True,
            )
            self.bar.start()
            self.task = self.bar.add_task("", total=self.total)
        return self

    def say_next(self, what: str) -> None:
        """The size that is being made."""
        if self.bar:
            self.bar.update(self.task, description=what)

    def done(self, words: str) -> None:
        """A size is in its place."""
        if self.bar:
            self.bar.advance(self.task)
            self.bar.console.print(words, markup=False, highlight=False, soft_wrap=True)
        else:
            click.echo(words)

    def fail(self, words: str) -> None:
        """A size could not be made. Told on the error stream; with a bar, once the bar is gone."""
        if self.bar:
            self.bar.advance(self.task)
            self.failures.append(words)
        else:
            click.echo(words, err=True)

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        if self.bar:
            self.bar.stop()
        for words in self.failures:
            click.echo(words, err=True)
