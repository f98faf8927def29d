"""Position the panel: from above, with every border dimensioned, so that the parts add up to the cloth."""

from __future__ import annotations

from shapely import LineString, Polygon

from generator.figures.arrows import action
from generator.figures.bench_panel import helped
from generator.figures.callouts import callout
from generator.figures.canvas import Canvas
from generator.figures.hands import hand
from generator.figures.labels import Label
from generator.figures.lay import Lay, lay
from generator.figures.model import Job, Picture
from generator.figures.numbers import say, wider
from generator.figures.pens import DIMENSION
from generator.figures.plan_board import Board, board, breaks
from generator.figures.plan_panel import (
    chain_x,
    chain_y,
    cloth_back,
    corner_tape,
    grain_line,
    hem_line,
    panel_back,
    print_up,
    trim_lines,
)
from generator.figures.plane import add
from generator.figures.state import state_before
from generator.figures.view import Box

TOP = 11.0
"""Room for the dimensions above the cloth, mm."""
HIGH = 27.0
"""Wished height of the cloth on paper, mm."""
ROOMY = 38.0
"""A panel at least this long on paper has room for the longer words inside, mm."""
SHARE = 0.84
"""Share of the paper that the start piece has where the view is broken: it holds hands, arrow and words."""


def draw(job: Job) -> Picture:
    """The panel, liner down, slides away from the maker on to the cloth, until its borders are as shown."""
    on, left = lay(job), job.size.makers.hand == "left"
    canvas = Canvas(job.slot.width, job.slot.height + 8, view="plan")
    more = wider(job, "slack_ends", "slack_end_rest")
    first = (14.2 if on.trim and not on.sheet else 10.0) + more
    place = Box(first, TOP, job.slot.width - 14.5 - more, TOP + 40.0)
    # A curved panel is never broken: its ends would not meet.
    view = board(left, place, on.length, on.width, 0.0 if on.sheet else HIGH, SHARE)
    canvas.scale = view.scale
    cloth_back(canvas, view, on)
    if state_before(job).tacked:
        corner_tape(canvas, view.rectangle(0.0, 0.0, on.length, on.width).bounds, "context")
    panel_back(canvas, view, on)
    hem_line(canvas, view, on)
    trim_lines(canvas, view, on)
    breaks(canvas, view)
    return Picture(canvas, _curved(canvas, job, view, on) if on.sheet else _straight(canvas, job, view, on))


def _straight(canvas: Canvas, job: Job, view: Board, on: Lay) -> list[Label]:
    left = job.size.makers.hand == "left"
    _borders(canvas, job, view, on, left)
    # Hands and arrow share the start piece; all lengths on paper.
    near_start = view(on.start, on.near)
    stop = view.pieces[0].frame((min(view.pieces[0].stop, on.end), on.near, 0.0))
    span = stop[0] - near_start[0]
    for k, second in ((0.13, False), (0.56, True)):
        tip = (near_start[0] + k * span, near_start[1] - 4.5)
        other = helped(job) and second
        hand(canvas, "flat", tip, 90, scale=0.75, flip=second == left, helper=other)
    middle = (near_start[0] + 0.345 * span, near_start[1] + 3.5)
    action(canvas, [middle, add(middle, (0.0, -11.0))])
    up = view(on.start, on.far)
    print_up(canvas, (up[0] + (-3.4 if left else 3.4), up[1] + 7.4))
    words = "print-up-underneath" if abs(span) > ROOMY else "print-up"
    border = view(on.start / 2, on.near + 0.4 * (on.far - on.near))
    top = view(on.end - on.overlap / 2, on.far - on.margin - 0.12 * (on.far - on.near))
    beside = near_start[0] + 0.84 * span
    kiss, cut = ((beside, view(0.0, y)[1]) for y in (on.near + on.margin, on.near - on.trim))
    labels = [
        Label(say(job, words), part="print-up", wish=180 if left else 0, inside=False),
        Label(say(job, "panel"), part="panel"),
        Label(say(job, "top-in-overlap"), at=top, wish=60 if left else 120),
        Label(say(job, "cloth"), at=border, wish=0 if left else 180, rank=1),
    ]
    # Of the dashed lines one is named: the one that other figures do not show.
    if on.hem:
        labels.append(Label(say(job, "cloth-tab"), part="hem-tab", wish=315 if left else 225, rank=2))
    elif on.margin:
        labels.append(Label(say(job, "kiss-cut"), at=kiss, wish=270, rank=2))
    elif on.trim:
        labels.append(Label(say(job, "cut-line"), at=cut, wish=270, rank=2))
    return labels


