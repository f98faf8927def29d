"""Which sizes of a recipe were asked for."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from generator.base.errors import UsageError

if TYPE_CHECKING:
    from generator.examine import Examined
    from generator.plan.work import Work


def chosen(examined: Examined, sizes: Sequence[str]) -> list[Work]:
    """The works of the sizes asked for, or all. Raises UsageError for a size that is not there."""
    wanted = named(examined.recipe.path, [work.size.name for work in examined.works], sizes)
    return [work for work in examined.works if work.size.name in wanted]


def named(recipe: Path, known: Sequence[str], sizes: Sequence[str]) -> Sequence[str]:
    """The names asked for, or all. Raises UsageError for one that is not there."""
    for name in sizes:
        if name not in known:
            have = ", ".join(known)
            raise UsageError(f"{recipe} has no size {name}; it has {have}; choose one of them")
    return sizes or known
