"""The repeat of a cloth's pattern: of the recipe's cloth, and of a cloth that somebody brings to a class."""

from __future__ import annotations

from typing import Self

from pydantic import model_validator

from generator.base.message import message
from generator.recipe.fields import Length
from generator.recipe.section import Section
from generator.recipe.values import ValueFault


class Repeat(Section):
    """Size of one repeat of the cloth's pattern."""

    around: Length | None = None
    """Repeat along the way round the shade."""
    up: Length | None = None
    """Repeat from bottom to top of the shade."""

    @model_validator(mode="after")
    def _says_something(self) -> Self:
        if not self.model_fields_set:
            raise ValueFault(
                message("the repeat says nothing"),
                message("around, up or both"),
                message("write such as around: 40 mm"),
            )
        return self
