"""The models of a whole file: the top of a recipe, and a size, with the keys of every outline."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Literal

from pydantic import Field, create_model

from generator.base.edition import PaperName, Tone, Units
from generator.base.message import Message, joined, message
from generator.base.outline_keys import OutlineKeys
from generator.recipe.ends import ENDS
from generator.recipe.fields import (
    Languages,
    LengthOrZero,
    Line,
    Link,
    Sides,
    Size,
    SizeName,
    Technique,
    Times,
    Version,
)
from generator.recipe.kits import Kits, Limits, Supplied
from generator.recipe.models import SECTIONS, Repeat, Section, Shift
from generator.recipe.taught_class import Attendee, Costs, OwnCloth, Rest, Table, TaughtClass

TOP_ONLY = ("rimfold", "title", "technique", "times", "link", "kits", "class", "sizes")
"""Keys that stand at the top of a recipe and never in a size."""


INNER: Mapping[str, type[Section]] = {
    "covering.repeat": Repeat,
    "panel.supplied": Supplied,
    "kits.overlap": Limits,
}
"""Sections within a section."""

IN_CLASS: Mapping[str, type[Section]] = {
    "class.people": Attendee,
    "class.people.cloth": OwnCloth,
    "class.people.cloth.repeat": Repeat,
    "class.tables": Table,
    "class.break": Rest,
    "class.costs": Costs,
}
"""Sections within the class; places in its lists are left out."""

SIZE_LIMIT = 200
"""How many sizes a recipe may have."""


@dataclass(frozen=True, eq=False)
class Layers:
    """What may stand at the top of a recipe and in a size. Made once for a set of outlines."""

    top: type[Section]
    size: type[Section]
    end: type[Section]
    outlines: Mapping[str, OutlineKeys]

    @property
    def sections(self) -> Mapping[str, type[Section]]:
        """Every key of a recipe or a size whose value is a mapping, with its model."""
        return {
            **SECTIONS,
            **dict.fromkeys(ENDS, self.end),
            "shift": Shift,
            "kits": Kits,
            "class": TaughtClass,
        }

    def model(self, inside: Sequence[str]) -> type[Section] | None:
        """The model of a section, or of one within a section; None if keys may be anything there."""
        dotted = ".".join(part for part in inside if not part.isdecimal())
        return (
            INNER.get(dotted)
            or IN_CLASS.get(dotted)
            or (self.sections.get(dotted) if len(inside) == 1 else None)
        )

    def keys_in(self, section: str) -> Message:
        """What may stand in a section, in words."""
        model = self.sections.get(section) or self.model(section.split("."))
        if section in ENDS or model is None:
            return message("outline and its dimensions") if model else message("keys")
        return joined(model.model_fields)

    @property
    def dimensions(self) -> frozenset[str]:
        """Every key that some outline uses."""
        return frozenset(key for keys in self.outlines.values() for key in keys.all)


def layers_for(outlines: Mapping[str, OutlineKeys]) -> Layers:
    """The models for a set of outlines."""
    # Each section once, before the models that hold it: each of those would build it again for itself.
    sections: list[type[Section]] = [*SECTIONS.values(), Shift]
    for section in sections:
        section.model_rebuild()
    return _layers(tuple(sorted(outlines.items())))


@lru_cache(maxsize=8)
def _layers(outlines: tuple[tuple[str, OutlineKeys], ...]) -> Layers:
    ring: dict[str, Any] = {
        "outline": (
            Literal[tuple(name for name, _ in outlines)] | None,
            Field(None, description="The shape of the rings."),
        ),
    }
    for name, keys in outlines:
        for key in keys.all:
            kind: Any = Sides if key in keys.counts else LengthOrZero if key in keys.optional else Size
            described = ring[key][1].description + f", {name}" if key in ring else f"Dimension of {name}"
            ring[key] = (kind | None, Field(None, description=described))
    end = create_model("EndLayer", __base__=Section, __doc__="The ring at one end.", **ring)
    shared: dict[str, Any] = {
        "use": (
            Literal["table", "pendant"] | None,
            Field(None, description="What the shade stands or hangs on."),
        ),
        "paper": (
            PaperName | None,
            Field(None, description="Paper of the documents."),
        ),
        "languages": (
            Languages | None,
            Field(None, description="Languages of the documents, by code."),
        ),
        "units": (
            Units | None,
            Field(
                None,
                description="metric: mm; inch: inches with mm beside; both: mm with inches beside.",
            ),
        ),
        "tone": (
            Tone | None,
            Field(None, description="plain, or young: short words for young learners."),
        ),
        **ring,
        "bottom": (end | None, Field(None, description="The lower ring of a tapered shade.")),
        "top": (end | None, Field(None, description="The upper ring of a tapered shade.")),
        "height": (Size | None, Field(None, description="Finished height, straight up.")),
        "slant": (
            Size | None,
            Field(None, description="Height of a tapered shade along the sheet, in place of height."),
        ),
        "shift": (
            Shift | None,
            Field(None, description="How far the top ring stands away from straight above the bottom ring."),
        ),
    }
    for name, section in SECTIONS.items():
        shared[name] = (section | None, Field(None, description=(section.__doc__ or "").strip()))
    size = create_model("SizeLayer", __base__=Section, __doc__="One size.", **shared)
    top: dict[str, Any] = {
        "rimfold": (Version, Field(description="Version of the format.")),
        "title": (Line, Field(description="The shade's name on the sheets.")),
        "technique": (Technique | None, Field(None, description="How the shade is made.")),
        "times": (Times | None, Field(None, description="Actual times that the minutes are taken from.")),
        "link": (Link | None, Field(None, description="An address printed on the sheets.")),
        **shared,
        "kits": (Kits | None, Field(None, description=(Kits.__doc__ or "").strip())),
        "class": (TaughtClass | None, Field(None, description=(TaughtClass.__doc__ or "").strip())),
        "sizes": (
            dict[SizeName, size],
            Field(description="Sizes by name.", min_length=1, max_length=SIZE_LIMIT),
        ),
    }
    return Layers(
        create_model("TopLayer", __base__=Section, __doc__="A recipe.", **top), size, end, dict(outlines)
    )
