"""The plan as a drawing: a row a step, the critical path heavy, what can wait set in beside it.

It fits between the margins of an A4 page. At the left stand the stages, at the right what each step takes,
how long it can wait, and where the work may pause. A need that follows from other needs is not drawn
(transitive reduction), so that the eye can follow the rest.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import accumulate

from generator.base.words import Words
from generator.figures.canvas import Canvas
from generator.figures.lettering import text_width
from generator.figures.model import Figure
from generator.figures.pens import BENCH, EM, HEAVY, INK, SEA, SOFT, THIN, WHITE, Pen
from generator.figures.plan_lines import Box, Line, needs, room_at_left, room_at_right, routed
from generator.figures.svg import Passport, write_svg
from generator.plan.critical import CriticalPath, critical_path
from generator.plan.model import Plan, Stage
from generator.plan.outlook import chains

WIDTH, MOST_HEIGHT = 178.0, 252.0
"""Between the margins of a page, and below a heading, mm."""
ROW, LEAST_ROW, BETWEEN = 10.0, 7.0, 2.4
"""Wished and least distance from row to row; empty paper between two boxes, mm."""
HEAD, FOOT = 27.0, 1.5
"""For the legend and the heads of the columns; below the last row, mm."""
PAD = 2.0
TILE = 7.4
"""Width of the field of a step's number, mm."""
LEAST_STEP_IN, STEP_IN = 12.0, 32.0
"""How far what can wait is set in, mm."""
LONG_NAME = 30.0
"""A stage's name longer than this may take two lines, mm."""
BAR = 1.6
"""Breadth of the bar beside what must go on at once, mm."""
TIP, HALF_TIP = 1.7, 0.75
PAUSE = Pen(0.35, SEA, (1.6, 1.0), "butt")
BASE = 0.33 * EM
"""From a line's middle to its base line, mm."""


@dataclass(frozen=True)
class Places:
    """Where the columns are, mm."""

    stages: float
    """Right edge of the names of stages."""
    lanes: tuple[float, float]
    """Left edges of the boxes on the critical path, and of the others."""
    graph: float
    """Right edge of boxes and lines."""
    minutes: float
    waits: float
    """Right edges of the columns of numbers."""
    width: float
    row: float

    def top(self, row: int) -> float:
        """Upper edge of a row, counted from 0."""
        return HEAD + self.row * row


def plan_graph(
    plan: Plan, words: Words, width: float = WIDTH, most_height: float = MOST_HEIGHT, enlarged: float = 1.0
) -> Figure:
    """The graph of a plan in the whole minutes that pages print. ``words`` must be bound to it.

    It is drawn for a place of this width and height, mm, then so many times as large.
    """
    plan = plan.printed
    path = critical_path(plan)
    edges = needs(plan)
    lanes = {step.number: int(step.number not in path.steps) for step in plan.steps}
    titles = {step.number: words.say(f"{step.task.key}.title") for step in plan.steps}
    places = _places(plan, words, lanes, titles, edges, (width, most_height))
    boxes = _boxes(plan, lanes, titles, places)
    canvas = Canvas(places.width, places.top(len(plan.steps)) + FOOT, view="plan")
    _stages(canvas, plan, words, places)
    _heads(canvas, words, places)
    _pauses(canvas, plan, words, places)
    _at_once(canvas, plan, places)
    for line in sorted(routed(boxes, edges, path), key=lambda line: line.critical):
        _line(canvas, line)
    for box in boxes.values():
        _box(canvas, box, titles[box.step.number])
        _times(canvas, box, path, words, places)
    _legend(canvas, path, words, places)
    if enlarged != 1.0:
        canvas.magnify(enlarged)
    alt = words.say("alt.plan-graph")
    svg = write_svg(canvas, Passport("plan-graph", "plan-graph", 0, alt, language=words.language))
    return Figure("plan-graph", 0, svg, canvas.width, round(canvas.height, 2), alt)


