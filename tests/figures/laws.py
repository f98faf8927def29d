"""What holds for every figure of every shade, as checks that read the finished SVG.

Laws of drawing conventions and of pictures that teach: roles, new parts seen and attached, arrows where hands
acts, dimensions that say their measure and are drawn true to scale in plans. Sources are named at each law.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from xml.etree import ElementTree

from shapely import LineString, MultiLineString, Polygon, unary_union
from shapely.geometry.base import BaseGeometry

from generator.base.words import INCH_SIGN
from generator.figures.model import Figure, Job
from generator.figures.pens import EM, INK, WIDTHS
from generator.figures.state import SEEN_AS
from generator.measures.inches import inches_of
from tests.figures.drawings import SVG, check_texts_stand_apart, line_widths, paper, parts, root, words

ROLES = frozenset(("context", "new", "removed", "action", "dimension", "label", "detail"))
VIEWS = frozenset(("bench", "plan", "section"))
CASED = frozenset((0.55, 0.6, 1.15, 1.3, 1.4, 2.0, 2.4, 3.0))
"""Dark lines with a light core (wire, struts, flex, a grip), which the set of widths does not bind."""
LOOKED_AT = frozenset(("choose-use", "inspect"))
"""Figures in which nothing is handled: they show what to look at."""
NO_ARROW = re.compile("turn-mark.*|hand.*|tool.*|cut-line.*|work-along|section-cut")
SPREAD = 0.9
"""Lengths below this on paper may be drawn larger, so that two lines can be told apart, mm."""
SPREAD_ENDS = {"seam_tape": 1.42}
"""Lengths both ends of which stand off a rim by so little that it is drawn larger: how much shorter, mm."""
OFF = 13.0
"""A dimension line stands at most so far off what it measures, mm on paper."""
_NUMBER = r"-?\d+(?:\.\d+)?"
_PAIR = re.compile(rf"({_NUMBER}) ({_NUMBER})")


@dataclass(frozen=True)
class Shape:
    """One path."""

    group: int
    role: str
    part: str
    enlarged: bool
    lines: tuple[tuple[tuple[float, float], ...], ...]
    fill: str
    stroke: str
    width: float

    @cached_property
    def ink(self) -> BaseGeometry:
        """What it covers."""
        if self.fill != "none":
            rings = [Polygon(line).buffer(0) for line in self.lines if len(line) > 3]
            return unary_union(rings)
        return MultiLineString([line for line in self.lines if len(line) > 1])


def shapes(figure: Figure) -> list[Shape]:
    """All paths in drawing order."""
    found = []
    for number, group in enumerate(root(figure).iter(f"{SVG}g")):
        for path in group.iter(f"{SVG}path"):
            lines = []
            for sub in re.findall("M[^M]+", path.get("d", "")):
                points = [(float(x), float(y)) for x, y in _PAIR.findall(sub)]
                lines.append(tuple([*points, points[0]] if sub.endswith("Z") else points))
            found.append(
                Shape(
                    number,
                    group.get("data-role", ""),
                    group.get("data-part", ""),
                    group.get("data-enlarged") == "true",
                    tuple(lines),
                    path.get("fill", "none"),
                    path.get("stroke", "none"),
                    float(path.get("stroke-width", "0")),
                )
            )
    return found


def seen(drawn: Iterable[Shape], chosen: set[int]) -> BaseGeometry:
    """What no later area of another group covers of the chosen groups."""
    visible: list[BaseGeometry] = []
    covers: list[BaseGeometry] = []
    for shape in reversed(list(drawn)):
        if shape.group in chosen:
            visible.append(shape.ink.difference(unary_union(covers)) if covers else shape.ink)
        elif shape.fill != "none" and not shape.ink.is_empty:
            covers.append(shape.ink)
    return unary_union(visible)


def check_names(job: Job, figure: Figure) -> None:
    """The file says what it is, and no group is without role, part, step and view."""
    svg = root(figure)
    assert (svg.findtext(f"{SVG}title") or "").strip() == figure.alt
    assert svg.get("data-step") == str(job.step.number)
    assert svg.get("data-view") in VIEWS
    sheet = [float(number) for number in svg.get("viewBox", "").split()]
    assert f"{sheet[2]:g}mm" == svg.get("width")
    assert f"{sheet[3]:g}mm" == svg.get("height")
    groups = list(svg.iter(f"{SVG}g"))
    assert {group.get("data-role") for group in groups} <= ROLES
    for group in groups:
        assert group.get("data-part")
        assert group.get("data-step") == str(job.step.number)
        assert group.get("data-view") == svg.get("data-view")
    ids = [element.get("id") for element in svg.iter() if element.get("id")]
    assert len(ids) == len(set(ids)) == len(groups) + 1
    assert all(re.fullmatch("[A-Za-z][A-Za-z0-9-]*", each or "") for each in ids)


def check_new(figure: Figure, reach: float = 1.5) -> None:
    """What a step adds or takes away is seen, and touches what was there; ``telling.py``: how it is told.

    Agrawala et al. 2003 and Heiser et al. 2004, as the project's criteria restate them: show each added part
    and how it is attached.
    """
    drawn = shapes(figure)
    new = {shape.group for shape in drawn if shape.role in ("new", "removed")}
    assert new, "nothing is new"
    visible = seen(drawn, new)
    assert not visible.is_empty
    there = unary_union([shape.ink for shape in drawn if shape.role in ("context", "detail")])
    assert there.is_empty or visible.distance(there) < reach


def check_state(job: Job, figure: Figure) -> None:
    """What is there from before has been given by an earlier step of this plan."""
    given = job.plan.given_before(job.step.number)
    makers: dict[str, set[str]] = {}
    for result, name in SEEN_AS.items():
        makers.setdefault(name, set()).add(result)
    for part in parts(figure):
        if part.role == "context" and part.name in makers:
            assert makers[part.name] & given, f"{part.name} is there before it is given"


def check_action(job: Job, figure: Figure) -> None:
    """Each task of the hand has an arrow."""
    arrows = [p for p in parts(figure) if p.role == "action" and not NO_ARROW.fullmatch(p.name)]
    assert arrows or job.step.task.figure in LOOKED_AT


def check_dimensions(job: Job, figure: Figure) -> None:
    """Each dimension names a measure of this shade and says its shown value."""
    for part in parts(figure):
        if part.role == "dimension" and part.measure is None:
            # A length that the recipe does not state, for the maker to measure: a name, no number.
            assert not any(sign.isdigit() for text in part.texts for sign in text), part.name
        if part.measure is not None:
            assert part.value in job.measures[part.measure].values, part.measure
            if part.texts:
                assert value_of(job, part.measure, part.value or 0.0).removesuffix(INCH_SIGN) in " ".join(
                    part.texts
                )


def value_of(job: Job, measure: str, shown: float) -> str:
    """One of a measure's values as a drawing has it, in the units of the job's words."""
    found = job.measures[measure]
    inches = inches_of(found)
    return job.words.length(shown, inches[found.values.index(shown)] if inches else None)


def check_scale(figure: Figure) -> None:
    """In a plan, drawn length over scale is the value within 1 %, unless a wave tells of a piece left out."""
    svg = root(figure)
    if svg.get("data-view") != "plan":
        return
    scale = float(svg.get("data-scale", "0"))
    assert scale > 0
    drawn = shapes(figure)
    breaks = [shape.ink.buffer(0.1) for shape in drawn if shape.part == "break"]
    for group, start, end in dimension_lines(figure):
        value, length = float(group.get("data-value", "")), math.dist(start, end)
        if (bow := _bow(group)) is not None:
            # Measured along a curve: its line stands off the part, and differs by that times its turn.
            assert abs(bow[0] - value * scale) <= 0.01 * value * scale + OFF * bow[1], group.get(
                "data-measure"
            )
            continue
        spread = value * scale < SPREAD
        left_out = any(_between(start, end, wave) for wave in breaks)
        if not spread and not left_out:
            apart = SPREAD_ENDS.get(group.get("data-measure", ""), 0.02)
            assert abs(length - value * scale) <= 0.01 * value * scale + apart, group.get("data-measure")


def _bow(group: ElementTree.Element) -> tuple[float, float] | None:
    """Length and turn of a dimension line that is no straight one."""
    strokes = [path.get("d", "") for path in group.iter(f"{SVG}path") if path.get("fill") == "none"]
    for stroke in (one for whole in strokes for one in whole.split("M")):
        points = [(float(x), float(y)) for x, y in _PAIR.findall(stroke)]
        if len(points) > 4:
            headings = [math.atan2(b[1] - a[1], b[0] - a[0]) for a, b in pairwise(points)]
            turns = (math.remainder(b - a, math.tau) for a, b in pairwise(headings))
            return LineString(points).length, abs(math.fsum(turns))
    return None


def _between(start: tuple[float, float], end: tuple[float, float], wave: BaseGeometry) -> bool:
    """Whether a wave runs across the length that a dimension spans."""
    level = abs(end[0] - start[0]) > abs(end[1] - start[1])
    low, high = sorted((start[0], end[0]) if level else (start[1], end[1]))
    left, top, right, bottom = wave.bounds
    upright = bottom - top > right - left
    return level == upright and low < (left + right if level else top + bottom) / 2 < high


def dimension_lines(
    figure: Figure,
) -> Iterator[tuple[ElementTree.Element, tuple[float, float], tuple[float, float]]]:
    """Dimensions of the picture itself (not of an enlarged detail) and the tips of their two heads."""
    for group in root(figure).iter(f"{SVG}g"):
        if group.get("data-role") != "dimension" or group.get("data-enlarged"):
            continue
        tips = []
        for path in group.iter(f"{SVG}path"):
            points = [(float(x), float(y)) for x, y in _PAIR.findall(path.get("d", ""))]
            if path.get("fill") == INK and len(points) == 3:
                tips.append(points[0])
        if len(tips) == 2:
            yield group, tips[0], tips[1]


def check_enlarged(figure: Figure) -> None:
    """What is measured in an enlarged detail says that it is enlarged."""
    drawn = shapes(figure)
    details = [shape.ink for shape in drawn if shape.part == "detail" and shape.fill != "none"]
    for shape in drawn:
        if shape.role == "dimension" and not shape.ink.is_empty:
            inside = any(detail.contains(shape.ink.centroid) for detail in details)
            assert shape.enlarged or not inside, shape.part


def check_conventions(figure: Figure, cased: frozenset[float] = CASED) -> None:
    """Widths of ISO 128-2:2020, lettering of ISO 3098-1 (both from memory): capitals of 2.5 mm at least."""
    assert line_widths(figure) <= {*WIDTHS, *cased}
    sizes = [float(text.get("font-size", "0")) for text in root(figure).iter(f"{SVG}text")]
    assert all(size >= EM for size in sizes)


def check_paper(figure: Figure) -> None:
    """Nothing stands beyond the viewBox, and no text on another."""
    check_texts_stand_apart(figure)
    left, top, right, bottom = paper(figure).buffer(0.3).bounds
    for part in parts(figure):
        assert all(left <= x <= right and top <= y <= bottom for x, y in part.points), part.name


def check_words(figure: Figure) -> None:
    """A label is a few words at most, and each figure has one."""
    for part in parts(figure):
        if part.role == "label" and not part.name.startswith(("number-", "check-")):
            assert all(len(text.split()) <= 4 for text in part.texts), part.texts
    assert list(words(figure))


def check_all(job: Job, figure: Figure) -> None:
    """Every law."""
    check_names(job, figure)
    check_new(figure)
    check_state(job, figure)
    check_action(job, figure)
    check_dimensions(job, figure)
    check_scale(figure)
    check_enlarged(figure)
    check_conventions(figure)
    check_paper(figure)
    check_words(figure)
