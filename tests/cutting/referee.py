"""A referee of layouts that knows nothing of how they were made: it cuts paper with what the plan says."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from functools import cache
from itertools import product

import pytest

from generator.cutting.model import Cut, Layout, Piece

Rect = tuple[float, float, float, float]
"""Left, upper, right and lower edge: x along the cloth, y across it."""
NEAR = 1e-6


def rects(layout: Layout) -> list[Rect]:
    """Pieces and offcuts as edges."""
    areas = [placed.area for placed in layout.placed] + list(layout.offcuts)
    return [(a.x, a.y, a.x + a.along, a.y + a.across) for a in areas]


def overlaps(first: Rect, second: Rect) -> bool:
    """Whether two rectangles share more than an edge."""
    return (
        min(first[2], second[2]) - max(first[0], second[0]) > NEAR
        and min(first[3], second[3]) - max(first[1], second[1]) > NEAR
    )


def separable(parts: Sequence[Rect]) -> bool:
    """Whether straight cuts from edge to edge part all rectangles: some line crosses none, and so on."""
    if len(parts) < 2:
        return True
    for low, high in ((0, 2), (1, 3)):
        for edge in {part[high] for part in parts}:
            before = [part for part in parts if part[high] <= edge + NEAR]
            after = [part for part in parts if part[low] >= edge - NEAR]
            if before and after and len(before) + len(after) == len(parts):
                return separable(before) and separable(after)
    return False


def sheets_after_cutting(layout: Layout) -> list[Rect]:
    """Cut a sheet as the plan says, cut by cut; AssertionError where a cut is not from edge to edge."""
    sheets: list[Rect] = [(0.0, 0.0, layout.length, layout.width)]
    for number, cut in enumerate(layout.cuts, 1):
        assert cut.number == number
        (x0, y0), (x1, y1) = cut.start, cut.end
        upright = abs(x0 - x1) < NEAR
        for place, (left, top, right, bottom) in enumerate(sheets):
            if upright and left + NEAR < x0 < right - NEAR and _same((y0, y1), (top, bottom)):
                sheets[place : place + 1] = [(left, top, x0, bottom), (x0, top, right, bottom)]
                assert abs(cut.distance - (x0 - left)) < NEAR
                _check_gives(layout, cut, sheets[place])
                break
            if not upright and top + NEAR < y0 < bottom - NEAR and _same((x0, x1), (left, right)):
                sheets[place : place + 1] = [(left, top, right, y0), (left, y0, right, bottom)]
                assert abs(cut.distance - (y0 - top)) < NEAR
                _check_gives(layout, cut, sheets[place])
                break
        else:
            raise AssertionError(f"cut {number} from {cut.start} to {cut.end} does not part any sheet")
    return sheets


def _check_gives(layout: Layout, cut: Cut, near: Rect) -> None:
    """A cut that gives a piece has that piece's corner and sides before it, or a piece that wants a trim."""
    if cut.gives is not None:
        corner = (near[0], near[1])
        piece = next(p for p in layout.placed if (p.area.x, p.area.y) == pytest.approx(corner))
        assert piece.name == cut.gives
        assert piece.area.along <= near[2] - near[0] + NEAR
        assert piece.area.across <= near[3] - near[1] + NEAR


def _same(ends: tuple[float, float], edges: tuple[float, float]) -> bool:
    return abs(min(ends) - edges[0]) < NEAR and abs(max(ends) - edges[1]) < NEAR


def counted(layout: Layout) -> Counter[tuple[str, float, float]]:
    """How often each piece lies there, told by its name and its own sides."""
    sides = (
        (p.area.along, p.area.across) if p.turned else (p.area.across, p.area.along) for p in layout.placed
    )
    return Counter(
        (placed.name, round(length, 2), round(width, 2))
        for placed, (length, width) in zip(layout.placed, sides, strict=True)
    )


def wanted(pieces: Sequence[Piece]) -> Counter[tuple[str, float, float]]:
    """How often each piece should lie there."""
    return Counter({(p.name, p.length, p.width): p.count for p in pieces if p.count})


def shortest_by_trying(pieces: Sequence[Piece], width: int, turn: bool) -> int:
    """The shortest length in whole mm, every whole-mm cut of every sheet tried. Small numbers only."""
    sides = [
        {(int(p.length), int(p.width))} | ({(int(p.width), int(p.length))} if turn else set()) for p in pieces
    ]

    @cache
    def possible(across: int, along: int, counts: tuple[int, ...]) -> bool:
        total = sum(counts)
        if total == 0:
            return True
        if total == 1:
            kind = counts.index(1)
            return any(a <= across and b <= along for a, b in sides[kind])
        for part in product(*(range(count + 1) for count in counts)):
            rest = tuple(count - taken for count, taken in zip(counts, part, strict=True))
            if not 0 < sum(part) < total:
                continue
            for at in range(1, across):
                if possible(at, along, part) and possible(across - at, along, rest):
                    return True
            for at in range(1, along):
                if possible(across, at, part) and possible(across, along - at, rest):
                    return True
        return False

    counts = tuple(p.count for p in pieces)
    length = 1
    while not possible(width, length, counts):
        length += 1
        assert length < 200, "no length will do"
    return length
