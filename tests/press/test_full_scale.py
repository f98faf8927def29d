"""The pattern measured on its printed pages: lengths out of drawing operators, tiles joined at crosses."""

from __future__ import annotations

import io
import math
import re
from dataclasses import replace
from functools import cache
from itertools import pairwise
from typing import NamedTuple, get_args

import page as checker
import pikepdf
import pytest
from shapely import LineString, MultiLineString, Polygon, box, line_merge, unary_union
from shapely import Point as Dot
from shapely.geometry.base import BaseGeometry

from generator.base.assets import data_folder
from generator.base.edition import LETTERS, PAPERS, PaperName, PrintSize, Wishes
from generator.base.errors import ProofError
from generator.examine import examine
from generator.figures.pattern.model import Pattern
from generator.fitting import trace
from generator.pipeline import Drawn, print_document
from generator.plan.work import Work
from generator.press.geometry import MM_PER_POINT
from generator.press.press import press
from generator.press.proof import prove
from generator.press.reading import sheets as read_sheets
from generator.press.wish import Wish
from tests.press.drawn import Path, Point, pages
from tests.press.pages import GOOD_FIGURES, GOOD_PAGE

SAMPLES = {
    "fog-cone": "35",
    "pier-drum": "25",
    "capstan": "24",
    "coble-oval": "36x26",
    "beacon-50": "50",
    "slipway-45": "45",
}
CUT, CROSS = 0.5, 0.25
LEAD, TAB, SIDE, HEAD = 4.0, 10.0, 10.0, 8.0


class Joined(NamedTuple):
    """Tiles laid side by side so that their crosses meet: cut lines of each in one plane, y down."""

    names: list[str]
    shifts: dict[str, Point]
    cuts: dict[str, MultiLineString]
    cells: dict[str, Polygon]


@cache
def work(name: str) -> Work:
    found = examine(data_folder("recipes") / f"{name}.yaml").work(SAMPLES[name])
    assert found is not None
    return found


@cache
def traced(name: str, paper: PaperName | None = None, size: PrintSize = "normal") -> Drawn:
    (edition,) = work(name).size.editions(Wishes(paper=paper, print_size=size))
    return trace(work(name), edition)


@cache
def printed(
    name: str, kind: str = "pattern", paper: PaperName | None = None, size: PrintSize = "normal"
) -> bytes:
    return print_document(kind, traced(name, paper, size)).pdf


def pattern_of(name: str, paper: PaperName | None = None, size: PrintSize = "normal") -> Pattern:
    pattern = traced(name, paper, size).pattern
    assert pattern is not None
    return pattern


def leaves(name: str, size: PrintSize = "normal") -> list[tuple[Point, list[Path]]]:
    """The pages with drawings, which are the last ones."""
    return pages(printed(name, size=size))[-len(pattern_of(name, size=size).leaves) :]


def width_is(path: Path, width: float) -> bool:
    return abs(path.width - width) < 0.01 and not path.dash


def crosses(paths: list[Path]) -> list[Point]:
    """Middles of circles of 3.6 mm: what a registration cross has round its middle."""
    found = set()
    for path in paths:
        for run in path.runs if width_is(path, CROSS) else ():
            xs, ys = [x for x, _ in run], [y for _, y in run]
            size = (max(xs) - min(xs), max(ys) - min(ys))
            if len(run) > 12 and all(abs(side - 3.6) < 0.05 for side in size):
                found.add((round((max(xs) + min(xs)) / 2, 3), round((max(ys) + min(ys)) / 2, 3)))
    return sorted(found)


def tile_names(name: str, size: PrintSize = "normal") -> list[str]:
    """Tiles of the panel, in the order of their pages."""
    return [leaf.name for leaf in pattern_of(name, size=size).leaves if leaf.title == "pattern.leaf.panel"]


