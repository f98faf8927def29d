"""The keys that an outline takes from a recipe, told to the recipe room without importing shapes."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class OutlineKeys:
    """Names of an outline's dimensions in a recipe.

    ``lengths`` are required lengths, ``counts`` required whole numbers,
    ``optional`` lengths that are 0 if they are left out.
    """

    lengths: tuple[str, ...]
    counts: tuple[str, ...] = ()
    optional: tuple[str, ...] = ()

    @property
    def all(self) -> tuple[str, ...]:
        """Every key, in the order in which a person writes them."""
        return self.counts + self.lengths + self.optional
