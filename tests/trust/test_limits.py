"""The limits that the README states are those that hold, and at them nothing overflows without a word."""

from __future__ import annotations

import ast
import itertools
import math
import re
import textwrap
from pathlib import Path

import pytest

from generator.base.errors import GeometryError, InputError, RecipeError
from generator.base.units import plain_number
from generator.examine import examine
from generator.plan import expressions, fields, reading
from generator.plan.work import Work
from generator.recipe import layers, nodes, source
from tests.recipe.reading import read_text

ROOT = Path(__file__).parents[2]
README = (ROOT / "README.md").read_text(encoding="utf-8")
LIMITS = README.partition("\n## Limits\n")[2].partition("\n## ")[0]

HEAD = "rimfold: 1\ntitle: Test\ntechnique: rolled-edge\n"
PLAIN = HEAD + "outline: circle\nsizes:\n  25: {diameter: 250 mm, height: 180 mm}\n"


def row(name: str) -> tuple[float, float]:
    """Least and most of a row of the README's table, lengths in mm."""
    line = next(line for line in LIMITS.splitlines() if line.startswith(f"| {name} |"))
    cells = [cell.strip() for cell in line.strip("|").split("|")]
    return value(cells[1]), value(cells[2])


def value(text: str) -> float:
    match = re.fullmatch(r"(?:above )?([0-9][0-9 ]*)(?: (mm|m|min|days|characters|kB))?", text)
    assert match is not None, text
    times = {"mm": 1, "m": 1000, "min": 1, "days": 1440, "kB": 1024}.get(match[2] or "", 1)
    return float(match[1].replace(" ", "")) * times


def reads(folder: Path, text: str) -> bool:
    try:
        read_text(folder, text)
    except RecipeError:
        return False
    return True


def refusal(folder: Path, text: str) -> str:
    """What is told of a recipe that is refused, nothing if it is good."""
    path = folder / "recipe.yaml"
    path.write_text(text, encoding="utf-8")
    try:
        examine(path)
    except InputError as error:
        return str(error)
    return ""


def mm(length: float) -> str:
    return f"{plain_number(length)} mm"


OUTLINES = {
    "diameter": "circle, diameter: {}",
    "side": "square, side: {}",
    "across_flats": "polygon, sides: 6, across_flats: {}",
    "width": "ellipse, length: 3 m, width: {}",
    "length": "stadium, width: 40 mm, length: {}",
}


@pytest.mark.parametrize("key", OUTLINES)
def test_a_ring_s_size_is_read_within_its_limits_and_not_beyond(tmp_path: Path, key: str) -> None:
    least, most = row("size of a ring, height, slant")
    for length, good in ((least, True), (most, True), (least - 0.001, False), (most + 0.001, False)):
        ring = OUTLINES[key].format(mm(length))
        text = f"rimfold: 1\ntitle: Test\nsizes:\n  25: {{outline: {ring}, height: 180 mm}}\n"
        assert reads(tmp_path, text) is good


@pytest.mark.parametrize("key", ["height", "slant"])
def test_height_and_slant_have_the_same_limits(tmp_path: Path, key: str) -> None:
    least, most = row("size of a ring, height, slant")
    ends = "bottom: {outline: circle, diameter: 250 mm}, top: {outline: circle, diameter: 240 mm}"
    text = "rimfold: 1\ntitle: Test\nsizes:\n  25: {" + ends + ", " + key + ": %s}\n"
    for length, good in ((least, True), (most, True), (least - 0.001, False), (most + 0.001, False)):
        assert reads(tmp_path, text % mm(length)) is good


LENGTHS = [
    "covering: {slack_ends: %s}", "covering: {slack_edges: %s}", "covering: {repeat: {around: %s}}",
    "covering: {repeat: {up: %s}}", "panel: {thickness: %s}", "panel: {margin: %s}", "panel: {overlap: %s}",
    "panel: {stock_length: %s}", "panel: {stock_width: %s}", "ring: {wire: %s}", "ring: {recess: %s}",
    "ring: {first_strut: %s}", "ring: {hole: %s}", "tape: {width: %s}", "tape: {thickness: %s}",
    "lamp: {kind: LED, diameter: %s}", "lamp: {kind: LED, diameter: 60 mm, length: %s}",
    "seam: {finish: hem, hem: %s}", "braid: {width: %s}",
]  # fmt: skip