@cache
def joined(name: str, size: PrintSize = "normal") -> Joined:
    """Tiles put where their crosses lie on those of their neighbours: by the crosses alone."""
    sheets = dict(zip(tile_names(name, size), leaves(name, size), strict=False))
    band = pattern_of(name, size=size).band
    marks = {tile: crosses(paths) for tile, (_, paths) in sheets.items()}
    first = next(iter(sheets))
    shifts: dict[str, Point] = {first: (0.0, 0.0)}
    waiting = [first]
    while waiting:
        tile = waiting.pop()
        row, column = tile[0], int(tile[1:])
        below, above = chr(ord(row) + 1), chr(ord(row) - 1)
        sides = [(f"{row}{column + 1}", False), (f"{below}{column}", False)]
        sides += [(f"{row}{column - 1}", True), (f"{above}{column}", True)]
        for other, back in sides:
            if other not in sheets or other in shifts:
                continue
            sideways = other[0] == row
            a, b = (marks[other], marks[tile]) if back else (marks[tile], marks[other])
            axis = 0 if sideways else 1
            ours = sorted(p for p in a if p[axis] == max(q[axis] for q in a))
            theirs = sorted(p for p in b if p[axis] == min(q[axis] for q in b))
            pairs = [(p, q) for p in ours for q in theirs if abs(p[1 - axis] - q[1 - axis]) < 1.0]
            assert pairs, f"{tile} and {other} share no cross"
            (px, py), (qx, qy) = pairs[0]
            sign = -1.0 if back else 1.0
            dx, dy = shifts[tile]
            shifts[other] = (dx + sign * (px - qx), dy + sign * (py - qy))
            waiting.append(other)
    cuts, cells = {}, {}
    for tile, ((width, height), paths) in sheets.items():
        dx, dy = shifts[tile]
        lines = [
            LineString([(x + dx, y + dy) for x, y in run])
            for path in paths
            if width_is(path, CUT)
            for run in path.runs
        ]
        cuts[tile] = MultiLineString(lines)
        # Below the frame there is the band with the bar.
        cells[tile] = box(
            SIDE + LEAD + dx, HEAD + LEAD + dy, width - SIDE - TAB + dx, height - 14.0 - band - TAB + dy
        )
    return Joined(list(sheets), shifts, cuts, cells)


def gap(name: str, size: PrintSize = "normal") -> float:
    """Farthest distance between the ends of cut lines that meet at a joining line, mm."""
    laid = joined(name, size)
    worst, met = 0.0, 0
    for tile in laid.names:
        for other in laid.names:
            shared = laid.cells[tile].buffer(0.01).intersection(laid.cells[other].buffer(0.01))
            if tile >= other or shared.length < 10:
                continue
            line = laid.cells[tile].boundary.intersection(laid.cells[other].buffer(0.02))
            ends = [list(_points(laid.cuts[each].intersection(line))) for each in (tile, other)]
            assert len(ends[0]) == len(ends[1]), (tile, other)
            for one, two in zip(*map(sorted, ends), strict=True):
                # Where a curve touches a joining line its end is uncertain, but not where the curve lies.
                apart = min(math.dist(one, two), laid.cuts[other].distance(Dot(one)))
                worst, met = max(worst, apart), met + 1
    # The outline crosses the joining lines between tiles an even number of times.
    assert met >= len(laid.names) - 1
    return worst


def _points(shape: object) -> set[Point]:
    parts = getattr(shape, "geoms", [shape])
    return {(part.x, part.y) for part in parts if part.geom_type == "Point"}


@pytest.mark.parametrize("name", SAMPLES)
def test_each_page_has_a_bar_of_one_hundred_millimetres_in_one_piece(name: str) -> None:
    """And one of four inches, 4 × 25.4 mm, where the recipe has lengths in inches."""
    wanted = [100.0, 4 * 25.4] if work(name).size.units == "inch" else [100.0]
    for kind in ("pattern", "pattern-whole"):
        for _, paths in pages(printed(name, kind)):
            filled = [path.box for path in paths if path.width == 0.0]
            bars = [(r - l, b - t) for l, t, r, b in filled if 1.0 < b - t < 2.0 and r - l > 60.0]  # noqa: E741
            assert sorted(wide for wide, _ in bars) == pytest.approx(wanted, abs=0.02)


