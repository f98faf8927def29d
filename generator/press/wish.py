"""What a proof asks of a page."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Wish:
    """Limits of one document. The defaults are those of a page for the hand."""

    edge: float = 5.0
    """Least distance of ink from the sheet's edge, mm: what a common printer leaves unprinted."""
    least_size: float = 8.0
    """Least size of any lettering, points."""
    numbers: frozenset[str] | None = None
    """Every number that may stand on a page, as printed; a text such as an edition line may be given whole.
    ``None``: not asked."""
    bar: float | None = None
    """Length of the bar that stands on each page of a full-scale document, mm; it is printed unscaled.
    ``None``: pages may be scaled."""
    inch_bar: float | None = None
    """Length of a second one for a rule in inches, mm. ``None``: there is none."""
    print_sheets: bool = False
    """Pages stand on sheets for a printer, to be cut or folded: without tags, and with marks at the edge."""