@pytest.mark.parametrize("line", LENGTHS)
def test_every_other_length_is_read_up_to_its_limit_and_not_beyond(tmp_path: Path, line: str) -> None:
    least, most = row("any other length")
    assert least == 0
    text = f"{PLAIN}{line}\n" + ("" if line.startswith("braid") else "braid: {width: 9 mm, cures: 1 h}\n")
    text = text.replace("braid: {width: %s}", "braid: {width: %s, cures: 1 h}")
    assert reads(tmp_path, text % mm(most))
    assert reads(tmp_path, text % "0.001 mm")
    assert not reads(tmp_path, text % mm(most + 0.001))
    assert not reads(tmp_path, text % "-1 mm")


def test_cloth_has_a_limit_of_its_own(tmp_path: Path) -> None:
    _, most = row("width of a cloth")
    for length, good in ((most, True), (most + 0.001, False)):
        assert reads(tmp_path, f"{PLAIN}covering: {{width: {mm(length)}}}\n") is good


COUNTS = [
    ("arms of a fitter ring", "ring: {struts: %d}"),
    ("people at one shade", "makers: {people: %d}"),
    ("ages of makers", "makers: {ages: [%d, 110]}"),
]


@pytest.mark.parametrize(("name", "line"), COUNTS, ids=lambda each: each)
def test_counts_are_read_within_their_limits_and_not_beyond(tmp_path: Path, name: str, line: str) -> None:
    least, most = (int(each) for each in row(name))
    for count, good in ((least, True), (most, True), (least - 1, False), (most + 1, False)):
        assert reads(tmp_path, f"{PLAIN}{line % count}\n") is good


def test_sides_beyond_their_limits_are_refused_when_the_shape_is_made(tmp_path: Path) -> None:
    least, most = (int(each) for each in row("sides of a polygon"))
    for count, good in ((least, True), (most, True), (least - 1, False), (most + 1, False)):
        text = (
            f"{HEAD}sizes:\n  25: {{outline: polygon, sides: {count}, across_flats: 1 m, height: 180 mm}}\n"
        )
        assert ("sides" in refusal(tmp_path, text)) is not good


def test_texts_and_files_have_the_limits_that_are_stated(tmp_path: Path) -> None:
    for name, line in (
        ("title, a name", "maker: {name: %s}"),
        ("contact", "maker: {name: x, contact: %s}"),
        ("link", "link: %s"),
    ):
        most = int(row(name)[1])
        begin = "https://example.org/" if name == "link" else ""
        assert reads(tmp_path, f"{PLAIN}{line % (begin + 'x' * (most - len(begin)))}\n")
        assert not reads(tmp_path, f"{PLAIN}{line % (begin + 'x' * (most + 1 - len(begin)))}\n")
    assert row("name of a size")[1] == 40
    assert reads(tmp_path, PLAIN.replace("25:", f"{'x' * 40}:"))
    assert not reads(tmp_path, PLAIN.replace("25:", f"{'x' * 41}:"))
    assert row("a file that you write")[1] == source.BYTE_LIMIT
    assert row("keys and values of a file")[1] == nodes.NODE_LIMIT
    assert row("sections in one another")[1] == nodes.DEPTH_LIMIT
    assert row("sizes of a recipe") == (1, layers.SIZE_LIMIT)
    assert row("tasks of a technique") == (1, reading.TASK_LIMIT)
    assert row("names in one list of a technique")[1] == fields.ITEM_LIMIT
    assert row("an expression")[1] == expressions.LENGTH_LIMIT
    assert row("a number in an expression")[1] == expressions.NUMBER_LIMIT


def test_watts_and_times_have_the_limits_that_are_stated(tmp_path: Path) -> None:
    watts = int(row("watts of a lamp")[1])
    for count, good in ((watts, True), (watts + 1, False), (0, False)):
        assert reads(tmp_path, f"{PLAIN}lamp: {{diameter: 60 mm, kind: LED, watts: {count}}}\n") is good
    minutes = int(row("time that a glue cures")[1])
    for written, good in (
        (f"{minutes // 1440} days", True),
        (f"{minutes // 1440 + 1} days", False),
        ("0 min", False),
    ):
        assert reads(tmp_path, f"{PLAIN}braid: {{width: 9 mm, cures: {written}}}\n") is good


RINGS = {
    "circle": "outline: circle, diameter: {0}",
    "ellipse": "outline: ellipse, length: {0}, width: {1}",
    "stadium": "outline: stadium, length: {0}, width: {1}",
    "rectangle": "outline: rectangle, length: {0}, width: {1}, corner_radius: 20 mm",
    "square": "outline: square, side: {0}",
    "polygon": "outline: polygon, sides: 3, across_flats: {0}",
    "many-sided": "outline: polygon, sides: 24, across_flats: {0}",
    "cone": "bottom: {{outline: circle, diameter: {0}}}, top: {{outline: circle, diameter: {1}}}",
}
ENDS = ("40 mm", "3 m")


