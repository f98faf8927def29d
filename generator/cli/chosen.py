"""Which sizes of a recipe were asked for."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Protocol, TypeVar

from generator.base.errors import UsageError
from generator.base.message import message

if TYPE_CHECKING:
    from generator.recipe.models import SizeRecipe
    from generator.recipe.read import Recipe


class _OfSize(Protocol):
    @property
    def size(self) -> SizeRecipe: ...


T = TypeVar("T", bound=_OfSize, covariant=True)


class _Works(Protocol[T]):
    """A recipe that was examined, or only measured."""

    @property
    def recipe(self) -> Recipe: ...
    @property
    def works(self) -> tuple[T, ...]: ...


def chosen(examined: _Works[T], sizes: Sequence[str]) -> list[T]:
    """The works of the sizes asked for, or all. Raises UsageError for a size that is not there."""
    wanted = named(examined.recipe.path, [work.size.name for work in examined.works], sizes)
    return [work for work in examined.works if work.size.name in wanted]


def no_size(recipe: Path, name: str, known: Sequence[str]) -> UsageError:
    """That a recipe has no size of this name."""
    return UsageError(
        message(
            "{recipe} has no size {name}; it has {known}",
            recipe=str(recipe),
            name=name,
            known=", ".join(known),
        ),
        message("choose one of them"),
    )


def named(recipe: Path, known: Sequence[str], sizes: Sequence[str]) -> Sequence[str]:
    """The names asked for, or all. Raises UsageError for one that is not there."""
    for name in sizes:
        if name not in known:
            raise no_size(recipe, name, known)
    return sizes or known
