"""Place the motif: a window of the panel's size slides over the cloth; a corner shows what it clears."""

from __future__ import annotations

import math
from collections.abc import Iterator

from shapely import Polygon, box

from generator.figures.arrows import action, numbered
from generator.figures.bolt import EDGE, LOW, SIDE, Bolt, bolt, paint_bolt
from generator.figures.callouts import within
from generator.figures.canvas import Canvas, Point, circle
from generator.figures.cloth import sprig
from generator.figures.dimensions import dimension
from generator.figures.hands import hand
from generator.figures.insets import inset, link
from generator.figures.labels import Label
from generator.figures.lettering import text_width
from generator.figures.model import Job, Picture
from generator.figures.numbers import say, shown, text, wider
from generator.figures.pattern_on_cloth import pattern_on_cloth
from generator.figures.pens import BROKEN_OFF, EM, HEAVY, LINER, MOTIF, NEW, PRINT, THIN, TOOL
from generator.figures.plan_board import Board, breaks
from generator.figures.plan_panel import chain_x, chain_y, face, word
from generator.figures.plane import add
from generator.figures.tools import tool
from generator.figures.view import Box

FRAME = 1.5
"""Width of the window's frame on paper, mm."""
TOP, LOW_END = 9.0, 39.0
"""Upper edge of the cloth, and how low it may reach, mm."""
NARROW = 50.0
"""A cloth as wide as this leaves room for the detail below it, mm."""
RADIUS, PLACE = 12.3, 2.6
"""Of the detail and of its place in the picture, mm."""
BAND = 5.0
"""Width of the frame in the detail, mm on paper."""
AROUND = 45.0
"""Repeat of a print whose repeat the recipe does not state, real mm."""
CLEAR = 9.2
"""The clearance as drawn in the detail: its value fits between the arrowheads, mm."""


def draw(job: Job) -> Picture:
    """From above, the cloth print up. The maker's hand slides the window; pins then hold its four corners."""
    if job.shade.tapered:
        return pattern_on_cloth(job, _kind(job))
    left, length, height = (
        job.size.makers.hand == "left",
        shown(job, "panel_length"),
        shown(job, "panel_height"),
    )
    canvas = Canvas(job.slot.width, job.slot.height + 24, view="plan")
    place = Box(1.0, TOP, job.slot.width - 11.0, LOW_END)
    # A narrow window stands on the hand's side, so that the detail has room on the other.
    width = min(place.width, 2 * SIDE + length * (LOW_END - TOP - 2 * EDGE) / height)
    if width < NARROW:
        place = (
            Box(1.0, TOP, 1.0 + width, LOW_END)
            if left
            else Box(place.right - width, TOP, place.right, LOW_END)
        )
    kind = _kind(job)
    # A pattern is centred, so its middle must not be left out.
    whole = bolt(job, place, length, height, LOW if kind == "plain" else 0.0)
    view = whole.view
    canvas.scale = view.scale
    side = -1.0 if left else 1.0
    paint_bolt(canvas, whole)
    _print(canvas, job, whole, kind)
    _window(canvas, view, length, height)
    breaks(canvas, view)
    centre = (0.0, shown(job, "motif_centre"), "motif_centre")
    middle = (0.0, shown(job, "motif_height"), "motif_height")
    along = (0.0, length, "panel_length") if kind == "plain" else centre
    across = middle if kind == "motif" else (0.0, height, "panel_height")
    chain_x(canvas, job, view, [along], height, 8.0, left=left)
    chain_y(canvas, job, view, [across], 0.0 if left else length, -9.5)
    with canvas.group("detail", "centre-line"):
        if kind != "plain":
            view.line(canvas, [(along[1], -FRAME / view.scale), (along[1], height)], BROKEN_OFF)
        if kind == "motif":
            view.line(canvas, [(along[1] - 30, across[1]), (length, across[1])], BROKEN_OFF)
    for x, angle in ((0.0, -25), (length, -155)):
        for y, s in ((height, 1), (0.0, -1)):
            tip = add(view(x, y), ((1.0 if x == 0 else -1.0) * side, s * 0.6))
            tool(canvas, "pin", tip, 180 - angle * s if left else angle * s, scale=0.8)
    grip = (view(length, 0.0)[0] - side * min(11.0, 0.45 * length * view.scale), view.bottom + FRAME - 0.4)
    hand(canvas, "flat", grip, 90, scale=0.75, flip=left)
    first = (grip[0] - side * 8.0, view.bottom + 9.0)
    action(canvas, [add(first, (-side * 2.0, 0.0)), add(first, (-side * 14.0, 0.0))])
    numbered(canvas, first, "1")
    second = add(view(length, 0.0), (side * 1.0, 8.5))
    with canvas.group("detail", "leader"):
        canvas.line([second, add(view(length, 0.0), (side * 1.6, 1.8))], THIN)
    numbered(canvas, second, "2")
    pin = say(job, "pin")
    start = within(canvas, second[0] - text_width(pin, EM) / 2, text_width(pin, EM))
    word(canvas, (start, second[1] + 5.0), pin, "pin", "start")
    if kind == "stripe":
        # The pattern is centred: no edge has to be cleared.
        at = add(view(0.2 * length, 0.0), (0.0, FRAME / 2))
        labels = [Label(say(job, "window"), at=at, wish=270)]
    else:
        labels = _detail(canvas, job, view, kind, side)
    if kind != "plain":
        labels.append(Label(say(job, "seam-line"), at=view(length, 0.8 * height), wish=90 + side * 25))
    return Picture(canvas, labels)


