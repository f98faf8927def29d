"""A recipe is changed where it was asked for, and nowhere else: comments, order and quotes stay."""

from __future__ import annotations

import difflib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.base.assets import data_folder
from generator.examine import outlines
from generator.page import form, in_place, round_trip, shaping
from generator.page.look import values
from generator.recipe.read import parse_recipe
from generator.recipe.starter import starter
from generator.recipe.walk import Place

SAMPLES = sorted(data_folder("recipes").glob("*.yaml"))
TEXTS = {path.stem: path.read_text(encoding="utf-8") for path in SAMPLES} | {"starter": starter()}


def differing(before: str, after: str) -> list[str]:
    """Lines that are not the same, with a sign of where they stand."""
    lines = difflib.ndiff(before.splitlines(), after.splitlines())
    return [line for line in lines if line[0] in "+-"]


def comments(text: str) -> list[str]:
    return [line.partition("#")[2] for line in text.splitlines() if "#" in line]


@pytest.mark.parametrize("name", TEXTS)
def test_a_form_that_says_what_the_file_says_changes_nothing(name: str) -> None:
    text = TEXTS[name]
    assert form.filled(text, form.form_values(text)) == text


@pytest.mark.parametrize("name", TEXTS)
def test_one_value_changes_one_line_and_its_comment_stays(name: str) -> None:
    text = TEXTS[name]
    size = form.size_names(text)[0]
    key = next(key for key in ("height", "slant") if ("sizes", size, key) in values(text))
    after = round_trip.changed(text, {("sizes", size, key): "233 mm"})
    assert values(after)["sizes", size, key] == "233 mm"
    assert {place: value for place, value in values(after).items() if place != ("sizes", size, key)} == {
        place: value for place, value in values(text).items() if place != ("sizes", size, key)
    }
    assert sorted(comments(after)) == sorted(comments(text))


@pytest.mark.parametrize("name", ["net-loft", "tide-drum", "ferry-square", "starter"])
def test_a_file_written_in_the_usual_way_changes_in_that_line_alone(name: str) -> None:
    text = TEXTS[name]
    after = round_trip.changed(text, {("covering", "width"): "133 cm"})
    assert len(differing(text, after)) == 2
    assert all("133 cm" in line or line.startswith("-") for line in differing(text, after))


WORDS = st.text(st.characters(codec="latin-1", exclude_categories=["C", "Z"]), min_size=1, max_size=30)


@given(WORDS)
def test_a_title_is_read_back_as_it_was_typed(title: str) -> None:
    after = round_trip.changed(TEXTS["net-loft"], {("title",): title})
    assert values(after)["title",] == title


@given(
    st.sampled_from(
        ["yes", "no", "null", "~", "1e3", "0x1F", "1:30", "2026-11-29", "- a", "a: b", "{x}", "#a", "'", '"']
    )
)
def test_a_title_that_yaml_would_take_for_something_else_stays_text(title: str) -> None:
    after = round_trip.changed(TEXTS["net-loft"], {("title",): title})
    recipe = parse_recipe(after, Path("net-loft.yaml"), outlines())
    assert recipe.title == title


def test_a_value_that_is_emptied_goes_and_an_empty_section_with_it() -> None:
    after = round_trip.changed(TEXTS["net-loft"], {("maker", "name"): None})
    assert "maker" not in after
    assert ("covering", "width") in values(after)


def test_a_section_that_is_not_there_is_begun() -> None:
    after = round_trip.changed(
        TEXTS["net-loft"], {("ring", "struts"): "4", ("covering", "repeat", "up"): "60 mm"}
    )
    assert values(after)["ring", "struts"] == "4"
    assert values(after)["covering", "repeat", "up"] == "60 mm"
    recipe = parse_recipe(after, Path("net-loft.yaml"), outlines())
    assert recipe.sizes[0].ring.struts == 4


def test_a_size_gets_another_name_in_its_place() -> None:
    after = round_trip.renamed(TEXTS["pier-drum"], ("sizes", "35"), "36")
    assert form.size_names(after) == ("25", "36", "45")
    assert "# its ring has a fourth arm" in after


def test_what_a_form_does_not_show_is_named_and_left_alone() -> None:
    text = TEXTS["pier-drum"]
    left = form.unshown(text)
    assert "kits.spares.seam-tape" in left
    assert "sizes.45.ring.struts" in left
    assert "covering.width" not in left
    after = form.filled(text, form.form_values(text) | {"v/title": "Other"})
    assert values(after)["kits", "spares", "seam-tape"] == values(text)["kits", "spares", "seam-tape"]


def test_fields_that_no_form_has_are_passed_over() -> None:
    text = TEXTS["net-loft"]
    posted = {"v/rimfold": "9", "v/evil": "x", "v/sizes/99/height": "1 mm", "v/class/people/0/__class__": "x"}
    assert form.filled(text, posted) == text


