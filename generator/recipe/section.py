"""The base of every section's model."""

from __future__ import annotations

import os

# Else pydantic looks through all that is installed for plug-ins, and loads what it finds. We have none, want
# none, and the looking takes a fifth as long as pydantic itself. Whoever has set it otherwise is left alone.
os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")

from pydantic import BaseModel, ConfigDict


class Section(BaseModel):
    """A mapping in a recipe: frozen, no unknown keys.

    Its validator is built when it is first used, since most recipes have few of the sections. What stands
    below a key in the source describes it in the schema (``described.py``).
    """

    model_config = ConfigDict(frozen=True, extra="forbid", defer_build=True)