def _places(
    plan: Plan,
    words: Words,
    lanes: Mapping[int, int],
    titles: Mapping[int, str],
    edges: list[tuple[int, int]],
    room: tuple[float, float],
) -> Places:
    names = [part for stage in plan.stages for part in _stage_lines(stage, words)]
    stages = max(text_width(name, EM, 600) for name in names) + 2 * PAD
    waits = text_width(words.say("graph.head.waits"), EM) + 2 * PAD
    minutes = text_width(words.say("graph.head.minutes"), EM) + 3 * PAD
    pauses = text_width(words.say("graph.pause"), EM, 600) + 2 * PAD
    left = stages + room_at_left(edges, lanes) + BAR + PAD
    wide = [_widest(titles, lanes, lane) for lane in (0, 1)]
    right = room_at_right(edges, lanes) + minutes + waits + pauses
    step_in = min(STEP_IN, max(LEAST_STEP_IN, room[0] - left - wide[1] - right))
    graph = left + max(wide[0], step_in + wide[1] if wide[1] else 0.0) + room_at_right(edges, lanes)
    # A narrow graph leaves its paper to the columns.
    width = max(room[0], graph + minutes + waits + pauses)
    return Places(
        stages,
        (left, left + step_in),
        graph,
        graph + minutes,
        graph + minutes + waits,
        round(width, 2),
        max(LEAST_ROW, min(ROW, (room[1] - HEAD - FOOT) / len(plan.steps))),
    )


def _stage_lines(stage: Stage, words: Words) -> tuple[str, ...]:
    """A stage's name; a long one of several words on two lines, if there are rows for both."""
    name = words.say(f"stage.{stage.id}")
    first, _, rest = name.rpartition(" ")
    whole = not first or len(stage.steps) < 2 or text_width(name, EM, 600) < LONG_NAME
    return (name,) if whole else (first, rest)


def _widest(titles: Mapping[int, str], lanes: Mapping[int, int], lane: int) -> float:
    widths = [TILE + text_width(titles[n], EM) + 2 * PAD for n in titles if lanes[n] == lane]
    return max(widths, default=0.0)


def _boxes(plan: Plan, lanes: Mapping[int, int], titles: Mapping[int, str], places: Places) -> dict[int, Box]:
    wide = [_widest(titles, lanes, lane) for lane in (0, 1)]
    found = {}
    for row, step in enumerate(plan.steps):
        lane = lanes[step.number]
        left, top = places.lanes[lane], places.top(row) + BETWEEN / 2
        found[step.number] = Box(
            step, lane, left, left + wide[lane], top, top + places.row - BETWEEN, left + TILE / 2
        )
    return found


def _line(canvas: Canvas, line: Line) -> None:
    pen = HEAVY if line.critical else Pen(0.35, SOFT)
    (x0, y0), (x1, y1) = line.points[-2:]
    length = abs(x1 - x0) + abs(y1 - y0)
    dx, dy = (x1 - x0) / length, (y1 - y0) / length
    base = (x1 - dx * TIP, y1 - dy * TIP)
    sides = [(base[0] - s * dy * HALF_TIP, base[1] + s * dx * HALF_TIP) for s in (1, -1)]
    with canvas.group("action" if line.critical else "context", f"need-{line.giver}-{line.taker}"):
        canvas.line([*line.points[:-1], base], pen)
        canvas.area([(x1, y1), *sides], pen.colour)


def _box(canvas: Canvas, box: Box, title: str) -> None:
    """Number and title; the number is reversed where the step cannot be undone."""
    critical, dark = box.lane == 0, box.step.task.irreversible
    base, split = box.middle + BASE, box.left + TILE
    with canvas.group("new" if critical else "context", f"step-{box.step.id}"):
        canvas.area(_corners(box.left, box.top, box.right, box.bottom), WHITE, HEAVY if critical else THIN)
        if dark:
            canvas.area(_corners(box.left, box.top, split, box.bottom), INK)
        number = str(box.step.number)
        middle = box.left + TILE / 2
        canvas.letters((middle, base), number, weight=700, fill=WHITE if dark else INK, anchor="middle")
        canvas.letters((split + PAD / 2, base), title)


def _times(canvas: Canvas, box: Box, path: CriticalPath, words: Words, places: Places) -> None:
    """Minutes; below them, in the next column, how long the step can wait."""
    step = box.step
    base = box.middle + BASE
    with canvas.group("label", f"times-{step.id}"):
        canvas.letters((places.minutes, base), words.number(step.whole[0]), anchor="end")
        if step.number not in path.steps:
            waits = words.number(round(path.slack[step.number]))
            canvas.letters((places.waits, base), waits, fill=SOFT, anchor="end")