def _curved(canvas: Canvas, job: Job, view: Board, on: Lay) -> list[Label]:
    """Hands, arrow and borders of a tapered panel; the line across on which alone the grain is true."""
    left, sheet = job.size.makers.hand == "left", on.sheet
    assert sheet is not None
    outline = Polygon([view(*p) for p in on.outline()])
    low, high = (view(*p) for p in on.grain_line())
    _least_borders(canvas, job, view, on)
    grain_line(canvas, view, on)
    reach = max(11.0, min(17.0, 0.2 * on.length * view.scale))
    lowest = low[1]
    for sign, second in ((-1.0, False), (1.0, True)):
        x = low[0] + sign * reach
        foot = outline.intersection(LineString([(x, 0.0), (x, 200.0)])).bounds[3]
        other = helped(job) and second
        hand(canvas, "flat", (x, foot - 4.0), 90, scale=0.75, flip=second, helper=other)
        lowest = max(lowest, foot)
    tail = (low[0] + reach / 2 * (1.0 if left else -1.0), low[1] + 7.5)
    action(canvas, [tail, add(tail, (0.0, -11.0))])
    deep = low[1] - high[1]
    up = add(high, (0.0, min(0.34 * deep, 8.0)))
    print_up(canvas, up)
    words = say(job, "print-up-underneath")
    callout(canvas, add(up, (0.0, -3.6)), (up[0], view.top - 1.4), words, side=0, dot=False)
    true = add(low, (0.0, -0.16 * deep))
    callout(canvas, true, (low[0], lowest + 13.5), say(job, "grain-line"), side=0)
    x, h = sheet.shade.panel_length, sheet.shade.slant
    top = view(*sheet.point(x - on.overlap / 2, 0.88 * h))
    return [
        Label(say(job, "panel"), at=view(*sheet.point(0.16 * x, 0.5 * h)), leader=False),
        Label(say(job, "top"), at=top, wish=180 if not left else 0),
    ]


def _least_borders(canvas: Canvas, job: Job, view: Board, on: Lay) -> None:
    """What is left between the cloth's edges and the nearest places of a curved panel."""
    left = job.size.makers.hand == "left"
    outline = on.sheet.loop(on.sheet.shade.margin, on.hem) if on.sheet else on.outline()
    right = 0.0 if left else on.length
    with canvas.group("dimension", "extremes"):
        for key in (min, max):
            x, y = key(outline, key=lambda p: p[0])
            view.line(canvas, [(x, y), (x, on.width)], DIMENSION)
            x, y = key(outline, key=lambda p: p[1])
            view.line(canvas, [(x, y), (right, y)], DIMENSION)
    ends = [(0.0, on.start, "slack_ends"), (on.end, on.length, "slack_end_rest")]
    edges = [(0.0, on.near, "slack_edges"), (on.far, on.width, "slack_edge_rest")]
    chain_x(canvas, job, view, ends, on.width, 6.0, left=left)
    more = wider(job, "slack_ends", "slack_end_rest")
    chain_y(canvas, job, view, edges, right, -13.5 - more)


def _borders(canvas: Canvas, job: Job, view: Board, on: Lay, left: bool) -> None:
    """Panel and borders: along the far edge, and across at the right; without a kiss cut on both sides."""
    ends = [(0.0, on.start, "slack_ends"), (on.start, on.end, "panel_length")]
    rest = (on.end + on.hem, on.length, "slack_end_rest")
    if on.hem:
        ends.append((on.end, on.end + on.hem, "hem"))
        chain_x(canvas, job, view, [rest], 0.0, -6.0, left=left)
    else:
        ends.append(rest)
    chain_x(canvas, job, view, ends, on.width, 6.0, left=left)
    more = wider(job, "slack_ends", "slack_end_rest")
    x_left, x_right = (on.length, 0.0) if left else (0.0, on.length)
    low, high = on.near - on.trim, on.far + on.trim
    borders = [(0.0, low, "slack_edges"), (high, on.width, "slack_edge_rest")]
    sheet = (on.near, on.far, "panel_height")
    if on.trim:
        margins = [(low, on.near, "margin"), (on.far, high, "margin")]
        chain_y(canvas, job, view, [margins[0], sheet, margins[1]], x_left, 10.0 + more)
        chain_y(canvas, job, view, borders, x_right, -13.5 - more)
    else:
        chain_y(canvas, job, view, [borders[0], sheet, borders[1]], x_right, -13.5 - more)
