"""Tapered sizes: an outline for each end, a height or a slant, a shift."""

from __future__ import annotations

import json
import tempfile
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from generator.base.errors import RecipeError
from generator.base.outline_keys import OutlineKeys
from generator.recipe.models import End, Ends, SizeRecipe
from generator.recipe.read import Recipe
from generator.shape.build import outline_keys
from tests.recipe.reading import HEAD, LAMP, PLAIN, read_size, read_text
from tests.recipe.test_schema import SCHEMA, valid

BARE = "rimfold: 1\ntitle: Test\n"
TOP, BOTTOM = "{outline: circle, diameter: 20 cm}", "{outline: circle, diameter: 35 cm}"
CONE = f"{BARE}{LAMP}sizes:\n  a: {{top: {TOP}, bottom: {BOTTOM}, height: 22 cm}}\n"
# Each line of a recipe may be said for all sizes or in a size; these are the values it may have here.
RINGS: dict[str, dict[str, str]] = {
    "circle": {"diameter": "25 cm"},
    "square": {"side": "25 cm", "corner_radius": "4 cm"},
    "polygon": {"sides": "6", "across_flats": "25 cm"},
}
WHOLE = st.sampled_from([{"outline": name, **keys} for name, keys in RINGS.items()])


def _warnings(recipe: Recipe) -> list[tuple[int, str]]:
    return [(warning.span.line, warning.text) for warning in recipe.warnings]


def test_a_tapered_size_has_both_its_ends(tmp_path: Path) -> None:
    recipe = read_text(tmp_path, CONE)
    (size,) = recipe.sizes
    assert size.tapered
    assert size.ends == Ends(
        bottom=End("circle", {"diameter": 350}),
        top=End("circle", {"diameter": 200}),
        slant=None,
        shift=(0, 0),
    )
    assert size.height == 220
    assert size.conditions()["taper"] is True
    assert recipe.warnings == ()


def test_a_straight_size_has_no_ends(tmp_path: Path) -> None:
    size = read_size(tmp_path, PLAIN)
    assert (size.tapered, size.ends, size.conditions()["taper"]) == (False, None, False)


def test_a_slant_stands_in_place_of_the_height(tmp_path: Path) -> None:
    text = CONE.replace("height: 22 cm", "slant: 9 1/2 in")
    size = read_size(tmp_path, text)
    assert size.ends is not None
    # An inch is 25.4 mm (ISO 80000-3:2019, from memory).
    assert size.ends.slant == pytest.approx(241.3)
    assert size.height == 0
    line = text.splitlines()[-1]
    assert size.span("slant").column == size.span("height").column == line.index("9 1/2") + 1
    assert "slant" in size.stated
    assert "height" not in size.stated


@pytest.mark.parametrize(
    ("text", "shift"),
    [
        ("{x: 10 mm, y: -20 mm}", (10, -20)),
        ("{x: -1.5 cm}", (-15, 0)),
        ("{y: '- 1/2 in'}", (0, -12.7)),
        ("{x: -0 mm, y: 0 cm}", (0, 0)),
    ],
)
def test_a_shift_may_be_below_zero_and_its_other_part_left_out(
    tmp_path: Path, text: str, shift: tuple[float, float]
) -> None:
    size = read_size(tmp_path, CONE.replace("height: 22 cm", f"height: 22 cm, shift: {text}"))
    assert size.ends is not None
    assert size.ends.shift == pytest.approx(shift)
    assert str(size.ends.shift[0]) != "-0.0"


@pytest.mark.parametrize(
    ("bottom", "top", "leading"),
    [
        ("circle", "circle", "bottom"),
        ("circle", "square", "top"),
        ("square", "circle", "bottom"),
        ("polygon", "square", "bottom"),
        ("square", "polygon", "bottom"),
        ("circle", "polygon", "top"),
    ],
)
def test_the_end_with_corners_stands_for_both_and_the_bottom_goes_first(
    tmp_path: Path, bottom: str, top: str, leading: str
) -> None:
    ends = {"top": {"outline": top, **RINGS[top]}, "bottom": {"outline": bottom, **RINGS[bottom]}}
    size = read_size(tmp_path, f"{BARE}sizes: {json.dumps({'a': {**ends, 'height': '22 cm'}})}\n")
    assert size.ends is not None
    end: End = getattr(size.ends, leading)
    assert (size.outline, size.dimensions) == (end.outline, end.dimensions)
    assert size.span("outline") == size.span(f"{leading}.outline")
    for key in end.dimensions:
        assert size.span(key) == size.span(f"{leading}.{key}")


def test_each_value_of_an_end_knows_its_place(tmp_path: Path) -> None:
    line = f"  a: {{top: {TOP}, bottom: {BOTTOM}, shift: {{x: -3 cm}}, slant: 23 cm}}"
    size = read_size(tmp_path, f"{BARE}sizes:\n{line}\n")

    def found(key: str) -> int:
        return size.span(key).column - 1

    assert found("top.diameter") == line.index("20 cm")
    assert found("bottom.diameter") == line.index("35 cm")
    assert found("bottom.outline") == line.index("circle", line.index("bottom"))
    assert found("top") == line.index("top")
    assert found("slant") == line.index("23 cm")
    assert found("shift") == line.index("shift")
    assert found("shift.x") == line.index("-3 cm")
    assert found("shift.y") == found("shift")
    assert {"top", "top.outline", "bottom.diameter", "shift.x", "slant"} <= size.stated


