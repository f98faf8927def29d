"""A document of one side: what does not fit is left out, in the order that its template states."""

from __future__ import annotations

from collections.abc import Callable

from generator.base.errors import PressError
from generator.sheets.compose import compose
from generator.sheets.document import Document, Subject, document_kind
from generator.sheets.packing import SPARE, Layout

WHOLE = "sheet"
"""Id of the element that holds everything on the side."""
WORTH = 0.05
"""A part whose absence makes the whole lower by less than this stays, mm."""


def on_one_side(kind: str, subject: Subject, height_of: Callable[[Document], float]) -> Document:
    """The document with as much as has room. ``height_of`` says how high its whole is, mm.

    Raises what ``compose`` raises, and PressError where nothing more may be left out.
    """
    template = document_kind(kind)
    room = template.rooms.first - SPARE
    dropped: frozenset[str] = frozenset()
    document = compose(kind, subject, Layout(dropped=dropped))
    height = height_of(document)
    for part in template.gives_up:
        if height <= room:
            break
        without = compose(kind, subject, Layout(dropped=dropped | {part}))
        lower = height_of(without)
        if lower < height - WORTH:
            document, height, dropped = without, lower, dropped | {part}
    if height <= room:
        return document
    raise PressError(
        f"the {kind} of {subject.size.title} {subject.size.name} is {height - room:.0f} mm too high for one side: it has "
        f"{len(subject.plan.steps)} steps; shorten what they are called, or print the step sheet"
    )