def _kind(job: Job) -> str:
    covering = job.size.covering
    if covering.direction == "one-way":
        return "motif"
    return "stripe" if covering.repeat and covering.repeat.around else "plain"


def _window(canvas: Canvas, view: Board, length: float, height: float) -> None:
    with canvas.group("new", "window"):
        for piece in view.pieces:
            with canvas.clip(piece.region):
                a, b = piece.frame((0.0, 0.0, 0.0)), piece.frame((length, height, 0.0))
                hole = box(min(a[0], b[0]), b[1], max(a[0], b[0]), a[1])
                canvas.area(hole.buffer(FRAME, join_style="mitre").difference(hole), LINER, NEW)
    with canvas.group("new", "seam-line"):
        view.line(canvas, [(0.0, 0.0), (0.0, height)], HEAVY)


def _print(canvas: Canvas, job: Job, whole: Bolt, kind: str) -> None:
    """The print so that a motif, or a stripe, stands in the window's middle."""
    view = whole.view
    if kind == "plain":
        face(canvas, job, view, whole.cloth)
        return
    lines = list(_motifs(job, kind, view.scale))
    for piece in view.pieces:
        with canvas.group("context", "print"), canvas.clip(whole.cloth.intersection(piece.region)):
            for line in lines:
                canvas.line([piece.frame((x, y, 0.0)) for x, y in line], MOTIF)


def _motifs(job: Job, kind: str, scale: float) -> Iterator[list[Point]]:
    """Whole repeats apart, so that lines stay apart on paper; motifs only where they clear the edges."""
    repeat = job.size.covering.repeat
    around = (repeat.around if repeat and repeat.around else None) or AROUND
    centre, length = shown(job, "motif_centre"), shown(job, "panel_length")
    middle, height = shown(job, "panel_height") / 2, shown(job, "panel_height")
    apart = 2.4 if kind == "stripe" else 6.0
    pitch = math.ceil(apart / (around * scale)) * around
    reach = math.ceil(length / 2 / pitch) + 1
    tall = 0.52 * height
    for k in range(-reach, reach + 1):
        x = centre + k * pitch
        if kind == "stripe":
            for edge in (-0.15, 0.15):
                yield [(x + edge * pitch, -height), (x + edge * pitch, 2 * height)]
        elif all(abs(x - end) > 0.3 * tall for end in (0.0, length)):
            for row in (-1, 0, 1):
                yield from sprig(x, middle + row * 1.1 * height, 0.6 * tall, tall)