@pytest.mark.parametrize("name", SAMPLES)
def test_lines_meet_within_a_tenth_of_a_millimetre_where_crosses_are_laid_on_crosses(name: str) -> None:
    assert gap(name) <= 0.1


def test_the_joined_outline_of_a_drum_is_the_rectangle_that_the_arithmetic_gives() -> None:
    # Panel of pier-drum 25: pi x 250 + 2 pi (0.15 + 0.35 / 2) + 10 long, 180 + 2 x 15 high.
    length, height = math.pi * 250 + 2 * math.pi * (0.15 + 0.175) + 10, 180 + 30
    assert loop_length("pier-drum") == pytest.approx(2 * (length + height), abs=0.1)


def test_the_joined_outline_of_a_cone_is_two_arcs_and_two_seam_edges() -> None:
    # Radii of the sheet's middle: R + d cot a, margins outside; the angle stays (elementary mensuration).
    half, height, d, margin, overlap = (350 - 200) / 2, 220.0, 0.15 + 0.175, 15.0, 10.0
    slant = math.hypot(half, height)
    angle = 2 * math.pi * half / slant
    cot = height / half
    low, high = 175 * slant / half + d * cot, 100 * slant / half + d * cot
    arcs = angle * (low + margin) + angle * (high - margin)
    edges = 2 * (slant + 2 * margin) + 2 * overlap
    assert loop_length("fog-cone") == pytest.approx(arcs + edges, abs=0.1)


def test_the_joined_outline_of_one_of_two_panels_is_the_half_of_the_arithmetic() -> None:
    # Slipway 45: (pi x 450 + 2 pi (0.15 + 0.175)) / 2 + 10 long, 250 + 2 x 15 high.
    length = (math.pi * 450 + 2 * math.pi * 0.325) / 2 + 10
    assert loop_length("slipway-45") == pytest.approx(2 * (length + 280), abs=0.1)
    # Beacon 50: half of the sector of a cone 500 to 280, 250 high; without kiss cuts it ends at the rims.
    half, d, overlap = (500 - 280) / 2, 0.325, 10.0
    slant = math.hypot(half, 250.0)
    low, high = 250 * slant / half + d * 250 / half, 140 * slant / half + d * 250 / half
    arcs = math.pi * half / slant * (low + high)
    assert sheet_length("beacon-50") == pytest.approx(arcs + 2 * slant + 2 * overlap, abs=0.1)


def loop_length(name: str, size: PrintSize = "normal") -> float:
    """Once round the outline: the pieces within the cells, the outermost ones up to the frame."""
    laid = joined(name, size)
    total = 0.0
    for tile in laid.names:
        left, top, right, bottom = laid.cells[tile].bounds
        row, column = tile[0], int(tile[1:])
        grow = {
            "left": f"{row}{column - 1}", "right": f"{row}{column + 1}",
            "above": f"{chr(ord(row) - 1)}{column}", "below": f"{chr(ord(row) + 1)}{column}",
        }  # fmt: skip
        free = {side: 20.0 if other not in laid.names else 0.0 for side, other in grow.items()}
        room: BaseGeometry = box(
            left - free["left"], top - free["above"], right + free["right"], bottom + free["below"]
        )
        # A corner of the frame beyond a neighbour's cell belongs to that neighbour.
        room = room.difference(unary_union([laid.cells[o] for o in laid.names if o != tile]))
        total += line_merge(laid.cuts[tile]).intersection(room).length
    return total


def sheet_loop(name: str) -> list[Point]:
    """The outline on the one sheet, which must be a single closed piece within the sheet."""
    ((width, height), paths) = pages(printed(name, "pattern-whole"))[0]
    loops = [run for path in paths if width_is(path, CUT) for run in path.runs]
    assert len(loops) == 1
    assert loops[0][0] == pytest.approx(loops[0][-1])
    xs, ys = [x for x, _ in loops[0]], [y for _, y in loops[0]]
    assert 5 < min(xs) < max(xs) < width - 5
    assert 5 < min(ys) < max(ys) < height - 5
    return loops[0]


