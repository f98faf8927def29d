"""A document of one side: what does not fit is left out, in the order that its template states."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from generator.base.errors import NoRoomError
from generator.base.message import Number, message
from generator.sheets.compose import compose
from generator.sheets.document import Document, Subject, kind_for
from generator.sheets.packing import SPARE, Layout

WHOLE = "sheet"
"""Id of the element that holds everything on the side."""
PART = "part-"
"""How the ids of those begin that may have air above them."""
WORTH = 0.05
"""A part whose absence makes the whole lower by less than this stays, mm."""
MOST_AIR = 2.4
"""Most air put above one part, mm."""


def on_one_side(
    kind: str, subject: Subject, heights_of: Callable[[Document], Mapping[str, float]]
) -> Document:
    """The document with as much as has room, and what is left over as air between its parts.

    ``heights_of`` says how high each element with an id is, mm. Raises what ``compose`` raises, and
    NoRoomError where it does not fit and nothing more may be left out.
    """
    template = kind_for(kind, subject.size, subject.form)
    room = template.rooms.first - SPARE
    dropped: frozenset[str] = frozenset()
    heights = heights_of(compose(kind, subject, Layout(dropped=dropped)))
    for part in template.gives_up:
        if heights[WHOLE] <= room:
            break
        without = heights_of(compose(kind, subject, Layout(dropped=dropped | {part})))
        if without[WHOLE] < heights[WHOLE] - WORTH:
            heights, dropped = without, dropped | {part}
    over = heights[WHOLE] - room
    if over > 0:
        raise NoRoomError(
            message(
                "the {kind} of {shade} is {over} too high for one side",
                kind=template.called,
                shade=subject.size.called,
                over=Number(f"{over:.0f} mm"),
            ),
            message("shorten what the technique calls its steps, or print the step sheet"),
        )
    parts = [name for name in heights if name.startswith(PART)]
    air = {part: min(MOST_AIR, -over / len(parts)) for part in parts}
    return compose(kind, subject, Layout(dropped=dropped, air=air))
