"""Full-scale drawings painted: a tile with what joins it to others, one whole sheet, the map, the bar."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from functools import partial

from shapely import LineString, MultiPolygon, Polygon, box, unary_union
from shapely import Point as Dot
from shapely.geometry.base import BaseGeometry

from generator.base.errors import FigureError
from generator.base.message import catalogued, joined, message
from generator.figures.canvas import Canvas, Mark, circle
from generator.figures.lettering import ASCENT, text_width
from generator.figures.model import Figure
from generator.figures.pattern.model import PENS, Drawing, Layer, Line, Point, Spot
from generator.figures.pattern.names import Names
from generator.figures.pattern.tiles import LEAD, TAB, Grid, Tile, neighbour
from generator.figures.pens import BENCH, INK, RULE, SOFT, THIN, Pen
from generator.figures.svg import Passport, write_svg
from generator.measures.full_scale import BAR, INCH_BAR, INCH_BAR_MM

Say = Callable[..., str]

JOIN = Pen(0.25, SOFT, (1.0, 1.0), "butt")
"""A joining line: fine dots, unlike any line of the pattern."""
CROSS = Pen(0.25, INK, (), "butt")
ARM, RING = 3.5, 1.8
"""Half a registration cross and the radius of its circle, mm."""
NAME, STRIP_WORDS = 14.0, 3.0
"""Letters of a tile's name and of what stands in its strips, mm to the em."""
BAR_HEIGHT, BAR_RISE = 1.6, 3.4
"""The calibration bar and its ticks, mm."""
INCHES_HIGH, INCHES_RISE, INCHES_APART = 1.3, 1.6, 0.4
"""The same of each of two bars, one for millimetres and one for inches, and the paper between them, mm."""


def lines_on(
    canvas: Canvas, lines: Sequence[Line], to_paper: Callable[[Point], Point], region: BaseGeometry
) -> list[BaseGeometry]:
    """Paint lines, cut off at the region; returns them on paper for whoever must keep off them."""
    before = len(canvas.items)
    # A cut lies over everything else.
    for line in sorted(lines, key=lambda line: line.layer == "cut"):
        points = [to_paper(point) for point in line.points]
        if line.closed:
            points.append(points[0])
        with canvas.group("context", f"{line.layer} {line.part}"), canvas.clip(region):
            canvas.line(points, PENS[line.layer])
    return [item.shape for item in canvas.items[before:] if isinstance(item, Mark)]


def on_paper(drawing: Drawing, to_paper: Callable[[Point], Point]) -> tuple[list[Line], list[Spot]]:
    """Lines with points on paper, and places with directions on paper."""
    moved = drawing.moved_by(to_paper)
    return list(moved.lines), list(moved.spots)


def tile_figure(
    grid: Grid,
    tile: Tile,
    say: Say,
    named: set[int],
    lined: set[str],
    least: float = 0.0,
    relaxed: frozenset[str] = frozenset(),
) -> Figure:
    """One tile: its part of the drawing, its name, crosses, and the strips to glue and to cut off.

    ``named`` collects the indices of the drawing's places that found room for their name on some tile,
    ``lined`` the names of lines that did. No letter is smaller than ``least``, mm to the em, but for
    ``relaxed`` names of lines.
    """
    left, _, _, top = tile.window
    width, height = grid.page.frame
    canvas = Canvas(width, height, view="pattern", scale=1.0)

    def to_paper(p: Point) -> Point:
        return p[0] - left, top - p[1]

    room = _room(tile, width, height)
    taken = _strips(canvas, tile)
    lines, spots = on_paper(grid.drawing, to_paper)
    taken += [
        shape.buffer(0.3)
        for shape in lines_on(canvas, grid.drawing.lines, to_paper, box(0, 0, width, height))
    ]
    taken += _crosses(canvas, tile, width, height)
    taken += _strip_words(canvas, grid, tile, say, taken, least)
    names = Names(canvas, partial(name_of, say), room, taken, least=least, relaxed=relaxed)
    mine = {index: spot for index, spot in enumerate(spots) if room.covers(Dot(spot.at))}
    missing = names.spots(mine.values())
    named |= {index for index, spot in mine.items() if spot not in missing}
    area = Polygon([to_paper(point) for point in grid.drawing.loop])
    _name(canvas, tile.name, names, area.intersection(room), room)
    names.lines(lines)
    lined |= names.placed
    alt = say("alt.pattern-tile", tile=tile.name)
    svg = write_svg(canvas, Passport(f"pattern-tile-{tile.name}", f"tile-{tile.name}", 0, alt))
    return Figure(f"tile-{tile.name.lower()}", 0, svg, width, height, alt)


