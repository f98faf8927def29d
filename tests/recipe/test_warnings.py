"""Known keys that a recipe does not use, and what its writer should know: told, never refused."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.recipe.reading import HEAD, LAMP, PLAIN, read_text


def _warnings(folder: Path, text: str) -> list[tuple[int, int, str]]:
    found = read_text(folder, text).warnings
    assert all(": warning: " in str(warning) for warning in found)
    return [(warning.span.line, warning.span.column, warning.text) for warning in found]


def test_a_whole_recipe_has_none(tmp_path: Path) -> None:
    assert _warnings(tmp_path, PLAIN + LAMP) == []


def test_a_lamp_without_its_wattage_is_told_once_for_all_sizes(tmp_path: Path) -> None:
    text = (
        HEAD + "lamp: {diameter: 6 cm}\nheight: 20 cm\nsizes: {a: {diameter: 25 cm}, b: {diameter: 35 cm}}\n"
    )
    ((line, column, words),) = _warnings(tmp_path, text)
    assert (line, column) == (4, 1)
    assert "wattage is not stated" in words


def test_no_lamp_at_all_is_told_once(tmp_path: Path) -> None:
    text = HEAD + "height: 20 cm\nsizes: {a: {diameter: 25 cm}, b: {diameter: 35 cm}}\n"
    ((line, column, words),) = _warnings(tmp_path, text)
    assert (line, column) == (1, 1)
    assert "no lamp is stated" in words


@pytest.mark.parametrize(
    ("extra", "column", "key", "reason"),
    [
        ("corner_radius: 3 cm\n", 16, "corner_radius", "the outline circle has diameter only"),
        ("side: 30 cm\n", 7, "side", "the outline circle has diameter only"),
        ("seam: {hem: 12 mm}\n", 13, "seam.hem", "the seam is raw"),
        ("makers: {blades: learner}\n", 18, "makers.blades", "only where the makers' ages are stated"),
        ("height: 30 cm\n", 9, "height", "every size that can use it says its own"),
    ],
)
def test_a_known_key_without_effect_is_told_at_its_value(
    tmp_path: Path, extra: str, column: int, key: str, reason: str
) -> None:
    ((line, found, words),) = _warnings(tmp_path, PLAIN + LAMP + extra)
    assert (line, found) == (7, column)
    assert words.startswith(f"“{key}” is not used: ")
    assert reason in words


def test_limits_of_a_panel_that_nobody_supplies_are_told(tmp_path: Path) -> None:
    text = PLAIN + LAMP + "kits: {count: {25: 1}, overlap: {least: 9 mm, most: 2 cm}}\n"
    ((line, column, words),) = _warnings(tmp_path, text)
    assert (line, column) == (7, 24)
    assert words.startswith("“kits.overlap” is not used: ")


def test_a_dimension_of_another_outline_inside_a_size_is_told_there(tmp_path: Path) -> None:
    text = HEAD + LAMP + "sizes: {25: {diameter: 25 cm, height: 18 cm, side: 20 cm}}\n"
    ((line, column, words),) = _warnings(tmp_path, text)
    assert (line, column) == (5, text.splitlines()[4].index("20 cm") + 1)
    assert "“side” is not used" in words


def test_a_key_that_one_size_uses_is_not_told(tmp_path: Path) -> None:
    text = (
        HEAD + LAMP + "height: 20 cm\ncorner_radius: 3 cm\nseam: {hem: 10 mm}\n"
        "sizes:\n  a: {diameter: 25 cm}\n  b: {outline: square, side: 25 cm, seam: {finish: hem}}\n"
    )
    assert _warnings(tmp_path, text) == []


def test_an_overlap_beside_a_supplied_panel_is_told_to_have_no_say(tmp_path: Path) -> None:
    text = PLAIN + LAMP + "panel: {overlap: 12 mm, supplied: {length: 80 cm, height: 21 cm}}\n"
    ((line, column, words),) = _warnings(tmp_path, text)
    assert (line, column) == (7, 18)
    assert words.startswith("“panel.overlap” is not used: the length of the supplied panel says")


@pytest.mark.parametrize(
    "extra",
    [
        "seam: {finish: hem}\n",
        "covering: {frays: much}\n",
        "braid: {width: 12 mm, cures: 2 h}\n",
        "makers: {own_cloth: true}\n",
        "makers: {ages: [9, 11], blades: adult}\n",
        "link: https://my-workroom.example/drum?a=1#b\n",
        "link: mailto:me@my-workroom.example\n",
        "maker: {name: My workroom, contact: Bench 3}\n",
        "maker: {name: My workroom, address: Quay 1, phone: +00 1, email: me@my.example, web: my.example}\n",
        "kits: {count: {25: 3}, spares: {seam-tape: 1}, cautions: [Mind the step.], format: folded}\n",
        "languages: [en]\nunits: inch\ntone: young\npaper: A5\n",
        "print: {size: large, grey: true, duplex: true}\n",
        "panel: {stock_length: 2 m, stock_width: 30 cm}\n",
        "ring: {first_strut: 12 cm, spacing: angle, fitter: bottom, hole: 29 mm}\n",
    ],
)
def test_a_key_that_is_used_is_not_told(tmp_path: Path, extra: str) -> None:
    assert _warnings(tmp_path, PLAIN + LAMP + extra) == []
