"""A shade as a small picture without words: both rims seen from a little above, true in proportion."""

from __future__ import annotations

import math
from collections.abc import Iterable

from generator.figures.model import Job
from generator.figures.silhouette import Setting, site
from generator.figures.view import Point3, bench, fit
from generator.recipe.models import SizeRecipe
from generator.shape.build import build_shade
from generator.shape.development import End
from generator.shape.enclosing import convex_hull
from generator.shape.outline import Flat, Outline, Point
from generator.shape.shade import Shade

TILT = 0.28
"""How much of a ring's depth is seen: the eye is a little above the shade."""
BENT = math.radians(3.0)
"""Between points on a bend of a ring."""
MARGIN = 0.04
"""Empty paper round the drawing, of its breadth."""


_drawn: dict[tuple[str, str], str] = {}
KEPT = 500


def small_picture(size: SizeRecipe) -> str:
    """SVG of a size; its colours are those of the page. Raises GeometryError for a shade that cannot be."""
    key = size.digest, size.name
    if key not in _drawn:
        if len(_drawn) >= KEPT:
            _drawn.clear()
        _drawn[key] = picture_of(build_shade(size))
    return _drawn[key]


def picture_of(shade: Shade) -> str:
    """SVG of a shade, from the side and a little from above; only its lines and classes, no words."""
    low, top = ([(x, -z - TILT * y) for x, y, z in _rim(shade, end)] for end in ("bottom", "top"))
    (left, *_, right), (high, *_, foot) = (sorted(side) for side in zip(*low, *top, strict=True))
    pad = MARGIN * max(right - left, foot - high)
    return _svg((left - pad, high - pad, right - left + 2 * pad, foot - high + 2 * pad), low, top, 1)


def picture_in(job: Job, setting: Setting) -> str:
    """SVG of a job's shade as it stands in its picture with labels, of which it has the paper and the lines.

    ``setting`` is that of the last such picture: where labels have come to need more room since, this one
    stands a little otherwise than the next.
    """
    shade, left = job.shade, job.size.makers.hand == "left"
    at = site(job, setting.more)
    # Seen from above, the panel's stations run clockwise.
    low, top = ([(-x, y, z) for x, y, z in _rim(shade, end)] for end in ("bottom", "top"))
    frame = fit(bench(left), [*low, *top, *at.points], at.place)
    paper = (0.0, setting.top, setting.slot.width, setting.height)
    return _svg(paper, frame.path(low), frame.path(top), 2)


def _svg(paper: tuple[float, float, float, float], low: list[Point], top: list[Point], digits: int) -> str:
    """Both rims on a paper (left, upper edge, breadth, height), y downwards."""

    def path(points: Iterable[Point]) -> str:
        return "M" + "L".join(f"{x:.{digits}f} {y:.{digits}f}" for x, y in points) + "Z"

    body = convex_hull([*low, *top])
    view = " ".join(f"{value:.{digits}f}" for value in paper)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{view}" class="silhouette" aria-hidden="true">'
        f'<path class="body" d="{path(body)}"/><path class="rim" d="{path(top)}"/></svg>'
    )


def _rim(shade: Shade, end: End) -> list[Point3]:
    """A rim in space, once round."""
    x, y, z = shade.ring_centre(end)
    return [(x + px, y + py, z) for px, py in _points(shade.rim(end))]


def _points(outline: Outline) -> Iterable[Point]:
    """Points once round: the ends of sides, and close ones on bends."""
    for part in outline.walk():
        if isinstance(part, Flat):
            yield part.start
            continue
        count = max(1, math.ceil((part.psi1 - part.psi0) / BENT))
        yield from (part.at(part.psi0 + (part.psi1 - part.psi0) * k / count) for k in range(count))