def name_of(say: Say, noun: str, **values: object) -> str:
    """The name of a thing on the drawing."""
    return say(f"pattern.name.{noun}", **values)


def _room(tile: Tile, width: float, height: float) -> BaseGeometry:
    """Where names may stand: up to the joining lines, and to the frame where nothing is joined."""
    return box(
        LEAD if "left" in tile.joins else 0.0,
        LEAD if "above" in tile.joins else 0.0,
        width - (TAB if "right" in tile.joins else 0.0),
        height - (TAB if "below" in tile.joins else 0.0),
    )


def _strips(canvas: Canvas, tile: Tile) -> list[BaseGeometry]:
    """What lies beyond the joining lines: grey where glue goes."""
    width, height = canvas.width, canvas.height
    left, top, right, bottom = _room(tile, width, height).bounds
    strips = {
        "right": (box(width - TAB, top, width, bottom), (width - TAB, top), (width - TAB, bottom)),
        "below": (box(left, height - TAB, right, height), (left, height - TAB), (right, height - TAB)),
        "left": (box(0, top, LEAD, bottom), (LEAD, top), (LEAD, bottom)),
        "above": (box(left, 0, right, LEAD), (left, LEAD), (right, LEAD)),
    }
    taken: list[BaseGeometry] = []
    with canvas.group("context", "strips"):
        for side, (strip, start, stop) in strips.items():
            if side in tile.joins:
                if side in ("right", "below"):
                    canvas.area(strip, BENCH)
                canvas.line([start, stop], JOIN)
                taken.append(LineString([start, stop]).buffer(0.3))
    return taken


def _strip_words(
    canvas: Canvas, grid: Grid, tile: Tile, say: Say, taken: Sequence[BaseGeometry], least: float
) -> list[BaseGeometry]:
    """Which tile lies on each grey strip, where no line runs through."""
    left, top, right, bottom = _room(tile, canvas.width, canvas.height).bounds
    strips = {
        "right": (box(canvas.width - TAB, top, canvas.width, bottom), 90.0),
        "below": (box(left, canvas.height - TAB, right, canvas.height), 0.0),
    }
    found: list[BaseGeometry] = []
    for side, (strip, angle) in strips.items():
        if side not in tile.joins:
            continue
        text = say("pattern.tile.glue", tile=neighbour(grid, tile, side).name)
        names = Names(canvas, say, strip, list(taken))
        names.within(text, max(STRIP_WORDS, least), angle)
        found += names.taken[len(taken) :]
    return found


def _crosses(canvas: Canvas, tile: Tile, width: float, height: float) -> list[BaseGeometry]:
    """Registration crosses at the corners of the cell that two tiles or more share."""
    found: list[BaseGeometry] = []
    for vertical in ("left", "right"):
        for level in ("above", "below"):
            if not {vertical, level} & tile.joins:
                continue
            x = LEAD if vertical == "left" else width - TAB
            y = LEAD if level == "above" else height - TAB
            with canvas.group("context", "cross"):
                canvas.line([(x - ARM, y), (x + ARM, y)], CROSS)
                canvas.line([(x, y - ARM), (x, y + ARM)], CROSS)
                canvas.line(circle((x, y), RING).exterior, CROSS)
            found.append(box(x - ARM, y - ARM, x + ARM, y + ARM))
    return found


