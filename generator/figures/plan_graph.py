"""The plan as a drawing: a row a step, the critical path in one lane and heavy, what can wait beside it.

A need that follows from other needs is not drawn (transitive reduction), so that the eye can follow the rest.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from generator.base.words import Words
from generator.figures.canvas import Canvas, Point
from generator.figures.lettering import text_width
from generator.figures.model import Figure
from generator.figures.pens import BENCH, EM, HEAVY, INK, SOFT, THIN, WHITE, Pen
from generator.figures.svg import Passport, write_svg
from generator.plan.critical import CriticalPath, critical_path
from generator.plan.model import Plan, Step

ROW, HIGH = 10.0, 7.4
"""Distance from row to row and height of a box, mm."""
PAD, GAP = 2.2, 4.0
TRACK = 2.6
"""Distance between two lines that run beside a lane, mm."""
TIP = 1.7
HEAD = 14.0


@dataclass(frozen=True, slots=True)
class Box:
    """One step's box: its lane, its edges."""

    step: Step
    lane: int
    """0: on the critical path; 1: can wait."""
    left: float
    right: float
    top: float

    @property
    def middle(self) -> float:
        """Half-way down, mm."""
        return self.top + HIGH / 2

    @property
    def bottom(self) -> float:
        """Lower edge, mm."""
        return self.top + HIGH


@dataclass(frozen=True, slots=True)
class Line:
    """A need drawn from one box to another: straight down, or along a track beside the lanes."""

    giver: int
    taker: int
    points: tuple[Point, ...]
    critical: bool


def plan_graph(plan: Plan, words: Words) -> Figure:
    """The graph of a plan. ``words`` must be bound to it."""
    path = critical_path(plan)
    texts = {step.number: _texts(step, path, words) for step in plan.steps}
    stages = max(text_width(words.say(f"stage.{stage.id}"), EM, 600) for stage in plan.stages)
    edges = needs(plan)
    boxes, tracks, width = arranged(plan, path, texts, stages + 2 * PAD, edges)
    canvas = Canvas(width, HEAD + ROW * len(plan.steps) + GAP, view="plan")
    _stages(canvas, plan, words, width)
    lines = routed(boxes, edges, tracks, path)
    for line in sorted(lines, key=lambda line: line.critical):
        _line(canvas, line)
    for box in boxes.values():
        _box(canvas, box, texts[box.step.number])
    _legend(canvas, path, words, width)
    alt = words.say("alt.plan-graph")
    passport = Passport("plan-graph", "plan-graph", 0, alt, language=words.language)
    return Figure("plan-graph", 0, write_svg(canvas, passport), width, canvas.height, alt)


def needs(plan: Plan) -> list[tuple[int, int]]:
    """Givers and takers, without needs that follow from others."""
    import networkx as nx

    graph: nx.DiGraph[int] = nx.DiGraph()
    graph.add_nodes_from(step.number for step in plan.steps)
    graph.add_edges_from((giver, step.number) for step in plan.steps for giver in step.from_steps.values())
    return sorted(nx.transitive_reduction(graph).edges)


def _texts(step: Step, path: CriticalPath, words: Words) -> tuple[str, str, str]:
    """Number, title, and minutes with how long the step can wait."""
    waits = int(path.slack[step.number] + 1e-9)
    given = {"minutes": words.number(step.whole[0]), "waits": words.number(waits)}
    if step.rest:
        time = words.say("graph.minutes-rests", rests=words.number(round(step.rest)), **given)
    else:
        time = words.say("graph.minutes-waits" if waits else "graph.minutes", **given)
    return str(step.number), words.say(f"{step.task.key}.title"), time


def arranged(
    plan: Plan,
    path: CriticalPath,
    texts: Mapping[int, tuple[str, str, str]],
    stages: float,
    edges: Iterable[tuple[int, int]],
) -> tuple[dict[int, Box], dict[tuple[int, int], float], float]:
    """Boxes by step, the x of each line's track, and the drawing's width."""
    lanes = {step.number: int(step.number not in path.steps) for step in plan.steps}
    wide = [0.0, 0.0]
    for number, (name, title, time) in texts.items():
        needed = text_width(name, EM, 700) + text_width(title, EM) + text_width(time, EM) + 2 * PAD + 2 * GAP
        wide[lanes[number]] = max(wide[lanes[number]], needed)
    sides: list[list[tuple[int, int]]] = [[], [], []]
    for giver, taker in edges:
        if lanes[giver] == lanes[taker] and _clear(giver, taker, lanes):
            continue
        side = 1 if lanes[giver] != lanes[taker] else 0 if lanes[giver] == 0 else 2
        sides[side].append((giver, taker))
    columns = [_packed(side) for side in sides]
    room = [(max(found.values(), default=-1) + 1) * TRACK + GAP for found in columns]
    first = stages + room[0]
    second = first + wide[0] + room[1] + GAP
    starts = [first, second]
    boxes = {
        step.number: Box(
            step,
            lane := lanes[step.number],
            starts[lane],
            starts[lane] + wide[lane],
            HEAD + ROW * row + (ROW - HIGH) / 2,
        )
        for row, step in enumerate(plan.steps)
    }
    middle = first + wide[0] + GAP
    tracks = {edge: first - GAP - TRACK * column for edge, column in columns[0].items()}
    tracks |= {edge: middle + TRACK * column for edge, column in columns[1].items()}
    tracks |= {edge: second + wide[1] + GAP + TRACK * column for edge, column in columns[2].items()}
    width = second + wide[1] + room[2] if wide[1] else first + wide[0]
    return boxes, tracks, round(width + PAD, 2)


