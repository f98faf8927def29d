"""What a recipe says of kits: how many boxes of each size, what is printed on them, panels that come cut."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Literal, Self

from pydantic import AfterValidator, BeforeValidator, Field, WithJsonSchema, model_validator

from generator.base.message import Number, message
from generator.base.units import plain_number
from generator.recipe import beside, values
from generator.recipe.fields import (
    Length,
    LengthOrZero,
    Line,
    LongLine,
    PartName,
    SizeName,
    count_schema,
    file_schema,
)
from generator.recipe.section import Section
from generator.recipe.values import ValueFault

MOST_BOXES = 5000
MOST_SPARES = 50
MOST_CAUTIONS = 12
"""More cautions than these nobody reads."""

Boxes = Annotated[int, BeforeValidator(values.count(0, MOST_BOXES)), count_schema(0, MOST_BOXES)]
"""How many boxes."""

Spares = Annotated[int, BeforeValidator(values.count(0, MOST_SPARES)), count_schema(0, MOST_SPARES)]
"""How many extra pieces in each box."""

Cautions = Annotated[
    tuple[LongLine, ...],
    BeforeValidator(values.lines(MOST_CAUTIONS)),
    WithJsonSchema(
        {
            "type": "array",
            "maxItems": MOST_CAUTIONS,
            "items": {"type": ["string", "number"], "maxLength": 200},
        }
    ),
]
"""Sentences, one an entry."""

KitLink = Annotated[
    str,
    BeforeValidator(values.secure_link),
    WithJsonSchema({"type": "string", "pattern": "^https://[^\\s]+$", "maxLength": 300}),
]
"""An address for a square code, ``https://`` only."""

Parts = Annotated[
    str,
    BeforeValidator(beside.named_or_beside(message("a list of parts"), "kit")),
    file_schema("kit", "./my-kit.yaml"),
]
"""Name of a list of parts in ``recipes/stock``, or a path beside the recipe."""


def _counted(count: Mapping[str, int]) -> Mapping[str, int]:
    if not any(count.values()):
        raise ValueFault(
            message("no box is counted"),
            message("how many boxes of one size or more"),
            message("write such as {text}", text="count: {35: 12}"),
        )
    return count


class Limits(Section):
    """How far the ends of a supplied panel may lap at the seam."""

    least: LengthOrZero
    """The shortest overlap that is accepted."""
    most: Length
    """The longest overlap that is accepted."""

    @model_validator(mode="after")
    def _in_order(self) -> Self:
        if self.least > self.most:
            low, high = plain_number(self.least), plain_number(self.most)
            raise ValueFault(
                message(
                    "the least overlap, {least} mm, is more than the most, {most} mm",
                    least=Number(low),
                    most=Number(high),
                ),
                message("the smaller one as least"),
                message("write {text}", text=f"least: {high} mm, most: {low} mm"),
            )
        return self


class Supplied(Section):
    """A panel that comes cut to size, as measured."""

    length: Length
    """Its length, from end to end."""
    height: Length
    """Its height, with its margin strips if it is scored."""
    margin: LengthOrZero | None = None
    """Width of its margin strips; left out: as the margin of the panel says."""


class Kits(Section):
    """Boxes that are packed for sale: how many, with what, and what is printed on them."""

    count: Annotated[dict[SizeName, Boxes], AfterValidator(_counted)]
    """How many boxes of each size; sizes that are left out get none."""
    lot: Line | None = None
    """The lot that these boxes belong to; left out: a line to write it on."""
    link: KitLink | None = None
    """An address printed as a square code, in place of the recipe's link; it is never opened."""
    edition: Line | None = None
    """Edition of what is printed for the box, as its maker counts."""
    format: Literal["booklet", "folded"]
    """booklet: small pages, stitched; folded: one sheet, folded twice."""
    spares: dict[PartName, Spares] = Field(default_factory=dict)
    """Extra pieces of a part in each box, by the part's name."""
    cautions: Cautions = ()
    """Cautions printed besides those that are always there."""
    parts: Parts
    """Which parts a box holds: a name in recipes/stock, or a path beside the recipe."""
    overlap: Limits
    """How far the ends of a supplied panel may lap."""