def test_ends_for_all_sizes_are_filled_in_by_each(tmp_path: Path) -> None:
    recipe = read_text(
        tmp_path,
        f"{BARE}{LAMP}top: {{outline: circle}}\nbottom: {BOTTOM}\nheight: 22 cm\n"
        "shift: {x: 1 cm, y: 2 cm}\nsizes:\n"
        "  a: {top: {diameter: 20 cm}}\n"
        "  b: {top: {diameter: 18 cm}, bottom: {diameter: 40 cm}, slant: 30 cm}\n"
        "  c: {top: {outline: square, side: 16 cm}, shift: {y: -2 cm}}\n",
    )
    a, b, c = recipe.sizes
    assert a.ends == Ends(End("circle", {"diameter": 350}), End("circle", {"diameter": 200}), None, (10, 20))
    assert b.ends == Ends(End("circle", {"diameter": 400}), End("circle", {"diameter": 180}), 300, (10, 20))
    assert c.ends == Ends(
        End("circle", {"diameter": 350}), End("square", {"side": 160, "corner_radius": 0}), None, (10, -20)
    )
    assert [size.height for size in recipe.sizes] == [220, 0, 220]
    assert recipe.warnings == ()


def test_what_a_size_says_of_its_shape_takes_the_place_of_what_all_sizes_share(tmp_path: Path) -> None:
    straight = read_text(
        tmp_path,
        f"{HEAD}{LAMP}diameter: 30 cm\nheight: 20 cm\n"
        f"sizes:\n  a: {{}}\n  b: {{top: {TOP}, bottom: {BOTTOM}, slant: 23 cm}}\n",
    )
    assert [size.tapered for size in straight.sizes] == [False, True]
    assert straight.sizes[0].dimensions == {"diameter": 300}
    tapered = read_text(
        tmp_path,
        f"{BARE}{LAMP}top: {TOP}\nbottom: {BOTTOM}\nslant: 23 cm\nshift: {{x: 1 cm}}\n"
        "sizes:\n  a: {}\n  b: {outline: square, side: 30 cm, height: 20 cm}\n",
    )
    assert [size.tapered for size in tapered.sizes] == [True, False]
    assert (tapered.sizes[1].outline, tapered.sizes[1].height) == ("square", 200)
    assert straight.warnings == tapered.warnings == ()


def test_an_end_keeps_no_dimension_of_the_outline_that_a_size_has_replaced(tmp_path: Path) -> None:
    recipe = read_text(
        tmp_path,
        f"{BARE}{LAMP}top: {TOP}\nbottom: {BOTTOM}\nheight: 22 cm\n"
        "sizes: {a: {top: {outline: square, side: 16 cm}}}\n",
    )
    size = recipe.sizes[0]
    assert size.ends is not None
    assert size.ends.top == End("square", {"side": 160, "corner_radius": 0})
    assert _warnings(recipe) == [
        (4, "“top.outline” is not used: every size that can use it says its own"),
        (4, "“top.diameter” is not used: the outline square has side and corner_radius only"),
    ]


@pytest.mark.parametrize(
    ("shared", "key", "reason"),
    [
        ("outline: circle", "outline", "a tapered shade has an outline and dimensions in top and in bottom"),
        ("side: 30 cm", "side", "a tapered shade has an outline and dimensions in top and in bottom"),
        (
            "slant: 23 cm",
            "slant",
            "of height and slant only the one that is stated nearer to the size counts",
        ),
        ("height: 30 cm", "height", "every size that can use it says its own"),
    ],
)
def test_what_no_tapered_size_uses_is_told(tmp_path: Path, shared: str, key: str, reason: str) -> None:
    assert _warnings(read_text(tmp_path, f"{CONE}{shared}\n")) == [(6, f"“{key}” is not used: {reason}")]


def test_ends_that_no_size_uses_are_told(tmp_path: Path) -> None:
    recipe = read_text(
        tmp_path,
        f"{BARE}{LAMP}top: {TOP}\nshift: {{x: 1 cm}}\n"
        "sizes: {a: {outline: circle, diameter: 30 cm, height: 20 cm}}\n",
    )
    reason = "it belongs to a tapered shade, and this one has an outline for both ends"
    assert _warnings(recipe) == [
        (4, f"“top.outline” is not used: {reason}"),
        (4, f"“top.diameter” is not used: {reason}"),
        (5, f"“shift.x” is not used: {reason}"),
    ]


def test_a_bare_surface_has_neither_panel_nor_tape_thickness(tmp_path: Path) -> None:
    size = read_size(tmp_path, f"{CONE}panel: {{thickness: 0 mm}}\ntape: {{thickness: 0 mm}}\n")
    assert (size.panel.thickness, size.tape.thickness) == (0, 0)


