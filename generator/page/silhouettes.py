"""A shade as a small picture without words: both rims seen from a little above, true in proportion."""

from __future__ import annotations

from shapely import MultiPoint, Polygon

from generator.recipe.models import SizeRecipe
from generator.shape.build import build_shade
from generator.shape.development import End
from generator.shape.shade import Shade

TILT = 0.28
"""How much of a ring's depth is seen: the eye is a little above the shade."""
ROUND = 120
"""Points once round a ring."""
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
    rims: dict[End, list[tuple[float, float]]] = {"bottom": _rim(shade, "bottom"), "top": _rim(shade, "top")}
    body = MultiPoint([*rims["bottom"], *rims["top"]]).convex_hull
    left, low, right, high = body.bounds
    pad = MARGIN * max(right - left, high - low)
    view = f"{left - pad:.1f} {-high - pad:.1f} {right - left + 2 * pad:.1f} {high - low + 2 * pad:.1f}"
    hull = [(x, y) for x, y, *_ in body.exterior.coords] if isinstance(body, Polygon) else []
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="{view}" class="silhouette" aria-hidden="true">'
        f'<path class="body" d="{_path(hull)}"/><path class="rim" d="{_path(rims["top"])}"/></svg>'
    )


def _rim(shade: Shade, end: End) -> list[tuple[float, float]]:
    ring = shade.rim(end)
    x, y, z = shade.ring_centre(end)
    points = (ring.point(ring.length * step / ROUND) for step in range(ROUND))
    return [(x + px, z + TILT * (y + py)) for px, py in points]


def _path(points: list[tuple[float, float]]) -> str:
    """Drawn with y downwards."""
    return "M" + "L".join(f"{x:.1f} {-y:.1f}" for x, y in points) + "Z"