def work(folder: Path, size: str, covering: str = "20 m") -> Work | None:
    """The size, or None if it is refused at its place."""
    path = folder / "recipe.yaml"
    path.write_text(f"{HEAD}covering: {{width: {covering}}}\nsizes:\n  s: {{{size}}}\n", encoding="utf-8")
    try:
        return examine(path).works[0]
    except GeometryError as refused:
        located = [str(fault).startswith(f"{path}:") for fault in refused.faults]
        return None if all(located) else pytest.fail(str(refused))


@pytest.mark.parametrize("ring", RINGS)
def test_at_the_limits_every_measure_is_a_number_or_the_shade_is_refused(tmp_path: Path, ring: str) -> None:
    made = 0
    for first, second, height in itertools.product(ENDS, ENDS, ENDS):
        found = work(tmp_path, f"{RINGS[ring].format(first, second)}, height: {height}")
        if found is None:
            continue
        made += 1
        for key, one in found.measures.items():
            for exact in one.exact if isinstance(one.exact, tuple) else (one.exact,):
                assert math.isfinite(exact), key
                # The largest is the area of the largest panel that is thought of, some tens of square metres.
                assert abs(exact) < 1e8, key
            for shown in one.shown if isinstance(one.shown, tuple) else (one.shown,):
                assert math.isfinite(shown), key
        minutes = [step.minutes.first_time for step in found.plan.steps]
        assert all(0 < each < 1e4 for each in minutes)
    assert made >= 2


def test_the_largest_round_shade_is_that_of_plain_arithmetic(tmp_path: Path) -> None:
    found = work(tmp_path, "outline: circle, diameter: 3 m, height: 3 m")
    assert found is not None
    wire, sheet, overlap, margin = 3.5, 0.35, 10.0, 15.0
    # House defaults; the middle of the sheet runs half its thickness and the cloth's way outside the wire.
    around = math.pi * 3000
    assert abs(found.measures.exact("perimeter") - around) < 1e-6
    assert around < found.measures.exact("panel_length") < around + 2 * math.pi * (sheet + 2) + overlap + 1
    assert abs(found.measures.exact("panel_height") - (3000 + 2 * margin)) < 2 * wire
    smallest = work(tmp_path, "outline: circle, diameter: 40 mm, height: 40 mm")
    assert smallest is not None
    assert abs(smallest.measures.exact("perimeter") - math.pi * 40) < 1e-6


def raised(function: ast.FunctionDef) -> set[str]:
    """Names of what a function raises itself, but for what it catches again."""
    found: set[str] = set()

    def walk(node: ast.AST) -> None:
        for child in ast.iter_child_nodes(node):
            if isinstance(child, ast.FunctionDef | ast.Lambda | ast.ClassDef):
                continue
            if isinstance(child, ast.Try) and child.handlers:
                for part in (*child.handlers, *child.orelse, *child.finalbody):
                    walk(part)
                continue
            if isinstance(child, ast.Raise) and child.exc is not None:
                what = child.exc.func if isinstance(child.exc, ast.Call) else child.exc
                found.add(what.id if isinstance(what, ast.Name) else getattr(what, "attr", ""))
            walk(child)

    walk(function)
    return {name for name in found if name[:1].isupper()}


def public(tree: ast.AST, inside: str = "") -> list[tuple[str, ast.FunctionDef]]:
    found = []
    for node in ast.iter_child_nodes(tree):
        if isinstance(node, ast.ClassDef) and not node.name.startswith("_"):
            found += public(node, f"{inside}{node.name}.")
        elif isinstance(node, ast.FunctionDef) and not node.name.startswith("_"):
            found.append((f"{inside}{node.name}", node))
    return found


def test_every_public_function_says_what_it_raises() -> None:
    untold, seen = [], 0
    for path in sorted((ROOT / "generator").rglob("*.py")):
        # What the commands say is help for a person at a terminal.
        if path.parent.name == "cli":
            continue
        for name, function in public(ast.parse(path.read_text(encoding="utf-8"))):
            words = ast.get_docstring(function) or ""
            for error in raised(function):
                seen += 1
                if error not in words:
                    untold.append(f"{path.relative_to(ROOT)}:{function.lineno} {name} does not say {error}")
    assert seen > 40
    assert untold == []


def test_a_function_that_says_nothing_is_found() -> None:
    tree = ast.parse(textwrap.dedent('''
        def quiet(x):
            """Words."""
            if x:
                raise ValueError("no")
        def caught(x):
            try:
                raise OSError("no")
            except OSError:
                return None
    '''))  # fmt: skip
    assert [(name, raised(function)) for name, function in public(tree)] == [
        ("quiet", {"ValueError"}),
        ("caught", set()),
    ]