def _name(canvas: Canvas, name: str, names: Names, wish: BaseGeometry, room: BaseGeometry) -> None:
    """The tile's name, large and grey, where most paper is free: on the pattern if there is room."""
    half, high = text_width(name, NAME, 600) / 2, ASCENT * NAME / 2
    busy = unary_union(names.taken)
    best: tuple[float, float, Point] | None = None
    left, top, right, bottom = room.bounds
    for i in range(1, 16):
        for j in range(1, 12):
            at = (left + (right - left) * i / 16, top + (bottom - top) * j / 12)
            place = box(at[0] - half, at[1] - high, at[0] + half, at[1] + high)
            if not room.contains(place):
                continue
            free = min(place.distance(busy), 12.0)
            rank = (round(free, 6) if free > 0 else -1.0, float(wish.contains(place)), at)
            if best is None or (rank[0] > 1.0, rank[1], rank[0]) > (best[0] > 1.0, best[1], best[0]):
                best = rank
    if best is None or best[0] <= 0:
        raise FigureError(message("tile {name} has no room for its name", name=name))
    x, y = best[2]
    with canvas.group("label", "tile"):
        canvas.letters((x, y + high), name, size=NAME, weight=600, fill=RULE, anchor="middle")
    names.taken.append(box(x - half, y - high, x + half, y + high))


def whole_canvas(drawing: Drawing, say: Say, border: float, least: float = 0.0) -> Canvas:
    """The drawing in one piece with its names, no letter smaller than ``least``, mm to the em.

    Names of lines that have no room in such letters are smaller. Raises FigureError if a name that is needed
    finds no room.
    """
    relaxed: frozenset[str] = frozenset()
    while True:
        canvas, placed = _whole(drawing, say, border, least, relaxed)
        lost = frozenset(line.noun for line in drawing.lines if line.noun) - placed
        if relaxed or not least or not lost:
            return canvas
        relaxed = lost


def _whole(
    drawing: Drawing, say: Say, border: float, least: float, relaxed: frozenset[str]
) -> tuple[Canvas, set[str]]:
    """The drawing with its names, and which lines have one."""
    left, bottom, right, top = drawing.box
    canvas = Canvas(
        round(right - left + 2 * border, 2), round(top - bottom + 2 * border, 2), view="pattern", scale=1.0
    )

    def to_paper(p: Point) -> Point:
        return p[0] - left + border, top - p[1] + border

    room = box(0, 0, canvas.width, canvas.height)
    lines, spots = on_paper(drawing, to_paper)
    drawn = lines_on(canvas, drawing.lines, to_paper, room)
    taken: list[BaseGeometry] = [shape.buffer(0.3) for shape in drawn]
    names = Names(canvas, partial(name_of, say), room, taken, least=least, relaxed=relaxed)
    missing = names.spots(spots)
    refuse_lost(spots, (index for index, spot in enumerate(spots) if spot not in missing))
    names.lines(lines)
    return canvas, set(names.placed)


def refuse_lost(spots: Sequence[Spot], named: Iterable[int]) -> None:
    """Raise FigureError if a name that is needed has no place; ``named`` are indices of those that have."""
    done = set(named)
    had = {spots[index].noun for index in done}
    lost = {
        spot.noun
        for index, spot in enumerate(spots)
        if spot.needed and index not in done and not (spot.anywhere and spot.noun in had)
    }
    if lost:
        names = joined(catalogued(f"pattern.name.{noun}", noun) for noun in sorted(lost))
        raise FigureError(message("the pattern has no room for {names}", names=names))


def whole_figure(canvas: Canvas, say: Say) -> Figure:
    """The drawing on one sheet of its own size."""
    alt = say("alt.pattern-whole")
    svg = write_svg(canvas, Passport("pattern-whole", "whole", 0, alt))
    return Figure("pattern-whole", 0, svg, canvas.width, canvas.height, alt)


