"""What an outline says of itself in words, for a measure's formula."""

from __future__ import annotations

from dataclasses import dataclass

MENSURATION = "elementary mensuration (Machinery's Handbook, mensuration, from memory)"
MINKOWSKI = "perimeters of polygon and disc add (Schneider, Convex Bodies, section 1.7, from memory)"
ELLIPTIC = "DLMF 19.30(i), with Carlson's integrals, DLMF 19.25(i) and 19.36(i)"


@dataclass(frozen=True, slots=True)
class OutlineFacts:
    """Formulas of one outline with its numbers filled in."""

    perimeter: str
    """The perimeter's formula."""
    source: str
    """Where that formula comes from."""
    seam_mark: float | None = None
    """Distance of the seam mark from a neighbouring side or corner, mm; None: from the nearest strut."""
    seam_mark_from: str = "the nearest strut"
    """What the seam mark is measured from."""
    seam_mark_formula: str = ""
    """Formula of that distance."""
