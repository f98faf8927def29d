"""The sample recipes and the starter say what the demo scenario says."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from generator.recipe.models import SECTIONS, TAPER_KEYS, SizeRecipe
from generator.recipe.starter import starter
from tests.recipe.reading import ROOT, SAMPLES, STARTER, read_file, read_text


def _sizes(name: str) -> dict[str, SizeRecipe]:
    return {size.name: size for size in read_file(ROOT / "recipes" / f"{name}.yaml").sizes}


@pytest.mark.parametrize("path", [*SAMPLES, STARTER], ids=lambda path: path.stem)
def test_a_sample_reads_without_a_warning(path: Path) -> None:
    recipe = read_file(path)
    assert recipe.sizes
    assert recipe.warnings == ()


@pytest.mark.parametrize("path", [*SAMPLES, STARTER], ids=lambda path: path.stem)
def test_a_sample_teaches_with_comments(path: Path) -> None:
    assert path.read_text(encoding="utf-8").count("#") >= 4


def test_pier_drum_has_three_sizes_and_its_own_struts_in_the_largest() -> None:
    sizes = _sizes("pier-drum")
    assert list(sizes) == ["25", "35", "45"]
    # Demo scenario: 250 x 180, 350 x 220, 450 x 260.
    assert [(s.dimensions["diameter"], s.height) for s in sizes.values()] == [
        (250, 180),
        (350, 220),
        (450, 260),
    ]
    assert [s.ring.struts for s in sizes.values()] == [3, 3, 4]
    assert {s.use for s in sizes.values()} == {"pendant"}
    assert {s.fitter_end for s in sizes.values()} == {"top"}
    assert sizes["35"].lamp is not None
    assert sizes["35"].lamp.watts == 6
    assert sizes["35"].maker is not None
    assert sizes["35"].maker.name == "Gannetry Steps Workroom"


def test_ferry_square_is_a_table_shade_in_a_one_way_print_on_own_cloth() -> None:
    (size,) = _sizes("ferry-square").values()
    assert (size.outline, dict(size.dimensions)) == ("square", {"side": 260, "corner_radius": 45})
    assert (size.height, size.use, size.fitter_end) == (190, "table", "bottom")
    assert (size.covering.direction, size.makers.own_cloth) == ("one-way", True)


def test_net_loft_is_a_stadium_with_a_repeat() -> None:
    (size,) = _sizes("net-loft").values()
    assert (size.outline, dict(size.dimensions)) == ("stadium", {"length": 350, "width": 200})
    assert (size.height, size.use) == (220, "table")
    assert size.covering.repeat is not None
    assert (size.covering.repeat.around, size.covering.repeat.up) == (40, None)


def test_customs_rect_has_a_hem_and_cloth_that_frays() -> None:
    (size,) = _sizes("customs-rect").values()
    assert dict(size.dimensions) == {"length": 350, "width": 180, "corner_radius": 25}
    assert (size.height, size.seam.finish, size.seam.hem) == (200, "hem", 12)
    assert size.covering.frays == "much"


def test_bell_hex_has_no_kiss_cut_a_braid_and_a_left_hand() -> None:
    (size,) = _sizes("bell-hex").values()
    assert dict(size.dimensions) == {"sides": 6, "across_flats": 280, "corner_radius": 15}
    assert (size.height, size.panel.kiss_cut, size.makers.hand) == (220, False, "left")
    assert size.braid is not None
    assert size.braid.cure_minutes == 120


def test_the_starter_is_the_template_and_explains_every_line_that_is_on() -> None:
    text = STARTER.read_text(encoding="utf-8")
    assert starter() == text
    for line in text.splitlines():
        explained_above = line.startswith(("outline:", "sizes:", "  30:"))
        if line.strip() and not explained_above:
            assert "#" in line


def test_the_starter_names_every_key_that_a_recipe_may_have() -> None:
    text = STARTER.read_text(encoding="utf-8")
    assert all(key in text for key in TAPER_KEYS)
    for section, model in SECTIONS.items():
        assert section in text
        for key in model.model_fields:
            assert key in text, f"{section}.{key}"


def test_the_tapered_sizes_of_the_starter_may_be_switched_on(tmp_path: Path) -> None:
    text = STARTER.read_text(encoding="utf-8")
    lines = re.findall(r"(?m)^#( {3}(?:cone|bent): .*| {10}.*)$", text)
    assert all(f"{key}: " in " ".join(lines) for key in TAPER_KEYS)
    switched = text.replace("\n  30: ", "\n" + "".join(line[1:] + "\n" for line in lines) + "  30: ")
    cone, bent, drum = read_text(tmp_path, switched).sizes
    assert [size.tapered for size in (cone, bent, drum)] == [True, True, False]
    assert cone.ends is not None
    assert bent.ends is not None
    assert (cone.ends.slant, bent.ends.slant, bent.ends.shift) == (230, None, (10, -20))


def test_every_line_of_the_starter_that_is_off_may_be_switched_on(tmp_path: Path) -> None:
    switched = re.sub(r"(?m)^( *)# ([a-z_]+: )", r"\1\2", STARTER.read_text(encoding="utf-8"))
    (size,) = read_text(tmp_path, switched).sizes
    assert {"ring.hole", "lamp.length", "makers.ages", "braid.width", "maker.name", "link"} <= (
        size.stated | ({"link"} if size.link else set())
    )