def _clear(giver: int, taker: int, lanes: Mapping[int, int]) -> bool:
    """Whether no other box of the lane stands between two."""
    return not any(lanes[number] == lanes[giver] for number in range(giver + 1, taker))


def _packed(edges: Sequence[tuple[int, int]]) -> dict[tuple[int, int], int]:
    """Each line its column, so that no two in one column overlap or touch (first fit, short lines first)."""
    taken: list[list[tuple[int, int]]] = []
    found = {}
    for edge in sorted(edges, key=lambda edge: (edge[1] - edge[0], edge)):
        column = 0
        for column, held in enumerate(taken):  # noqa: B007 - used after the loop
            if all(edge[1] < a or b < edge[0] for a, b in held):
                held.append(edge)
                break
        else:
            column = len(taken)
            taken.append([edge])
        found[edge] = column
    return found


def routed(
    boxes: Mapping[int, Box],
    edges: Sequence[tuple[int, int]],
    tracks: Mapping[tuple[int, int], float],
    path: CriticalPath,
) -> list[Line]:
    """Every need as a line. Lines leave a box low and reach a box high, each at a height of its own."""
    out: dict[int, list[tuple[int, int]]] = {}
    into: dict[int, list[tuple[int, int]]] = {}
    for edge in edges:
        if edge in tracks:
            out.setdefault(edge[0], []).append(edge)
            into.setdefault(edge[1], []).append(edge)
    lines = []
    for edge in edges:
        giver, taker = boxes[edge[0]], boxes[edge[1]]
        tight = _tight(edge, path)
        if edge not in tracks:
            x = (giver.left + giver.right) / 2
            points: tuple[Point, ...] = ((x, giver.bottom), (x, taker.top))
        else:
            x = tracks[edge]
            y0 = giver.middle + 0.8 + 1.3 * out[edge[0]].index(edge)
            y1 = taker.middle - 0.8 - 1.3 * into[edge[1]].index(edge)
            points = ((_side(giver, x), y0), (x, y0), (x, y1), (_side(taker, x), y1))
        lines.append(Line(*edge, points, tight))
    return lines


def _side(box: Box, x: float) -> float:
    return box.left if x < box.left else box.right


def _tight(edge: tuple[int, int], path: CriticalPath) -> bool:
    """Whether a need lies on the critical path: nothing comes between its two steps there."""
    giver, taker = edge
    if giver not in path.steps or taker not in path.steps:
        return False
    return abs(path.ready[giver] - path.earliest[taker]) < 1e-9


def _line(canvas: Canvas, line: Line) -> None:
    pen = HEAVY if line.critical else Pen(0.35, SOFT)
    name = f"need-{line.giver}-{line.taker}"
    (x0, y0), (x1, y1) = line.points[-2:]
    length = abs(x1 - x0) + abs(y1 - y0)
    dx, dy = (x1 - x0) / length, (y1 - y0) / length
    base = (x1 - dx * TIP, y1 - dy * TIP)
    with canvas.group("action" if line.critical else "context", name):
        canvas.line([*line.points[:-1], base], pen)
        half = 0.75
        canvas.area(
            [
                (x1, y1),
                (base[0] - dy * half, base[1] + dx * half),
                (base[0] + dy * half, base[1] - dx * half),
            ],
            pen.colour,
        )


def _box(canvas: Canvas, box: Box, texts: tuple[str, str, str]) -> None:
    number, title, time = texts
    critical = box.lane == 0
    corners = [
        (box.left, box.top), (box.right, box.top), (box.right, box.bottom), (box.left, box.bottom),
    ]  # fmt: skip
    base = box.middle + 0.33 * EM
    with canvas.group("new" if critical else "context", f"step-{box.step.id}"):
        canvas.area(corners, WHITE, HEAVY if critical else THIN)
        canvas.letters((box.left + PAD, base), number, weight=700)
        canvas.letters((box.left + PAD + text_width("00", EM, 700) + GAP / 2, base), title)
        canvas.letters((box.right - PAD, base), time, fill=INK if critical else SOFT, anchor="end")


def _stages(canvas: Canvas, plan: Plan, words: Words, width: float) -> None:
    """A band for each stage, every other one toned, its name at the left."""
    row = 0
    for index, stage in enumerate(plan.stages):
        top, bottom = HEAD + ROW * row, HEAD + ROW * (row + len(stage.steps))
        with canvas.group("context", f"stage-{stage.id}"):
            if index % 2 == 0:
                canvas.area([(0, top), (width, top), (width, bottom), (0, bottom)], BENCH)
            base = top + ROW / 2 + 0.33 * EM
            canvas.letters((PAD, base), words.say(f"stage.{stage.id}"), weight=600)
        row += len(stage.steps)


def _legend(canvas: Canvas, path: CriticalPath, words: Words, width: float) -> None:
    minutes = words.number(round(path.length))
    with canvas.group("label", "legend"):
        canvas.letters((PAD, 5.0), words.say("graph.critical", minutes=minutes), weight=600)
        canvas.letters((PAD, 10.4), words.say("graph.waits"))