def _heads(canvas: Canvas, words: Words, places: Places) -> None:
    base = HEAD - 1.6
    with canvas.group("label", "heads"):
        for edge, key in ((places.minutes, "minutes"), (places.waits, "waits")):
            canvas.letters((edge, base), words.say(f"graph.head.{key}"), fill=SOFT, anchor="end")


def _stages(canvas: Canvas, plan: Plan, words: Words, places: Places) -> None:
    """A band for each stage, every other one toned, its name at the left."""
    rows = [0, *accumulate(len(stage.steps) for stage in plan.stages)]
    for index, stage in enumerate(plan.stages):
        top, bottom = places.top(rows[index]), places.top(rows[index + 1])
        with canvas.group("context", f"stage-{stage.id}"):
            if index % 2 == 0:
                canvas.area(_corners(0, top, places.width, bottom), BENCH)
            for place, line in enumerate(_stage_lines(stage, words)):
                base = top + places.row / 2 + BASE + place * 1.2 * EM
                canvas.letters((PAD, base), line, weight=600)


def _pauses(canvas: Canvas, plan: Plan, words: Words, places: Places) -> None:
    """A dashed line on both sides of the graph below each step after which the work may rest."""
    for row, step in enumerate(plan.steps):
        if step.task.after != "safe-pause" and not step.rest:
            continue
        y = places.top(row + 1)
        with canvas.group("label", f"pause-{step.id}"):
            canvas.line([(0.0, y), (places.stages, y)], PAUSE)
            canvas.line([(places.graph + PAD, y), (places.width, y)], PAUSE)
            text = words.say("graph.pause")
            if step.rest:
                text = words.say("graph.rests", minutes=words.number(round(step.rest)))
            base = y - places.row / 2 + BASE
            canvas.letters((places.width - PAD, base), text, weight=600, fill=SEA, anchor="end")


def _at_once(canvas: Canvas, plan: Plan, places: Places) -> None:
    """A bar beside each chain, from its first step to its last."""
    right = places.lanes[0] - 0.7 * PAD
    for chain in chains(plan):
        top = places.top(chain[0].number - 1) + BETWEEN / 2
        bottom = places.top(chain[-1].number) - BETWEEN / 2
        with canvas.group("label", f"at-once-{chain[0].id}"):
            canvas.area(_corners(right - BAR, top, right, bottom), INK)


def _legend(canvas: Canvas, path: CriticalPath, words: Words, places: Places) -> None:
    """What the signs mean: the two kinds of boxes on lines of their own, the marks beside one another."""
    sample = 7.0
    rows = [4.6, 10.6, 16.6]
    with canvas.group("label", "legend"):
        for y, pen, key in ((rows[0], HEAVY, "graph.critical"), (rows[1], THIN, "graph.waits")):
            canvas.area(_corners(PAD, y - 1.9, PAD + sample, y + 1.9), WHITE, pen)
            text = words.say(key, minutes=words.number(round(path.length)))
            canvas.letters((PAD + sample + PAD, y + BASE), text, weight=600 if pen is HEAVY else 400)
        x, y = PAD, rows[2]
        canvas.area(_corners(x + 2.7, y - 2.2, x + 2.7 + BAR, y + 2.2), INK)
        x = _beside(canvas, x + sample, y, words.say("graph.at-once"))
        canvas.area(_corners(x, y - 2.2, x + TILE, y + 2.2), INK)
        x = _beside(canvas, x + TILE, y, words.say("graph.irreversible"))
        canvas.line([(x, y), (x + sample, y)], PAUSE)
        _beside(canvas, x + sample, y, words.say("graph.may-pause"))


def _beside(canvas: Canvas, x: float, y: float, text: str) -> float:
    """A text beside a sign; where the next sign begins."""
    canvas.letters((x + PAD, y + BASE), text)
    return x + 2 * PAD + text_width(text, EM) + 2 * PAD


def _corners(left: float, top: float, right: float, bottom: float) -> list[tuple[float, float]]:
    return [(left, top), (right, top), (right, bottom), (left, bottom)]
