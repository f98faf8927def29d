"""The base of every section's model."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict


class Section(BaseModel):
    """A mapping in a recipe: frozen, no unknown keys."""

    model_config = ConfigDict(frozen=True, extra="forbid", use_attribute_docstrings=True)
