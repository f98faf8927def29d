"""Enlarged details: a circle with what happens at a place, the same letter at both."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from shapely import Polygon

from generator.figures.callouts import within
from generator.figures.canvas import Canvas, Point, circle
from generator.figures.lettering import text_width
from generator.figures.pens import EM, INK, NEW, WHITE
from generator.figures.plane import arc, distance
from generator.figures.stamps import stamped

LETTER = 2.5
"""Radius of the ring round a letter, mm."""


@contextmanager
def inset(canvas: Canvas, centre: Point, radius: float) -> Iterator[Polygon]:
    """A white circle; what is drawn inside is clipped to it, its rim is drawn last. Yields the circle."""
    region = circle(centre, radius)
    with canvas.enlarged():
        with canvas.group("detail", "detail"):
            canvas.area(region, WHITE)
        with canvas.clip(region):
            yield region
        with canvas.group("detail", "detail-rim"):
            canvas.area(region, None, NEW)


@stamped
def letter(canvas: Canvas, centre: Point, text: str) -> None:
    """A letter in a ring: the detail's name, at the place and at the detail."""
    canvas.blocked.append(circle(centre, LETTER + 0.3))
    with canvas.group("label", f"letter-{text}"):
        canvas.circle(centre, LETTER, WHITE, NEW)
        canvas.letters((centre[0], centre[1] + 0.33 * EM), text, weight=700, fill=INK, anchor="middle")


@stamped
def link(
    canvas: Canvas,
    place: Point,
    place_radius: float,
    centre: Point,
    radius: float,
    text: str,
    *,
    at_place: float = 135.0,
    at_detail: float = 45.0,
) -> None:
    """Mark a place with a circle; name it and its detail by one letter, on their rims at these degrees.

    Where the two letters would touch, that of the place goes on round its circle until they stand apart.
    """
    with canvas.group("detail", "detail-place"):
        canvas.circle(place, place_radius, None, NEW)
    of_detail = arc(centre, radius, at_detail, at_detail, 1)[0]
    turns = sorted(range(-180, 181, 15), key=lambda turn: (abs(turn), turn))
    spots = (arc(place, place_radius + 2.2, at_place + turn, at_place + turn, 1)[0] for turn in turns)
    of_place = next((spot for spot in spots if distance(spot, of_detail) >= 2 * LETTER + 0.7), None)
    letter(canvas, of_place or arc(place, place_radius + 2.2, at_place, at_place, 1)[0], text)
    letter(canvas, of_detail, text)


@stamped
def caption(canvas: Canvas, at: Point, text: str, anchor: str = "middle") -> None:
    """A few words under a detail or a view: from above, cut through."""
    with canvas.group("label", "caption"):
        wide = text_width(text, EM)
        start = within(canvas, at[0] - (wide / 2 if anchor == "middle" else 0.0), wide)
        canvas.letters((start, at[1]), text)
