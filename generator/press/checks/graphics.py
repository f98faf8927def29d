"""What carries meaning in a picture is seen, in colour and in grey (WCAG 2.2, 1.4.11).

Each line that is drawn in a picture must stand out from what is beside it, on one of its sides at least: the
edge of a part has the part on one side and its ground on the other. A tint may be pale, and most are on
purpose, if there is a line round it that stands out; a tint without one must stand out by itself. White takes
away what is beneath it, round a letter or behind a part, and is no graphic of its own. Borders of tables and
boxes are no part of a picture.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from itertools import islice
from typing import TYPE_CHECKING

from generator.base.errors import PageFault
from generator.base.message import Number, message
from generator.press.advice import REPORT
from generator.press.contrast import GRAPHICS, GREY, LINEAR, LUMINANCE, contrast, grey_of, over
from generator.press.geometry import MM_PER_POINT
from generator.press.layers import PAPER, Layer, layer_of, seen_at
from generator.press.sheet import Colour, Sheet
from generator.press.wish import Wish

if TYPE_CHECKING:
    from generator.press.layers import Array

ON_PRINT_SHEETS = False
"""Without tags nobody knows what is a picture; their pages are those of the file to read."""

_BESIDE = (0.15, 0.45, 0.75)
"""How far from a line its ground is looked at, mm: next to it, and beyond a line that runs along it."""
_ACROSS = (-0.5, -0.3, -0.1, 0.1, 0.3, 0.5)
"""Where an outline of a tint is looked for, mm from its edge outwards: nearer to each other than the finest
line is wide."""
_EACH, _MOST, _LEAST = 2.0, 10, 3
"""A line is looked at once in so many mm, so often at most and at least."""
_SHARE = 0.35
"""Share of what is seen of a line from which it is too faint: another line that crosses it is less."""
_OPEN = 0.9
"""Share of the edge of a tint: where a part is broken off its tint ends without a line."""
_SHADOW = 1.3
"""A tint that is paler on its ground than this is a shadow or the bench, and carries no meaning."""
_SHORT = 2.0
"""Of a line that is mostly covered, so much must be seen to be judged, mm."""
_PLACES = 2
"""And at so many of the places that are looked at: one alone does not tell that so much is seen."""
_GROUND = 2.0
"""A fill is the ground of a line, and a tint needs an edge, if it is no narrower than this, mm."""
_MOST_PROBES = 200
"""So many doubtful lines and tints of a page are looked at; our own have some forty."""
_SAME = 1.02
"""Colours of less contrast are one colour: rounding."""


def find(sheet: Sheet, wish: Wish) -> Iterator[PageFault]:
    """Lines of pictures that are too faint, and pale tints without an edge that is seen: each colour once.

    Most are settled by their own colour: dark on paper, and nothing dark near.
    """
    pictures = sheet.reading.pictures
    if not pictures:
        return
    import numpy as np

    layers = [layer for thing in sheet.things if not thing.is_text and (layer := layer_of(thing))]
    probes = list(islice(_probes(layers, pictures), _MOST_PROBES))
    if not probes:
        return
    seen = seen_at(np.concatenate([probe.points.reshape(-1, 2) for probe in probes]), layers)
    told: set[object] = set()
    start = 0
    for probe in probes:
        places, across, _ = probe.points.shape
        part = slice(start, start + places * across)
        start = part.stop
        value = _faint(
            probe,
            seen.colours[part].reshape(places, across, 3),
            seen.top[part].reshape(places, across),
            seen.by_stroke[part].reshape(places, across),
        )
        if value is not None and (probe.colour, probe.stroke) not in told:
            told.add((probe.colour, probe.stroke))
            ratios = {"value": Number(f"{value:.2f}"), "needed": Number(f"{GRAPHICS:g}")}
            wrong = (
                message(
                    "a line of a picture stands out too little: {value} to 1, the least is {needed} to 1",
                    **ratios,
                )
                if probe.stroke
                else message(
                    "a tint of a picture has no edge that is seen, and stands out too little: {value} to 1, "
                    "the least is {needed} to 1",
                    **ratios,
                )
            )
            yield sheet.fault(wrong, REPORT, probe.layer.box)


@dataclass(frozen=True, slots=True, eq=False)
class _Probe:
    """Where a line, or the edge of a tint, is looked at."""

    layer: Layer
    stroke: bool
    colour: Colour
    points: Array
    """For each place along it those across it, x and y."""
    apart: float
    """From one place to the next, mm."""


def _probes(layers: list[Layer], pictures: frozenset[int]) -> Iterator[_Probe]:
    """What nobody can tell by its colour alone."""
    grounds: dict[Colour, list[Layer]] = defaultdict(list)
    for layer in layers:
        if layer.fill and min(layer.size) >= _GROUND / MM_PER_POINT:
            grounds[layer.fill].append(layer)
    for layer in layers:
        if layer.thing.mark not in pictures:
            continue
        stroke = layer.stroke is not None
        colour = layer.stroke or layer.fill
        assert colour is not None
        if _apart(colour, PAPER) < (_SAME if stroke else _SHADOW):
            continue
        pale = _apart(colour, PAPER) < GRAPHICS
        # What has the colour of its ground is a piece of it.
        alike = [] if pale else [fill for fill in grounds if _SAME <= _apart(colour, fill) < GRAPHICS]
        near = [each for fill in alike for each in grounds[fill] if _may_hide(each, layer)]
        if not pale and not near:
            continue
        half = layer.width / 2 * MM_PER_POINT
        beside = [side * (half + far) for far in _BESIDE for side in (-1, 1)]
        points, apart = _across(layer.edges, [0.0, *beside] if stroke else _ACROSS)
        if len(points) and (pale or any(_hides(each, points) for each in near)):
            yield _Probe(layer, stroke, colour, points, apart)


def _may_hide(ground: Layer, layer: Layer) -> bool:
    """Whether a ground may lie under so much of a line that this one could be lost on it, by their boxes."""
    one, two = layer.box, ground.box
    wide = min(one.right, two.right) - max(one.left, two.left)
    high = min(one.top, two.top) - max(one.bottom, two.bottom)
    return wide >= 0 and high >= 0 and wide + high > _SHARE * sum(layer.size)


def _hides(ground: Layer, points: Array) -> bool:
    """Whether it does: places along the line are the middles of those across it."""
    covered, _ = ground.covers(*points.mean(1).T)
    return bool(covered.mean() > _SHARE)


@cache
def _apart(one: Colour, two: Colour) -> float:
    """Contrast of a colour with the one that it is painted on, the lesser of those in colour and in grey."""
    seen, ground = over(one[:3], one[3] / 255, two[:3]), two[:3]
    return min(contrast(seen, ground), contrast(grey_of(seen), grey_of(ground)))


def _across(edges: Array, offsets: Sequence[float]) -> tuple[Array, float]:
    """Points across a line at places along it, and how far these are apart, mm."""
    import numpy as np

    if not len(edges):
        return np.zeros((0, len(offsets), 2)), 0.0
    start, step = edges[:, :2], edges[:, 2:] - edges[:, :2]
    lengths = np.hypot(*step.T)
    ends = np.cumsum(lengths)
    count = int(np.clip(ends[-1] * MM_PER_POINT / _EACH, _LEAST, _MOST))
    along = (np.arange(count) + 0.5) / count * ends[-1]
    piece = np.searchsorted(ends, along)
    share = 1 - (ends[piece] - along) / lengths[piece]
    spots = start[piece] + share[:, None] * step[piece]
    normal = np.stack([-step[piece, 1], step[piece, 0]], 1) / lengths[piece, None]
    away = np.array(offsets) / MM_PER_POINT
    points: Array = spots[:, None, :] + away[None, :, None] * normal[:, None, :]
    return points, float(ends[-1]) * MM_PER_POINT / count


def _faint(probe: _Probe, colours: Array, top: Array, by_stroke: Array) -> float | None:
    """The contrast of a line or an edge that is too faint on too much of what is seen of it, or None."""
    import numpy as np

    own = (top == probe.layer.thing.order) & (by_stroke == probe.stroke)
    ratios = _ratios(colours)
    # Where the colour of a tint goes on beyond, it has no edge.
    shown = own[:, 0] if probe.stroke else own.any(1) & (ratios >= _SAME)
    if shown.sum() < _PLACES or shown.sum() * probe.apart < _SHORT:
        return None
    low = ratios[shown] < GRAPHICS
    most = _SHARE if probe.stroke else _OPEN
    return float(np.median(ratios[shown][low])) if low.mean() > most else None


def _ratios(colours: Array) -> Array:
    """The greatest contrast across each place, the lesser of those in colour and in grey."""
    import numpy as np

    found: list[Array] = []
    for each in (colours, np.repeat((colours @ np.asarray(GREY))[..., None], 3, -1)):
        light = np.asarray(LINEAR)[np.rint(each).astype(int)] @ np.asarray(LUMINANCE)
        found.append((light.max(1) + 0.05) / (light.min(1) + 0.05))
    return np.minimum(*found)