def sheet_length(name: str) -> float:
    return sum(math.dist(a, b) for a, b in pairwise(sheet_loop(name)))


@pytest.mark.parametrize("name", SAMPLES)
def test_the_one_sheet_shows_the_outline_in_one_closed_piece_of_the_same_length(name: str) -> None:
    # On the tiles of beacon-50 a rim touches a joining line: what lies on that line is counted on both.
    within = 0.3 if name == "beacon-50" else 0.15
    assert sheet_length(name) == pytest.approx(loop_length(name), abs=within)


@pytest.mark.parametrize("paper", ["A3", "Letter"])
def test_every_page_is_of_the_paper_asked_for_and_has_its_bar(paper: PaperName) -> None:
    # ISO 216: A3 is 297 x 420 mm. Letter is 8 1/2 x 11 in (ANSI/ASME Y14.1, from memory).
    sides = {"A3": (297.0, 420.0), "Letter": (8.5 * 25.4, 11 * 25.4)}[paper]
    found = pages(printed("fog-cone", "pattern", paper))
    assert len(found) == 1 + len(pattern_of("fog-cone", paper).leaves)
    for size, paths in found:
        assert sorted(size) == pytest.approx(sides, abs=0.01)
        bars = [path.box for path in paths if path.width == 0.0]
        assert any(r - l == pytest.approx(100.0, abs=0.02) for l, t, r, b in bars if b - t < 2.0)  # noqa: E741


def test_a_recipe_says_the_paper_where_the_command_does_not() -> None:
    size = work("fog-cone").size
    cases: tuple[tuple[PaperName, PaperName | None, PaperName], ...] = (
        ("A4", None, "A4"),
        ("Letter", None, "Letter"),
        ("Letter", "A3", "A3"),
    )
    for mine, asked, found in cases:
        mind = replace(work("fog-cone"), size=size.model_copy(update={"paper": mine}))
        pattern = trace(mind, *mind.size.editions(Wishes(paper=asked))).pattern
        assert pattern is not None
        assert pattern.paper.name == found
    assert set(get_args(PaperName)) == set(PAPERS)


@pytest.mark.parametrize("kind", ["pattern", "pattern-whole"])
def test_the_file_asks_to_be_printed_unscaled_and_passes_the_machine_checker(kind: str) -> None:
    pdf = printed("pier-drum", kind)
    with pikepdf.open(io.BytesIO(pdf)) as file:
        assert file.Root.ViewerPreferences.PrintScaling == pikepdf.Name("/None")
    report = checker.validate_pdf_bytes(pdf, profile="ua1")
    assert [(failure.rule_id, failure.message) for failure in report.failures] == []


def test_the_proof_refuses_a_full_scale_page_without_its_bar_and_a_file_that_may_be_scaled() -> None:
    with pytest.raises(ProofError, match="no bar of 100 mm"):
        press(GOOD_PAGE, GOOD_FIGURES, Wish(bar=100.0))
    with pytest.raises(ProofError, match="does not ask to be printed at full size"):
        prove(press(GOOD_PAGE, GOOD_FIGURES).pdf, Wish(bar=100.0))
    with pytest.raises(ProofError, match=r"no bar of 101 mm"):
        prove(printed("pier-drum"), Wish(bar=101.0))
    with pytest.raises(ProofError, match=r"no bar of 101\.6 mm"):
        prove(printed("pier-drum"), Wish(bar=100.0, inch_bar=4 * 25.4))


LARGE = [("pier-drum", "large"), ("pier-drum", "larger"), ("capstan", "large"), ("slipway-45", "large")]
every_large = pytest.mark.parametrize(("name", "size"), LARGE)


