"""What a size says, as one hash: where it stands in the recipe, and what other sizes say, do not matter."""

from __future__ import annotations

import json
from collections.abc import Mapping
from hashlib import sha256
from typing import Any

from pydantic import BaseModel

from generator.recipe.models import SizeRecipe

_PLACES = {"spans", "digest"}
"""Of the file, not of the shade."""


def content_digest(size: SizeRecipe, *, kits: bool, taught: bool) -> str:
    """SHA-256 over all that a size says, hex: the same as long as its shade is the same.

    ``kits``: how many boxes of each size are packed counts too. ``taught``: the class does.
    """
    said = {name: getattr(size, name) for name in type(size).model_fields if name not in _PLACES}
    if not taught:
        said["taught"] = None
    if not kits and size.kits:
        said["kits"] = size.kits.model_copy(update={"count": {}})
    return sha256(json.dumps(plain_of(said), sort_keys=True).encode()).hexdigest()


def plain_of(value: Any) -> Any:
    """A value as JSON knows it, the same for equal values."""
    if isinstance(value, BaseModel):
        return {name: plain_of(getattr(value, name)) for name in type(value).model_fields if name != "spans"}
    if isinstance(value, Mapping):
        return {str(key): plain_of(inner) for key, inner in value.items()}
    if isinstance(value, (set, frozenset)):
        return sorted(map(str, value))
    if isinstance(value, (list, tuple)):
        return [plain_of(inner) for inner in value]
    if value is None or isinstance(value, (str, int, float)):
        return value
    # A value of a type of its own (a length with its unit, say) tells itself in full.
    return repr(value)
