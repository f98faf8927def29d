"""Descriptions of keys in the schema are those that pydantic itself reads below them."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict, Field

from generator.examine import outlines
from generator.recipe.described import _texts
from generator.recipe.kits import Kits
from generator.recipe.schema import json_schema
from generator.recipe.section import Section


class Ours(Section):
    """A section."""

    first: int
    """The first,
    in two lines."""
    second: int = 2
    third: int = Field(3, description="Said otherwise.")
    """Not asked."""


class Theirs(BaseModel):
    """A section."""

    model_config = ConfigDict(use_attribute_docstrings=True)

    first: int
    """The first,
    in two lines."""
    second: int = 2
    third: int = Field(3, description="Said otherwise.")
    """Not asked."""


def test_texts_below_keys_are_read_as_pydantic_reads_them() -> None:
    theirs = {name: info.description for name, info in Theirs.model_fields.items()}
    assert theirs["first"] == _texts(Ours)["first"]
    assert "second" not in _texts(Ours)
    assert theirs["second"] is None


def test_a_model_that_was_used_before_the_schema_was_asked_for_is_described_too() -> None:
    Kits.model_fields["count"].description = None
    Kits.model_rebuild(force=True)
    counted = json_schema(outlines())["$defs"]["Kits"]["properties"]["count"]
    assert counted["description"] == _texts(Kits)["count"]