@every_large
def test_in_large_print_every_page_has_its_bar_and_tiles_meet_as_ever(name: str, size: PrintSize) -> None:
    assert traced(name, size=size).instead == ""
    for _, paths in pages(printed(name, size=size)):
        bars = [path.box for path in paths if path.width == 0.0]
        assert any(r - l == pytest.approx(100.0, abs=0.02) for l, t, r, b in bars if b - t < 2.0)  # noqa: E741
    assert gap(name, size) <= 0.1
    # No tile is laid out anew without its outline staying what it is.
    assert loop_length(name, size) == pytest.approx(sheet_length(name), abs=0.15)


@every_large
def test_in_large_print_no_letter_is_small(name: str, size: PrintSize) -> None:
    """What is drawn is 18 or 24 points high; what stands beside a bar 16 or 21; running lines 13.5 or 18.

    But the name of the seam tape, between two lines ten millimetres apart, has sometimes no room so large.
    """
    asked = LETTERS[size]
    for sheet in read_sheets(printed(name, size=size)):
        for run in sheet.runs:
            high = min(letter.thing.size for letter in run.letters)
            running = all(letter.thing.furniture for letter in run.letters)
            if run.text.strip() != "seam tape":
                assert high >= (0.75 if running else 8 / 9) * asked - 0.04, run.text
            assert high >= 9.98
    for leaf in pattern_of(name, size=size).leaves:
        heights = [float(high) * 72 / 25.4 for high in re.findall(r'font-size="([\d.]+)"', leaf.figure.svg)]
        assert len([high for high in heights if high < asked - 0.05]) <= 1, leaf.name


@every_large
def test_in_large_print_whatever_a_drawing_says_is_said(name: str, size: PrintSize) -> None:
    usual, large = (words_of(pattern_of(name, size=each)) for each in ("normal", size))
    tiles = re.compile(r"^[A-Z]\d+$|^[a-z]$|: [A-Z]\d+ ")
    lost = {words for words in usual if words not in large and not tiles.search(words)}
    # A sentence may stand in several lines there.
    whole = " ".join(large)
    assert {words for words in lost if any(word not in whole for word in words.split())} == set()


def words_of(pattern: Pattern) -> list[str]:
    return [words for leaf in pattern.leaves for words in re.findall(r"<text[^>]*>([^<]+)<", leaf.figure.svg)]


@every_large
def test_in_large_print_each_number_of_a_scale_stands_above_its_own_tick(name: str, size: PrintSize) -> None:
    """Read from the page: the ticks of 7 mm, and the numbers on end above them."""
    measures = traced(name, size=size).work.measures
    scales = [one for key, one in measures.by_id.items() if key.startswith("proof_") and one.values]
    written = sorted(f"{value:g}" for scale in scales for value in scale.values)
    seen: list[str] = []
    for (_, paths), sheet in zip(
        pages(printed(name, size=size)), read_sheets(printed(name, size=size)), strict=True
    ):
        ticks = {
            round(run[0][0], 2)
            for path in paths
            if abs(path.width - 0.25) < 0.01
            for run in path.runs
            if len(run) == 2 and run[0][0] == run[1][0] and abs(abs(run[0][1] - run[1][1]) - 7.0) < 0.02
        }
        for run in sheet.runs if ticks else ():
            if run.text in written and run.letters[0].thing.size > 12:
                boxes = [letter.thing.box for letter in run.letters]
                left, right = (
                    min(box.left for box in boxes) * MM_PER_POINT,
                    max(box.right for box in boxes) * MM_PER_POINT,
                )
                assert min(abs((left + right) / 2 - tick) for tick in ticks) < 1.0, run.text
                seen.append(run.text)
    assert sorted(seen) == written


@pytest.mark.parametrize("size", ["large", "larger"])
def test_in_large_print_the_file_passes_the_machine_checker(size: PrintSize) -> None:
    """page-validation 0.11.0, profile ``ua1``."""
    report = checker.validate_pdf_bytes(printed("pier-drum", size=size), profile="ua1")
    assert [(failure.rule_id, failure.message) for failure in report.failures] == []
