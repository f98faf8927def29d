"""The base of every section's model."""

from __future__ import annotations

from pydantic import BaseModel, ConfigDict

from generator.base.lighter import without_plugins

without_plugins()


class Section(BaseModel):
    """A mapping in a recipe: frozen, no unknown keys.

    Its validator is built when it is first used, since most recipes have few of the sections. What stands
    below a key in the source describes it in the schema (``described.py``).
    """

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)
