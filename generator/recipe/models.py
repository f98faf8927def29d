"""What a recipe may say, one model a section. JSON Schema is made from these models."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, WithJsonSchema

from generator.base.spans import Span
from generator.base.units import parse_length

LENGTH_PATTERN = r"^\s*((\d+\s+)?\d+\s*/\s*\d+|\d+(\.\d+)?)\s*(mm|cm|m|in)\s*$"

Length = Annotated[
    float,
    BeforeValidator(lambda value: parse_length(value) if isinstance(value, str) else value),
    WithJsonSchema(
        {"type": "string", "pattern": LENGTH_PATTERN, "examples": ["250 mm", "35 cm", "11 3/4 in"]}
    ),
]
"""Millimetres, written with a unit."""


class Section(BaseModel):
    """A mapping in a recipe: frozen, no unknown keys."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Repeat(Section):
    """Size of one repeat of the cloth's pattern."""

    around: Length | None = None
    up: Length | None = None


class Covering(Section):
    """The woven fabric."""

    name: str
    width: Length
    direction: Literal["any", "one-way"]
    slack_ends: Length
    slack_edges: Length
    frays: Literal["little", "much"]
    repeat: Repeat | None = None


class Panel(Section):
    """The self-adhesive PVC sheet."""

    thickness: Length
    margin: Length
    overlap: Length
    kiss_cut: bool


class Ring(Section):
    """The two wire rings; struts, recess and hole belong to the fitter ring."""

    wire: Length
    struts: int = Field(ge=2, le=12)
    recess: Length
    spacing: Literal["arc", "angle"]
    first_strut: Length | None = None
    fitter: Literal["top", "bottom"] | None = None
    hole: Length | None = None


class Tape(Section):
    """The double-sided tape."""

    width: Length
    thickness: Length


class Lamp(Section):
    """The lamp that the shade is made for."""

    diameter: Length
    kind: str
    length: Length | None = None
    watts: float | None = None


class Makers(Section):
    """Who makes the shade."""

    people: int = Field(ge=1, le=40)
    hand: Literal["right", "left"]
    ages: tuple[int, int] | None = None
    blades: Literal["adult", "learner"]
    own_cloth: bool


class Seam(Section):
    """How the outside end is finished."""

    finish: Literal["raw", "hem"]
    hem: Length


class Braid(Section):
    """A trim glued on after the tuck."""

    width: Length
    cures: str


class Maker(Section):
    """Name and contact printed on the sheets."""

    name: str
    contact: str | None = None


class SizeRecipe(Section):
    """One size of a recipe: sections merged, house defaults filled in, lengths in mm."""

    model_config = ConfigDict(frozen=True, extra="forbid", arbitrary_types_allowed=True)

    name: str
    """The size's name as written."""
    recipe: str
    """File name without its ending: the folder in ``out/``."""
    title: str
    technique: str
    use: Literal["table", "pendant"]
    outline: str
    dimensions: Mapping[str, float]
    """The outline's own keys: lengths in mm, counts as whole numbers."""
    height: float
    covering: Covering
    panel: Panel
    ring: Ring
    tape: Tape
    lamp: Lamp | None
    makers: Makers
    seam: Seam
    braid: Braid | None
    maker: Maker | None
    link: str | None
    digest: str
    """SHA-256 of the recipe file and the house defaults, hex."""
    spans: Mapping[str, Span] = Field(repr=False)
    """Place of each value by dotted key (``panel.margin``); the size's own place under ``""``.
    A value that comes from the house defaults has the place of its section, or of the size."""
    stated: frozenset[str] = Field(repr=False)
    """Dotted keys that the recipe itself states, not the house defaults."""

    @property
    def fitter_end(self) -> Literal["top", "bottom"]:
        """The end that carries the fitter ring: top on a pendant, bottom on a table lamp, or as stated."""
        return self.ring.fitter or ("top" if self.use == "pendant" else "bottom")

    @property
    def young_learners(self) -> bool:
        """Whether somebody under 14 makes the shade (a threshold of the house)."""
        return self.makers.ages is not None and min(self.makers.ages) < 14

    def span(self, key: str) -> Span:
        """Place of a dotted key, or of the nearest enclosing thing that the file states."""
        while key:
            if key in self.spans:
                return self.spans[key]
            key = key.rpartition(".")[0]
        return self.spans[""]

    def conditions(self) -> dict[str, Any]:
        """Plain values that a technique's conditions may ask for."""
        return {
            "use": self.use,
            "outline": self.outline,
            "kiss_cut": self.panel.kiss_cut,
            "hem": self.seam.finish == "hem",
            "braid": self.braid is not None,
            "frays": self.covering.frays,
            "direction": self.covering.direction,
            "repeat": self.covering.repeat is not None,
            "people": self.makers.people,
            "hand": self.makers.hand,
            "young": self.young_learners,
            "own_cloth": self.makers.own_cloth,
        }