def _end_of(name: str, keys: OutlineKeys) -> st.SearchStrategy[dict[str, Any]]:
    lengths = {key: st.integers(40, 3000) for key in keys.lengths}
    counts = {key: st.integers(3, 36) for key in keys.counts}
    spare = {key: st.integers(0, 3000) for key in keys.optional}
    return st.fixed_dictionaries({"outline": st.just(name), **lengths, **counts}, optional=spare)


RING = st.one_of(*(_end_of(name, keys) for name, keys in outline_keys().items()))


def _written(end: dict[str, Any]) -> dict[str, Any]:
    return {key: value if key in ("outline", "sides") else f"{value} mm" for key, value in end.items()}


@given(top=RING, bottom=RING, rise=st.integers(40, 3000), slanted=st.booleans(), x=st.integers(-3000, 3000))
@settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_the_ends_that_are_written_are_those_that_are_read(
    top: dict[str, Any], bottom: dict[str, Any], rise: int, slanted: bool, x: int
) -> None:
    said = {"top": _written(top), "bottom": _written(bottom), "shift": {"x": f"{x} mm"}}
    said["slant" if slanted else "height"] = f"{rise} mm"  # type: ignore[assignment]
    with tempfile.TemporaryDirectory() as folder:
        size = read_size(Path(folder), f"{BARE}sizes: {json.dumps({'a': said})}\n")
    assert size.ends is not None
    for end, meant in ((size.ends.top, top), (size.ends.bottom, bottom)):
        keys = outline_keys()[meant["outline"]].all
        assert end.outline == meant["outline"]
        assert dict(end.dimensions) == {key: meant.get(key, 0) for key in keys}
    assert size.ends.shift == (x, 0)
    assert (size.ends.slant, size.height) == ((rise, 0) if slanted else (None, rise))


def _shape() -> st.SearchStrategy[dict[str, Any]]:
    """A shape that can be read: straight or tapered."""
    height, slant = ({key: "22 cm"} for key in ("height", "slant"))
    straight = WHOLE.map(lambda ring: {**ring, **height})
    tapered = st.fixed_dictionaries(
        {"top": WHOLE, "bottom": WHOLE}, optional={"shift": st.just({"x": "1 cm", "y": "-2 cm"})}
    )
    rise = st.sampled_from([height, slant])
    return straight | st.tuples(tapered, rise).map(lambda pair: {**pair[0], **pair[1]})


def _layer() -> st.SearchStrategy[dict[str, Any]]:
    """Any keys of a shape, whether they go together or not."""
    rings = st.sampled_from(sorted(RINGS))
    dimensions = {key: value for ring in RINGS.values() for key, value in ring.items()}
    few = st.lists(st.sampled_from(sorted(dimensions)), max_size=1).map(
        lambda keys: {k: dimensions[k] for k in keys}
    )
    end = st.one_of(WHOLE, WHOLE, rings.map(lambda name: {"outline": name}), few)
    other = st.fixed_dictionaries(
        {}, optional={"height": st.just("22 cm"), "slant": st.just("23 cm"), "shift": st.just({"x": "1 cm"})}
    )
    ends = st.fixed_dictionaries({}, optional={"top": end, "bottom": end})
    shape = st.one_of(ends, ends, end, st.tuples(ends, end).map(lambda pair: {**pair[0], **pair[1]}))
    return st.tuples(shape, other).map(lambda pair: {**pair[0], **pair[1]})


@given(shared=_layer(), a=_layer(), b=st.none() | _layer())
@settings(deadline=None, max_examples=200, suppress_health_check=[HealthCheck.too_slow])
def test_whatever_a_file_says_of_shapes_is_read_or_refused_and_what_is_read_is_valid(
    shared: dict[str, Any], a: dict[str, Any], b: dict[str, Any] | None
) -> None:
    sizes = {"a": a, **({} if b is None else {"b": b})}
    file = {"rimfold": "1", "title": "Test", **shared, "sizes": sizes}
    found = _read(file)
    if found:
        assert valid(file, SCHEMA)
        assert all(size.tapered == (size.ends is not None) for size in found)
    elif not any(end in size and end in shared for size in sizes.values() for end in ("top", "bottom")):
        # An end that is spread over file and size is left to the reader.
        assert not valid(file, SCHEMA)


@given(own=_shape())
@settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_a_shape_said_for_all_sizes_is_the_shape_said_in_the_size(own: dict[str, Any]) -> None:
    head = {"rimfold": "1", "title": "Test"}
    inside = _read({**head, "sizes": {"a": own}})
    above = _read({**head, **own, "sizes": {"a": {}}})
    assert inside is not None
    assert above is not None
    for key in ("outline", "dimensions", "height", "ends"):
        assert getattr(inside[0], key) == getattr(above[0], key)


def _read(file: dict[str, Any]) -> tuple[SizeRecipe, ...] | None:
    with tempfile.TemporaryDirectory() as folder:
        try:
            return read_text(Path(folder), json.dumps(file)).sizes
        except RecipeError:
            return None
