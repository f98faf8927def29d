"""Needs of a plan as lines between boxes, so that none runs through a box.

Boxes on the critical path stand in lane 0. The others stand in lane 1, set in so far that a line of lane 0
passes at their left. Lines that cannot go straight down run along tracks: at the left from lane 0 to
lane 0, else at the right.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from generator.figures.canvas import Point
from generator.plan.critical import CriticalPath
from generator.plan.model import Plan, Step

Edge = tuple[int, int]
TRACK, GAP = 2.6, 3.4
"""Distance between two tracks, and from the boxes to the first one, mm."""
LEVEL = 1.1
"""Distance between the heights at which two lines leave or reach one box, mm."""


@dataclass(frozen=True, slots=True)
class Box:
    """One step's box: its lane, its edges, and where lines of its lane run."""

    step: Step
    lane: int
    """0: on the critical path; 1: can wait."""
    left: float
    right: float
    top: float
    bottom: float
    line: float

    @property
    def middle(self) -> float:
        """Half-way down, mm."""
        return (self.top + self.bottom) / 2


@dataclass(frozen=True, slots=True)
class Line:
    """A need drawn from one box to another: straight down, or along a track beside the lanes."""

    giver: int
    taker: int
    points: tuple[Point, ...]
    critical: bool


def needs(plan: Plan) -> list[Edge]:
    """Givers and takers, without needs that follow from others."""
    import networkx as nx

    graph: nx.DiGraph[int] = nx.DiGraph()
    graph.add_nodes_from(step.number for step in plan.steps)
    graph.add_edges_from((giver, step.number) for step in plan.steps for giver in step.from_steps.values())
    return sorted(nx.transitive_reduction(graph).edges)


def room_at_left(edges: Sequence[Edge], lanes: Mapping[int, int]) -> float:
    """Breadth of the tracks at the left, mm."""
    return _room(_columns(edges, lanes)[0])


def room_at_right(edges: Sequence[Edge], lanes: Mapping[int, int]) -> float:
    """Breadth of the tracks at the right, mm."""
    return _room(_columns(edges, lanes)[1])


def routed(boxes: Mapping[int, Box], edges: Sequence[Edge], path: CriticalPath) -> list[Line]:
    """Every need as a line. Lines leave a box low and reach a box high, each at a height of its own."""
    lanes = {number: box.lane for number, box in boxes.items()}
    left, right = _columns(edges, lanes)
    first = min((box.left for box in boxes.values()), default=0.0) - GAP
    last = max((box.right for box in boxes.values()), default=0.0) + GAP
    tracks = {edge: first - TRACK * column for edge, column in left.items()}
    tracks |= {edge: last + TRACK * column for edge, column in right.items()}
    out = {number: [edge for edge in edges if edge in tracks and edge[0] == number] for number in boxes}
    into = {number: [edge for edge in edges if edge in tracks and edge[1] == number] for number in boxes}
    lines = []
    for edge in edges:
        giver, taker = boxes[edge[0]], boxes[edge[1]]
        if edge in tracks:
            x = tracks[edge]
            y0 = giver.middle + 0.6 + LEVEL * out[edge[0]].index(edge)
            y1 = taker.middle - 0.6 - LEVEL * into[edge[1]].index(edge)
            points: tuple[Point, ...] = ((_side(giver, x), y0), (x, y0), (x, y1), (_side(taker, x), y1))
        else:
            x = giver.line if giver.lane == taker.lane else _between(giver, taker)
            points = ((x, giver.bottom), (x, taker.top))
        lines.append(Line(*edge, points, _tight(edge, path)))
    return lines


def _columns(edges: Sequence[Edge], lanes: Mapping[int, int]) -> tuple[dict[Edge, int], dict[Edge, int]]:
    """By line its track at the left, or at the right, counted from the boxes; none for what goes straight."""
    bent = [edge for edge in edges if not _straight(edge, lanes)]
    left = [edge for edge in bent if lanes[edge[0]] == lanes[edge[1]] == 0]
    return _packed(left), _packed([edge for edge in bent if edge not in left])


def _straight(edge: Edge, lanes: Mapping[int, int]) -> bool:
    """Whether a line can go straight down: nothing stands below its giver, or only what is set in."""
    giver, taker = edge
    return all(lanes[giver] == lanes[taker] == 0 < lanes[number] for number in range(giver + 1, taker))


def _packed(edges: Sequence[Edge]) -> dict[Edge, int]:
    """Each line its track, so that no two on one overlap or touch (first fit, short lines first)."""
    taken: list[list[Edge]] = []
    found = {}
    for edge in sorted(edges, key=lambda edge: (edge[1] - edge[0], edge)):
        for column, held in enumerate(taken):
            if all(edge[1] < a or b < edge[0] for a, b in held):
                held.append(edge)
                found[edge] = column
                break
        else:
            found[edge] = len(taken)
            taken.append([edge])
    return found


def _room(columns: Mapping[Edge, int]) -> float:
    return (max(columns.values()) * TRACK + GAP + TRACK / 2) if columns else 0.0


def _side(box: Box, x: float) -> float:
    return box.left if x < box.left else box.right


def _between(giver: Box, taker: Box) -> float:
    """Where two boxes of different lanes, one right below the other, are joined."""
    left, right = max(giver.left, taker.left), min(giver.right, taker.right)
    return left + min(12.0, (right - left) / 2)


def _tight(edge: Edge, path: CriticalPath) -> bool:
    """Whether a need lies on the critical path: nothing comes between its two steps there."""
    giver, taker = edge
    if giver not in path.steps or taker not in path.steps:
        return False
    return abs(path.ready[giver] - path.earliest[taker]) < 1e-9