def _detail(canvas: Canvas, job: Job, view: Board, kind: str, side: float) -> list[Label]:
    """The window's near corner at the seam: how far the motif, or a flaw, must stay from it."""
    clear, value = shown(job, "motif_clear"), text(job, "motif_clear")
    edge = shown(job, "motif_edge")
    k = (CLEAR + 1.8) / edge if kind == "motif" else CLEAR / clear
    # Outside a thin frame the value of a flaw's distance stands clear of the frame's own lines.
    band = 2.0 if kind == "plain" else BAND
    centre = (canvas.width / 2 - side * (canvas.width / 2 - RADIUS - 4.0), view.bottom + 3.0 + RADIUS)
    corner = add(centre, (side * 3.5, 5.5) if kind == "plain" else (-side * 7.0, 7.0))

    def at(u: float, v: float) -> Point:
        return corner[0] + side * u * k, corner[1] - v * k

    hole = Polygon([at(0, 0), at(90, 0), at(90, 90), at(0, 90)])
    to = 0.0 if side > 0 else 180.0
    labels = [
        Label(say(job, "window"), at=at(4.5, -band / 2 / k) if kind == "plain" else at(14.0, -2.5), wish=to)
    ]
    with inset(canvas, centre, RADIUS):
        with canvas.group("new", "window"):
            canvas.area(hole.buffer(band, join_style="mitre").difference(hole), LINER, NEW)
        with canvas.group("new", "seam-line"):
            canvas.line([at(0, 0), at(0, 90)], HEAVY)
        if kind == "plain":
            _flaw(canvas, at(-clear, 7.0))
            labels.append(Label(say(job, "seam-line"), at=at(0.0, 12.0), wish=to))
            labels.append(Label(say(job, "flaw"), at=at(-clear - 0.4, 3.6), wish=250 if side > 0 else 290))
        else:
            lines = list(sprig(0.0, 0.0, 6.5 / k, 7.0 / k))
            low = min(y for line in lines for _, y in line)
            near = min(x for line in lines for x, _ in line)
            with canvas.group("context", "motif"):
                for line in lines:
                    canvas.line([at(x - near + clear, y - low + edge) for x, y in line], TOOL)
            labels.append(Label(say(job, "motif"), at=at(clear - near, edge + 3.5 / k), wish=to))
    if kind == "plain":
        a, b = sorted((at(-clear, 3.0), at(0.0, 3.0)))
        with canvas.enlarged():
            # At the right edge of the picture a fraction has no room past the end.
            past = "start" if side < 0 and wider(job, "motif_clear") else "end"
            dimension(canvas, a, b, value, measure="motif_clear", value=clear, offset=0.0, outside=past)
    else:
        a, b = at(clear + 8.0 / k, 0.0), at(clear + 8.0 / k, edge)
        high = text(job, "motif_edge")
        with canvas.enlarged():
            dimension(canvas, a, b, high, measure="motif_edge", value=edge, offset=0.0, text_side=side)
    canvas.blocked.append(circle(centre, RADIUS))
    rim = 40 if kind == "plain" else 215
    link(
        canvas,
        view(0.0, 0.0),
        PLACE,
        centre,
        RADIUS,
        "A",
        at_place=300 if side > 0 else 240,
        at_detail=rim if side > 0 else 180 - rim,
    )
    return labels


def _flaw(canvas: Canvas, at: Point) -> None:
    """A slub in the weave: a knot with two ends of thread."""
    x, y = at
    with canvas.group("context", "flaw"):
        canvas.line(
            [(x - 0.7, y - 4.5), (x + 0.1, y - 2.2), (x, y), (x - 0.2, y + 2.2), (x + 0.6, y + 4.5)], TOOL
        )
        canvas.area([(x, y - 2.2), (x + 1.0, y - 0.4), (x - 0.1, y + 2.2), (x - 1.0, y + 0.3)], PRINT)
