"""House defaults, recipe and size, laid over one another."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.base.errors import RecipeError
from generator.recipe.merge import leaves, merge
from generator.recipe.nodes import Mapping, parse_document
from tests.recipe.reading import HEAD, LAMP, PLAIN, ROOT, read_size, read_text


def _tree(text: str, file: str = "t") -> Mapping:
    root = parse_document(text, file).root
    assert isinstance(root, Mapping)
    return root


def test_what_a_recipe_does_not_say_comes_from_the_house(tmp_path: Path) -> None:
    size = read_size(tmp_path, PLAIN)
    # The house defaults of the craft page.
    assert (size.panel.margin, size.panel.overlap, size.panel.thickness) == (15, 10, 0.35)
    assert (size.tape.width, size.tape.thickness, size.ring.wire) == (9, 0.15, 3.5)
    assert (size.covering.slack_ends, size.covering.slack_edges) == (20, 10)
    assert (size.panel.kiss_cut, size.makers.people, size.seam.finish) == (True, 1, "raw")
    assert size.use == "pendant"


def test_a_section_has_the_house_in_it_only_if_the_recipe_has_the_section(tmp_path: Path) -> None:
    bare = read_size(tmp_path, PLAIN)
    assert (bare.lamp, bare.braid, bare.maker) == (None, None, None)
    full = read_size(tmp_path, PLAIN + "braid: {width: 8 mm}\nlamp: {diameter: 6 cm}\n")
    assert full.braid is not None
    assert (full.braid.width, full.braid.cures) == (8, "2 h")
    assert full.lamp is not None
    assert (full.lamp.diameter, full.lamp.kind) == (60, "LED")


def test_a_size_changes_one_key_of_a_section_and_keeps_the_others(tmp_path: Path) -> None:
    recipe = read_text(
        tmp_path,
        HEAD
        + "ring: {wire: 4 mm, recess: 30 mm}\n"
        + "sizes:\n"
        + "  a: {diameter: 25 cm, height: 18 cm}\n"
        + "  b: {diameter: 25 cm, height: 18 cm, ring: {recess: 40 mm}}\n",
    )
    a, b = recipe.sizes
    assert (a.ring.wire, a.ring.recess, a.ring.struts) == (4, 30, 3)
    assert (b.ring.wire, b.ring.recess, b.ring.struts) == (4, 40, 3)


def test_sections_in_sections_merge_key_by_key_too(tmp_path: Path) -> None:
    size = read_size(
        tmp_path,
        HEAD
        + "covering: {repeat: {around: 40 mm}}\n"
        + "sizes: {a: {diameter: 25 cm, height: 18 cm, covering: {repeat: {up: 64 mm}}}}\n",
    )
    assert size.covering.repeat is not None
    assert (size.covering.repeat.around, size.covering.repeat.up) == (40, 64)


def test_a_list_replaces_a_list(tmp_path: Path) -> None:
    size = read_size(
        tmp_path,
        HEAD
        + "makers: {ages: [9, 11], blades: adult}\n"
        + "sizes: {a: {diameter: 25 cm, height: 18 cm, makers: {ages: [18, 70]}}}\n",
    )
    assert size.makers.ages == (18, 70)
    assert not size.young_learners


def test_outline_use_height_and_dimensions_stand_at_the_top_or_in_a_size(tmp_path: Path) -> None:
    recipe = read_text(
        tmp_path,
        "rimfold: 1\ntitle: T\noutline: square\nuse: table\nside: 30 cm\nheight: 20 cm\n"
        "sizes:\n  a: {}\n  b: {side: 26 cm}\n"
        "  c: {outline: circle, use: pendant, diameter: 35 cm, height: 22 cm}\n",
    )
    a, b, c = recipe.sizes
    assert (a.outline, dict(a.dimensions), a.height, a.use) == (
        "square",
        {"side": 300, "corner_radius": 0},
        200,
        "table",
    )
    assert b.dimensions["side"] == 260
    assert (c.outline, dict(c.dimensions), c.height, c.use) == ("circle", {"diameter": 350}, 220, "pendant")


def test_the_text_of_a_size_name_is_kept_as_written(tmp_path: Path) -> None:
    recipe = read_text(
        tmp_path,
        HEAD + "height: 20 cm\ndiameter: 25 cm\nsizes: {007: {}, 1.50: {}, yes: {}, 0x1F: {}, '2_5-b': {}}\n",
    )
    assert [size.name for size in recipe.sizes] == ["007", "1.50", "yes", "0x1F", "2_5-b"]


@pytest.mark.parametrize("word", ["true", "True", "yes", "YES"])
def test_yes_and_true_are_the_same(tmp_path: Path, word: str) -> None:
    assert read_size(tmp_path, PLAIN + f"makers: {{own_cloth: {word}}}\n").makers.own_cloth is True


@pytest.mark.parametrize("word", ["false", "no", "No"])
def test_no_and_false_are_the_same(tmp_path: Path, word: str) -> None:
    assert read_size(tmp_path, PLAIN + f"panel: {{kiss_cut: {word}}}\n").panel.kiss_cut is False


@pytest.mark.parametrize(("text", "watts"), [("6", 6), ("6 W", 6), ("4.5W", 4.5), ("7 watts", 7)])
def test_watts_may_carry_their_unit(tmp_path: Path, text: str, watts: float) -> None:
    size = read_size(tmp_path, PLAIN + f"lamp: {{diameter: 60 mm, watts: {text}}}\n")
    assert size.lamp is not None
    assert size.lamp.watts == watts


@pytest.mark.parametrize("end", ["top", "bottom"])
def test_a_recipe_may_name_the_fitter_end(tmp_path: Path, end: str) -> None:
    assert read_size(tmp_path, PLAIN + f"ring: {{fitter: {end}}}\n").fitter_end == end


def test_merging_keeps_the_place_of_every_value() -> None:
    merged = merge(_tree("a: {x: 1, y: 2}\nb: 3\n", "low"), _tree("a: {y: 20, z: 30}\n", "high"))
    found = {key: (entry.node.span.file, entry.node.span.column) for key, entry in leaves(merged)}
    assert found == {"a.x": ("low", 8), "a.y": ("high", 8), "a.z": ("high", 15), "b": ("low", 4)}


def test_merging_changes_none_of_its_layers() -> None:
    low, high = _tree("a: {x: 1}\n"), _tree("a: {x: 2}\n")
    merge(low, high)
    assert [entry.node.span.column for _, entry in leaves(low)] == [8]


def test_each_value_knows_its_place_and_a_default_has_that_of_its_section_or_size(tmp_path: Path) -> None:
    text = (
        HEAD
        + "panel: {margin: 12 mm}\n"
        + "sizes:\n  25: {diameter: 250 mm, height: 180 mm, ring: {wire: 3 mm}}\n"
    )
    size = read_size(tmp_path, text)
    lines = text.splitlines()

    def place(key: str) -> tuple[int, int]:
        return (size.span(key).line, size.span(key).column)

    assert place("panel.margin") == (4, lines[3].index("12 mm") + 1)
    assert place("panel.overlap") == place("panel") == (4, 1)
    assert place("ring.wire") == (6, lines[5].index("3 mm") + 1)
    assert place("ring.struts") == (6, lines[5].index("ring") + 1)
    assert place("diameter") == place("dimensions.diameter") == (6, lines[5].index("250") + 1)
    assert place("tape.width") == place("") == (6, 3)
    assert place("outline") == (3, 10)
    assert {"panel.margin", "ring.wire", "diameter", "height"} <= size.stated
    assert not {"panel.overlap", "tape", "tape.width", ""} & size.stated


def test_a_workshops_own_house_file_counts(tmp_path: Path) -> None:
    house = tmp_path / "house.yaml"
    own = (ROOT / "recipes" / "stock" / "house.yaml").read_text(encoding="utf-8")
    house.write_text(own.replace("margin: 15 mm", "margin: 18 mm"), encoding="utf-8")
    ours, theirs = read_text(tmp_path, PLAIN), read_text(tmp_path, PLAIN, house)
    assert (ours.sizes[0].panel.margin, theirs.sizes[0].panel.margin) == (15, 18)
    assert ours.digest != theirs.digest


def test_a_mistake_in_the_house_file_is_told_at_its_place_there(tmp_path: Path) -> None:
    house = tmp_path / "house.yaml"
    house.write_text("panel: {margin: 15}\n", encoding="utf-8")
    with pytest.raises(RecipeError) as caught:
        read_text(tmp_path, PLAIN, house)
    assert [(fault.span.file, fault.span.line, fault.span.column) for fault in caught.value.faults] == [
        (str(house), 1, 17)
    ]


def test_the_digest_follows_the_bytes_of_the_file(tmp_path: Path) -> None:
    first = read_text(tmp_path, PLAIN + LAMP).digest
    assert read_text(tmp_path, PLAIN + LAMP).digest == first
    assert read_text(tmp_path, PLAIN + LAMP + "# a note\n").digest != first
    assert len(first) == 64