def bar_figure(say: Say, *, inches: bool = False) -> Figure:
    """The calibration bar: one filled strip, as long as it says, with a tick at each tenth.

    ``inches``: below it a second one for a rule in inches, with a tick at each half inch.
    """
    high, rise = (INCHES_HIGH, INCHES_RISE) if inches else (BAR_HEIGHT, BAR_RISE)
    below = INCHES_APART + high + INCHES_RISE if inches else 0.0
    wide = INCH_BAR_MM if inches else BAR
    canvas = Canvas(wide, rise + high + below, view="pattern", scale=1.0)
    with canvas.group("context", "bar"):
        canvas.area(box(0, rise, BAR, rise + high), INK)
        for k in range(11):
            top = 0.0 if k % 5 == 0 else 0.4 * rise
            canvas.area(_tick(BAR, k / 10, top, rise), INK)
    if inches:
        top = rise + high + INCHES_APART
        halves = round(2 * INCH_BAR)
        with canvas.group("context", "inch-bar"):
            canvas.area(box(0, top, wide, top + high), INK)
            for k in range(halves + 1):
                end = canvas.height if k % 2 == 0 else canvas.height - 0.4 * INCHES_RISE
                canvas.area(_tick(wide, k / halves, top + high, end), INK)
    alt = say("alt.pattern-bar.inches" if inches else "alt.pattern-bar")
    svg = write_svg(canvas, Passport("pattern-bar", "bar", 0, alt))
    return Figure("pattern-bar", 0, svg, wide, canvas.height, alt)


def _tick(wide: float, share: float, top: float, bottom: float) -> BaseGeometry:
    x = min(max(wide * share, 0.125), wide - 0.125)
    return box(x - 0.125, top, x + 0.125, bottom)


def sample_figure(layer: Layer | None, say: Say) -> Figure:
    """A short piece of one kind of line; None: a joining line with a cross."""
    canvas = Canvas(26.0, 5.0, view="pattern")
    name = layer or "join"
    with canvas.group("context", name):
        canvas.line([(1.0, 2.5), (25.0, 2.5)], PENS[layer] if layer else JOIN)
        if layer is None:
            canvas.line([(13.0, 0.3), (13.0, 4.7)], CROSS)
            canvas.line(circle((13.0, 2.5), RING).exterior, CROSS)
    alt = say(f"alt.pattern-line-{name}")
    svg = write_svg(canvas, Passport(f"pattern-line-{name}", f"line-{name}", 0, alt))
    return Figure(f"line-{name}", 0, svg, canvas.width, canvas.height, alt)


def map_figure(
    grids: Sequence[Grid], say: Say, width: float = 178.0, height: float = 92.0, least: float = 0.0
) -> Figure:
    """All tiles as they lie side by side, small, with the drawing in them."""
    gap = 6.0
    spans = [(grid.columns * grid.cell[0], grid.rows * grid.cell[1]) for grid in grids]
    room = (width - gap * (len(grids) - 1) - 1.0) / sum(span[0] for span in spans)
    scale = min(room, (height - 1.0) / max(span[1] for span in spans))
    tall = max(span[1] for span in spans) * scale + 1.0
    total = sum(span[0] for span in spans) * scale + gap * (len(grids) - 1) + 1.0
    canvas = Canvas(width, round(tall, 2), view="pattern")
    x0 = (width - total) / 2 + 0.5
    for grid, (wide, high) in zip(grids, spans, strict=True):
        origin = grid.origin

        def small(p: Point, x0: float = x0, origin: Point = origin, high: float = high) -> Point:
            return x0 + (p[0] - origin[0]) * scale, 0.5 + (high - (p[1] - origin[1])) * scale

        with canvas.group("context", "sheet"):
            area = Polygon([small(point) for point in grid.drawing.loop])
            if isinstance(area.buffer(0), Polygon | MultiPolygon):
                canvas.area(area, BENCH, PENS["cut"])
            for line in grid.drawing.lines:
                if line.part.startswith("grain"):
                    canvas.line([small(point) for point in line.points], THIN)
        with canvas.group("context", "tiles"):
            for tile in grid.tiles:
                a, b, c, d = tile.cell
                canvas.area(box(*small((a, b)), *small((c, d))), None, THIN.tinted(SOFT))
        for tile in grid.tiles:
            a, b, c, d = tile.cell
            x, y = small(((a + c) / 2, (b + d) / 2))
            size = min(max(5.0, least), (c - a) * scale / 2.4)
            with canvas.group("label", "tiles"):
                canvas.letters(
                    (x, y + size * 0.33), tile.name, size=max(size, 2.9), weight=600, anchor="middle",
                    halo=True,
                )  # fmt: skip
        x0 += wide * scale + gap
    alt = say("alt.pattern-map")
    svg = write_svg(canvas, Passport("pattern-map", "map", 0, alt))
    return Figure("pattern-map", 0, svg, canvas.width, canvas.height, alt)
