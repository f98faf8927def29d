"""What a step adds or takes away is told from what was there: heavier, and otherwise filled, both at once.

Agrawala et al. 2003 and Heiser et al. 2004, as the project's criteria restate them: each added part is shown,
and told from its surroundings by weight *and* by tone; wide lines are to narrow ones as 2 to 1 (ISO
128-2:2020, from memory).

What counts. *Heavier*: some of the part's outline is drawn 0.5 wide or wider, of a cased wire 1.4, or it is a
cut line in the accent; or the part is solid ink or accent, wider than that itself. The outlines of what was
there are at most 0.35 wide, but for cased wires and the lines that the work is laid by. *Otherwise filled*:
along a third of its seen outline another tone is seen beyond it than in it; or print, hatching or threads lie
in it; or it is a mark, a line or a dot too small for a tone, whose ink fills it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from shapely import Point, Polygon, STRtree, unary_union
from shapely.geometry.base import BaseGeometry

from generator.figures.model import Figure
from generator.figures.pens import INK, NEW, NEW_WIRE_OUTER, SEA, TOOL, WHITE
from tests.figures.laws import CASED, Shape, seen, shapes

MARK = 12.0
"""Where less than this is seen of a part's areas, mm² on paper, it is a mark: its ink is its filling."""
BEYOND = 0.45
"""How far beyond a part's outline its surroundings are looked at, mm: just past its own heavy line."""
SHARE = 1 / 3
HEAVY_CONTEXT = frozenset(
    ("seam", "seam-mark", "joint-mark", "start-edge", "seam-line", "ticks", "turn-mark")
)
"""Lines and marks that stay heavy: they are what the work is laid by, or say how it was turned."""


@dataclass(frozen=True)
class Told:
    """One new or removed part of a figure, and how it is told."""

    name: str
    area: float
    """mm² of it that are seen."""
    heavy: bool
    filled: bool


class Picture:
    """A figure's shapes as they cover one another."""

    def __init__(self, figure: Figure) -> None:
        self.shapes = [shape for shape in shapes(figure) if not shape.ink.is_empty]
        roles = ("context", "new", "removed")
        self._areas = [s for s in self.shapes if s.fill != "none" and s.role in roles]
        self._tree = STRtree([area.ink for area in self._areas])
        self._cuts = [s for s in self.shapes if s.part.startswith("cut-line") and s.stroke == SEA]

    def tone(self, at: Point) -> str:
        """What fills the paper at a place: the last area painted there, or white."""
        over = sorted(self._tree.query(at, predicate="intersects"))
        return self._areas[over[-1]].fill if over else WHITE

    @cached_property
    def told(self) -> list[Told]:
        """All new and removed parts of which something is seen."""
        names = dict.fromkeys(s.part for s in self.shapes if s.role in ("new", "removed"))
        return [told for name in names if (told := self._told(name)) is not None]

    @cached_property
    def too_heavy(self) -> set[str]:
        """What was there already and is drawn as heavily as what is new."""
        return {
            s.part
            for s in self.shapes
            if s.role == "context"
            and s.stroke not in ("none", WHITE)
            and s.width > TOOL.width
            and s.width not in CASED
            and s.part not in HEAVY_CONTEXT
        }

    def _told(self, name: str) -> Told | None:
        own = [s for s in self.shapes if s.part == name and s.role in ("new", "removed")]
        visible = seen(self.shapes, {s.group for s in own})
        if visible.is_empty:
            return None
        around = visible.buffer(0.1)
        cut = any(s.ink.intersection(around).length > 2.0 for s in self._cuts)
        heavy = cut or any(_heavy(s) for s in own)
        return Told(name, visible.area, heavy, visible.area < MARK or self._filled(own, visible))

    def _filled(self, own: Sequence[Shape], visible: BaseGeometry) -> bool:
        if any(s.fill in (INK, SEA) for s in own):
            return True
        inside = visible.buffer(0.05)
        if any(_textured(s, inside) for s in self.shapes if s in own or s.part in ("print", "threads")):
            return True
        differs = total = 0
        for index, shape in enumerate(own):
            if shape.fill == "none":
                continue
            later = unary_union([each.ink for each in own[index + 1 :] if each.fill != "none"])
            left = shape.ink.intersection(inside).difference(later)
            for piece in getattr(left, "geoms", [left]):
                if isinstance(piece, Polygon) and piece.area > 0.5:
                    edge = piece.buffer(BEYOND).exterior
                    steps = max(12, int(edge.length))
                    spots = (edge.interpolate(k / steps, normalized=True) for k in range(steps))
                    differs += sum(self.tone(spot) != shape.fill for spot in spots)
                    total += steps
        return total > 0 and differs >= SHARE * total


def _heavy(shape: Shape) -> bool:
    if shape.fill in (INK, SEA):
        return True
    if shape.stroke in ("none", WHITE):
        return False
    return shape.width >= NEW_WIRE_OUTER if shape.width in CASED else shape.width >= NEW.width


def _textured(shape: Shape, inside: BaseGeometry) -> bool:
    """Whether these are thin lines, more than two, that lie in what is seen: print, threads or hatching."""
    if shape.fill != "none" or shape.width > TOOL.width:
        return False
    lines = shape.ink.intersection(inside)
    return lines.length > 3.0 and len(getattr(lines, "geoms", [lines])) > 2


def check_told(figure: Figure) -> None:
    """What is new is heavier and otherwise filled; what was there is not as heavy.

    A part of which no area is seen, lines alone, is a zone hatched on another new part, or a mark: then one
    new part at least must be told by both.
    """
    picture = Picture(figure)
    told = picture.told
    assert any(part.heavy and part.filled for part in told), [part.name for part in told]
    areas = [part for part in told if part.area >= MARK]
    assert all(part.heavy for part in areas), [part.name for part in areas if not part.heavy]
    assert all(part.filled for part in areas), [part.name for part in areas if not part.filled]
    assert not picture.too_heavy