def test_a_number_takes_the_unit_that_is_chosen_for_it() -> None:
    text = TEXTS["net-loft"]
    posted = {"v/sizes/35x20/height": "24", "u/sizes/35x20/height": "cm"}
    assert values(form.filled(text, posted))["sizes", "35x20", "height"] == "24 cm"
    fraction = {"v/sizes/35x20/height": "9 1/2", "u/sizes/35x20/height": "in"}
    assert values(form.filled(text, fraction))["sizes", "35x20", "height"] == "9 1/2 in"


@pytest.mark.parametrize("outline", sorted(outlines()))
@pytest.mark.parametrize("name", ["net-loft", "pier-drum", "beacon-50", "customs-rect", "bell-hex"])
def test_any_shade_becomes_one_of_any_outline_that_reads_clean(name: str, outline: str) -> None:
    after = shaping.outlined(TEXTS[name], outline)
    recipe = parse_recipe(after, Path(f"{name}.yaml"), outlines())
    assert {size.outline for size in recipe.sizes} == {outline}
    assert not any(size.tapered for size in recipe.sizes)
    assert sorted(comments(after)) == sorted(comments(TEXTS[name])) or name == "beacon-50"


@pytest.mark.parametrize("name", ["net-loft", "tide-drum", "ferry-square"])
def test_a_straight_shade_becomes_a_tapered_one_that_reads_clean(name: str) -> None:
    recipe = parse_recipe(shaping.tapered(TEXTS[name]), Path(f"{name}.yaml"), outlines())
    assert all(size.tapered for size in recipe.sizes)


def test_sizes_people_tables_and_kits_come_and_go() -> None:
    text = TEXTS["net-loft"]
    more = shaping.ACTIONS["add-size"](text, "")
    assert len(form.size_names(more)) == 2
    assert shaping.ACTIONS["remove-size"](more, form.size_names(more)[1]) == text
    taught = shaping.ACTIONS["add-class"](text, "")
    listed = shaping.ACTIONS["list-people"](taught, "")
    assert len(form.entries(listed, ("class", "people"))) == 8
    fewer = shaping.ACTIONS["remove-person"](listed, "3")
    assert len(form.entries(fewer, ("class", "people"))) == 7
    tabled = shaping.ACTIONS["add-table"](fewer, "")
    assert len(form.entries(tabled, ("class", "tables"))) == 2
    tooled = shaping.ACTIONS["add-tool"](tabled, "iron")
    packed = shaping.ACTIONS["add-kits"](tooled, "")
    recipe = parse_recipe(packed, Path("net-loft.yaml"), outlines())
    assert recipe.kits is not None
    assert recipe.taught is not None
    assert recipe.taught.tools == {"iron": 2}
    bare = shaping.ACTIONS["remove-class"](shaping.ACTIONS["remove-kits"](packed, ""), "")
    assert values(bare) == values(text)


VALUES = ["233 mm", "7", "true", "11:00", "It's: a #long one, with {braces}"]


@pytest.mark.parametrize("name", TEXTS)
def test_any_value_is_put_in_place_as_by_reading_and_writing_the_whole_text(name: str) -> None:
    text = TEXTS[name]
    for place, had in values(text).items():
        for value in VALUES:
            wished: dict[Place, str | None] = {place: value}
            found = in_place.replaced(text, wished)
            assert found is not None
            whole = round_trip.rewritten(text, wished)
            assert values(found) == values(whole) == {**values(text), place: value}
            # One line is another one, and stands so in what is written anew; that may break others otherwise.
            lines = [line[2:] for line in differing(text, found) if line[0] == "+"]
            assert len(lines) == (value != had)
            assert set(lines) <= set(whole.splitlines())


def test_several_values_of_one_line_are_put_in_place_together() -> None:
    text = "sizes:\n  30: {diameter: 30 cm, height: 8 cm}   # low\n"
    wished: dict[Place, str | None] = {
        ("sizes", "30", "diameter"): "300 mm",
        ("sizes", "30", "height"): "90.5 mm",
    }
    after = in_place.replaced(text, wished)
    assert after == "sizes:\n  30: {diameter: 300 mm, height: 90.5 mm} # low\n"


@pytest.mark.parametrize(
    "text",
    [
        "title: >\n  Net\n  loft\n",
        "title: Net\n  loft\n",
        'title: "Net \\u00e9"\n',
        "title: 'Net''s'\n",
        "title:\n",
        "titel: Net\n",
        "title: Net\r\n",
        "title: [a\n",
    ],
)
def test_what_is_not_plainly_one_value_in_one_line_is_left_to_the_library(text: str) -> None:
    assert in_place.replaced(text, {("title",): "Other"}) is None


@given(WORDS)
def test_a_title_put_in_place_is_read_back_as_it_was_typed(title: str) -> None:
    after = in_place.replaced(TEXTS["net-loft"], {("title",): title})
    assert after is None or values(after)["title",] == title
