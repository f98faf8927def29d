"""Numbers, letters of a sequence and ruled boxes: they keep their size and stand near their place."""

from __future__ import annotations

import math

import numpy as np

from generator.figures.canvas import Letters, Point
from generator.figures.small.carry import Move
from generator.figures.small.pieces import Thing
from generator.figures.small.room import Room

REACH, LETTER_REACH = 6.0, 4.0
"""A number stands no farther off its wished place, nor the letter of a picture in a row, mm."""
_STEPS = 0.75 * np.arange(-int(REACH / 0.75), int(REACH / 0.75) + 1)
_NEARBY = np.array(
    sorted(((x, y) for x in _STEPS for y in _STEPS), key=lambda p: (round(math.hypot(*p), 6), p))
)


_FAR = _NEARBY * 4.0


def set_sign(room: Room, sign: Thing, move: Move, *, of_detail: bool, at: Point | None = None) -> bool:
    """A sign of fixed size near its place, off words, arrows and hands, off lines if it can be.

    A ruled box may stand anywhere. ``at`` is another place than the sign's own, in the figure's mm.
    """
    start = sign.stamp.given["centre"] if sign.stamp is not None else sign.centre
    wished, bounds = move(at or start), np.array(sign.bounds)
    # Only a disc has a ground of its own.
    bare = all(isinstance(item, Letters) for item in sign.items)
    nearby = _NEARBY if bare or sign.stamp is not None else _FAR
    shifts = np.array([wished[0] - start[0], wished[1] - start[1]]) + nearby
    places = bounds + np.concatenate([shifts, shifts], axis=1)
    # A leader is drawn over a sign, and would cross it out.
    free = room.free(places, 0.3, zone=not of_detail) & (room.field.count("led", places) == 0)
    if bare:
        free &= np.hypot(nearby[:, 0], nearby[:, 1]) <= LETTER_REACH
    ink = room.field.count("ink", places)
    if bare:
        free &= ink == 0
    # A disc may lie over a line of the scene, a box hides too much.
    cost = np.hypot(nearby[:, 0], nearby[:, 1]) + (0.05 if sign.stamp is not None else 2.0) * ink
    cost = np.where(free, np.round(cost, 6), np.inf)
    best = int(cost.argmin())
    if not free[best]:
        return False
    dx, dy = shifts[best].tolist()
    room.signs.append((sign, dx, dy))
    room.field.sign(tuple(places[best].tolist()))
    return True
