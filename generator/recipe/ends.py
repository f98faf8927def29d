"""The ends of a tapered shade, as a size gives them to the rooms behind."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

ENDS = ("bottom", "top")
"""Keys of the ends of a shade."""


@dataclass(frozen=True, slots=True)
class End:
    """The ring at one end of a tapered shade, measured outside the wire."""

    outline: str
    dimensions: Mapping[str, float]
    """The outline's own keys: lengths in mm, counts as whole numbers."""


@dataclass(frozen=True, slots=True)
class Ends:
    """Both ends of a tapered shade."""

    bottom: End
    top: End
    slant: float | None = None
    """Distance of the ends along the sheet, mm; None if the recipe gives the height."""
    shift: tuple[float, float] = (0.0, 0.0)
    """How far the top ring stands away from straight above the bottom ring, x and y, mm."""

    def at(self, end: Literal["bottom", "top"]) -> End:
        """The ring of one end."""
        return self.bottom if end == "bottom" else self.top
