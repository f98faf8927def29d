"""An enlarged detail tied to its place: by both tangents, or by letters where these cross hands or words."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from shapely import LineString

from generator.figures.canvas import Canvas, Point
from generator.figures.insets import LETTER, letter
from generator.figures.pens import NEW, THIN
from generator.figures.small.arrange import Placed, ring_at
from generator.figures.small.pieces import middle
from generator.figures.small.room import Room

CLEAR = 0.45
"""Nothing else stands nearer to a tangent, mm."""


MOST = 9
"""Tangents that would cross more lines of the scene than this give way to letters."""


@dataclass(frozen=True)
class Tie:
    """What is drawn to tie one detail to its place."""

    name: str
    ring: tuple[Point, float] | None
    lines: tuple[LineString, ...] = ()
    letters: tuple[Point, ...] = ()

    def draw(self, canvas: Canvas) -> None:
        """Draw it over the scene and the detail."""
        if self.ring is not None:
            with canvas.group("detail", "detail-place"):
                canvas.circle(*self.ring, None, NEW)
        if self.lines:
            with canvas.group("detail", "detail-link"):
                for line in self.lines:
                    canvas.line(line, THIN)
        for at in self.letters:
            letter(canvas, at, self.name)


def tie(room: Room, placed: Sequence[Placed]) -> list[Tie]:
    """Tie every detail that has its place in the scene beside it; the room is taken."""
    scene = next((one for one in placed if one.piece.circle is None), None)
    found = []
    for one in placed:
        if scene is None or one.piece.circle is None or one.piece.place is None:
            continue
        (place, radius), (centre, size) = one.piece.place, middle(one.piece)
        at, to, big = scene.move(place), one.move(centre), size * one.move.scale
        ring = ring_at(radius, scene.move.scale) if radius else 0.0
        lines = tuple(tangents(at, ring, to, big)) if ring else ()
        clear = lines and all(_open(room, line) for line in lines)
        if clear and sum(_crossed(room, line) for line in lines) <= MOST:
            for line in lines:
                room.field.draw(
                    [line, line.parallel_offset(CLEAR, "left"), line.parallel_offset(CLEAR, "right")], "hard"
                )
            found.append(Tie(one.piece.name, (at, ring), lines))
        else:
            letters = tuple(_letters(room, (at, ring), (to, big)))
            found.append(Tie(one.piece.name, (at, ring) if ring else None, letters=letters))
        if ring:
            room.field.blocks.append((at[0] - ring, at[1] - ring, at[0] + ring, at[1] + ring))
    return found


def _crossed(room: Room, line: LineString) -> int:
    """How many lines of the scene a tangent crosses."""
    along = np.linspace(0.08, 0.95, 160)[:, None]
    start, end = (np.array(point) for point in line.coords)
    inked = room.field.at("ink", start + along * (end - start))
    return int((inked[1:] & ~inked[:-1]).sum())


def _open(room: Room, line: LineString) -> bool:
    """Whether a tangent crosses neither hand, arrow nor word; its ends touch what they tie."""
    along = np.linspace(0.06, 0.97, 80)[:, None]
    start, end = (np.array(point) for point in line.coords)
    return not bool(room.field.stopped(start + along * (end - start)).any())


def _letters(room: Room, *circles: tuple[Point, float]) -> Iterator[Point]:
    """A place for the letter at each circle, on the rim of a large one, just off a small one."""
    turns = np.radians(np.arange(0.0, 360.0, 15.0))
    for (x, y), radius in circles:
        # A place without a ring is where a letter stands alone: there, or as near as can be.
        aways = (
            [radius] if radius > 2 * LETTER else [radius + LETTER - 0.2] if radius else [0.0, 2.0, 4.0, 6.0]
        )
        away = np.repeat(aways, len(turns))
        turn = np.tile(turns, len(aways))
        spots = np.stack([x + away * np.cos(turn), y - away * np.sin(turn)], axis=1)
        half = LETTER + 0.25
        places = np.concatenate([spots - half, spots + half], axis=1)
        cost = _covered(room, places, 0.2) + 0.01 * np.abs(np.degrees(turn) - 135.0)
        if not radius:
            cost += 3.0 * away
        best = int(np.round(cost, 6).argmin())
        room.field.blocks.append(tuple(places[best].tolist()))
        yield float(spots[best, 0]), float(spots[best, 1])


def _covered(room: Room, places: Any, weight: float) -> Any:
    """What a letter would cover: lines a little, hands and arrows much, and never beyond the edge."""
    return (
        weight * room.field.count("ink", places)
        + 1.0 * room.field.count("hard", places)
        + 100.0 * room.field.boxed(places)
        + 1000.0 * ~room.on_paper(places)
    )


def tangents(a: Point, ra: float, b: Point, rb: float) -> Iterator[LineString]:
    """Both outer tangents of two circles, between the points where they touch."""
    along = math.atan2(b[1] - a[1], b[0] - a[0])
    turn = math.acos(max(-1.0, min(1.0, (ra - rb) / math.dist(a, b))))
    for sign in (1.0, -1.0):
        c, s = math.cos(along + sign * turn), math.sin(along + sign * turn)
        yield LineString([(a[0] + ra * c, a[1] + ra * s), (b[0] + rb * c, b[1] + rb * s)])
