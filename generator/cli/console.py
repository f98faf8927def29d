"""Recipes one after the other: warnings and faults are told, and a bad one stops only itself."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Protocol, TypeVar

import click

from generator.base.errors import RimfoldError, UsageError
from generator.base.message import message
from generator.cli.speech import said, told

if TYPE_CHECKING:
    from generator.base.errors import Warning_
    from generator.examine import Examined


class _Told(Protocol):
    @property
    def warnings(self) -> tuple[Warning_, ...]: ...


T = TypeVar("T", bound=_Told)


def each(recipes: Sequence[Path], work: Callable[[Examined], int]) -> int:
    """Examine each recipe and do the work; a bad one stops only itself. Returns the worst exit code."""
    from generator.examine import examine

    return each_looked_at(recipes, examine, work)


def each_looked_at(recipes: Sequence[Path], look: Callable[[Path], T], work: Callable[[T], int]) -> int:
    """The same for whoever looks at recipes in another way."""
    worst, doubles = 0, same_names(recipes)
    for recipe in dict.fromkeys(recipes):
        if recipe in doubles:
            click.echo(told(doubles[recipe]), err=True)
            worst = max(worst, doubles[recipe].exit_code)
            continue
        try:
            examined = look(recipe)
            for warning in examined.warnings:
                click.echo(said(warning.line), err=True)
            worst = max(worst, work(examined))
        except RimfoldError as error:
            if debugging():
                raise
            click.echo(told(error), err=True)
            worst = max(worst, error.exit_code)
    return worst


def same_names(recipes: Sequence[Path]) -> dict[Path, UsageError]:
    """Recipes whose documents would go to the folder of another of them, and what is told of each."""
    by_name: dict[str, set[Path]] = {}
    for recipe in recipes:
        by_name.setdefault(recipe.stem.casefold(), set()).add(recipe)
    return {
        recipe: UsageError(
            message(
                "{recipe}: another recipe of this call is also called {name}, and both would go to "
                "one folder",
                recipe=str(recipe),
                name=recipe.stem,
            ),
            message("rename one of them, or make them one by one into different --out folders"),
        )
        for same in by_name.values()
        if len(same) > 1
        for recipe in same
    }


def debugging() -> bool:
    """Whether whoever called wants to see where in the program an error arose."""
    return bool(click.get_current_context().find_root().params.get("debug"))
