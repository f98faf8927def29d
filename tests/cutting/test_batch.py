"""What the boxes of a recipe take, counted by hand from recipe, list of parts and the sheets' measures."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from generator.base.assets import data_folder
from generator.base.errors import KitError
from generator.cutting.batch import Batch, cut_batch
from generator.cutting.roll_numbers import batch_numbers
from generator.examine import examine

RECIPE = """\
rimfold: 1
title: Test drum
use: table
outline: circle
sizes:
  30: {diameter: 300 mm, height: 200 mm}
"""


def batch_of(tmp_path: Path, more: str, recipe: str = RECIPE) -> Batch:
    path = tmp_path / "batch.yaml"
    path.write_text(recipe + more, encoding="utf-8")
    return cut_batch(examine(path).works)


@pytest.fixture(scope="module")
def pier_drum() -> Batch:
    """Twelve boxes of 25, twelve of 35, none of 45."""
    return cut_batch(examine(data_folder("recipes") / "pier-drum.yaml").works)


def test_the_boxes_of_two_sizes_take_these_pieces(pier_drum: Batch) -> None:
    (cloth,) = pier_drum.cloths
    assert [(p.name, p.length, p.width, p.count) for p in cloth.pieces] == [
        ("25", 840, 230, 12),
        ("35", 1155, 270, 12),
    ]
    (panels,) = pier_drum.panels
    assert [(p.name, p.length, p.width, p.count) for p in panels.plan.pieces] == [
        ("25", 797, 210, 12),
        ("35", 1112, 250, 12),
    ]
    # The planning table of the requirements: three rolls of 10 m, proved by HiGHS and CP-SAT.
    assert panels.plan.count == 3


def test_tape_is_cut_in_the_pieces_that_are_packed(pier_drum: Batch) -> None:
    # Ring tape: twice the way round less a gap of 2, a tenth over, up to 10. Seam tape: height less 4, twice.
    (tape,) = pier_drum.tapes
    assert [(s.name, s.length, s.count) for s in tape.strips] == [
        ("ring-tape 25", 1730, 12),
        ("seam-tape 25", 176, 24),
        ("ring-tape 35", 2420, 12),
        ("seam-tape 35", 216, 24),
    ]
    assert tape.used == 12 * 1730 + 24 * 176 + 12 * 2420 + 24 * 216
    assert len(tape.plan.rolls) == 2


def test_offcuts_may_make_a_size_of_which_no_boxes_are_counted(pier_drum: Batch) -> None:
    # Of the last roll 10 000 − 5 × 797 = 6015 are left: four panels of 45, each 1426 long.
    made = {name: count for use in pier_drum.panels[0].uses for name, count in use.made}
    assert made["45"] == 4


def test_cloth_with_an_up_is_never_turned_and_one_with_a_repeat_neither(tmp_path: Path) -> None:
    kits = "kits: {count: {30: 4}}\n"
    one_way = batch_of(tmp_path, "covering: {direction: one-way}\n" + kits)
    stripe = batch_of(tmp_path, "covering: {repeat: {around: 40 mm}}\n" + kits)
    plain = batch_of(tmp_path, kits)
    turns = [any(p.turned for p in b.cloths[0].layout.placed) for b in (one_way, stripe, plain)]
    assert turns == [False, False, True]


def test_a_print_with_an_up_and_a_repeat_takes_whole_repeats(tmp_path: Path) -> None:
    cloth = "covering: {direction: one-way, repeat: {up: 100 mm}}\n"
    (plan,) = batch_of(tmp_path, cloth + "kits: {count: {30: 4}}\n").cloths
    # A piece is 200 + 30 + 20 = 250 high: three repeats of 100.
    assert plan.pieces[0].pitch == 300
    assert plan.layout.length == 4 * 300
    assert sorted(placed.area.x for placed in plan.layout.placed) == [0, 300, 600, 900]


def test_cloths_that_differ_are_cut_apart(tmp_path: Path) -> None:
    sizes = "  40: {diameter: 400 mm, height: 200 mm, covering: {name: Sailcloth}}\n"
    batch = batch_of(tmp_path, sizes + "kits: {count: {30: 2, 40: 3}}\n")
    assert [(c.name, [(p.name, p.count) for p in c.pieces]) for c in batch.cloths] == [
        ("Plain cloth", [("30", 2)]),
        ("Sailcloth", [("40", 3)]),
    ]


def test_sheets_that_the_recipe_states_come_before_rolls_of_the_list(tmp_path: Path) -> None:
    stated = "panel: {stock_length: 1200 mm, stock_width: 700 mm}\n"
    (panels,) = batch_of(tmp_path, stated + "kits: {count: {30: 5}}\n").panels
    sheet = panels.plan.sheet
    assert (sheet.length, sheet.width, sheet.single) == (1200, 700, True)
    # A panel is 955 × 230: three lie beside one another, so five take two sheets.
    assert (panels.plan.lanes, panels.plan.count) == (3, 2)


def test_pieces_to_spare_are_cut_too(tmp_path: Path) -> None:
    batch = batch_of(tmp_path, "kits: {count: {30: 5}, spares: {panel: 1, seam-tape: 2}}\n")
    assert batch.panels[0].plan.pieces[0].count == 10
    assert {s.name: s.count for s in batch.tapes[0].strips} == {"ring-tape 30": 5, "seam-tape 30": 15}


def test_panels_that_come_cut_need_no_roll(tmp_path: Path) -> None:
    supplied = "panel: {supplied: {length: 955 mm, height: 230 mm}}\n"
    batch = batch_of(tmp_path, supplied + "kits: {count: {30: 5}}\n")
    assert batch.panels == ()
    assert batch.without_roll == ("30",)


def test_a_roll_too_narrow_is_refused_at_the_place_that_states_it(tmp_path: Path) -> None:
    stock = (data_folder("recipes") / "stock" / "kit.yaml").read_text(encoding="utf-8")
    (tmp_path / "my-kit.yaml").write_text(stock.replace("width: 30 cm", "width: 20 cm"), encoding="utf-8")
    with pytest.raises(KitError) as refused:
        batch_of(tmp_path, "kits: {count: {30: 5}, parts: ./my-kit.yaml}\n")
    message = str(refused.value)
    assert re.search(r"batch\.yaml:7:\d+: a panel of 955 × 230 mm for 30", message)
    assert "expected a roll or sheet of at least 955 × 230 mm; state a larger one in the list" in message


def test_every_number_of_a_batch_is_a_measure_with_a_source(pier_drum: Batch) -> None:
    numbers = batch_numbers(pier_drum)
    assert len(numbers.measures) > 60
    assert all(measure.source and measure.formula and measure.label for measure in numbers.measures.values())
    (cloth,) = numbers.cloths
    # Pieces of 193 200 and 311 850 mm² on 4470 × 1400; bought a twentieth longer, up to a tenth of a metre.
    assert cloth.used.exact == pytest.approx((12 * 840 * 230 + 12 * 1155 * 270) / (4470 * 1400))
    assert cloth.used.value == 0.968
    assert cloth.buy.value == 4700


def test_what_is_left_on_a_reel_and_its_width_belong_together(pier_drum: Batch) -> None:
    (tape,) = batch_numbers(pier_drum).tapes
    for reel in tape.reels:
        across, core, outer = reel.across.exact, tape.core.exact, tape.outer.exact
        assert isinstance(across, float)
        assert isinstance(core, float)
        assert isinstance(outer, float)
        # Areas of tape are as lengths: the share of the full ring that is left is the share of the tape.
        share = (across**2 - core**2) / (outer**2 - core**2)
        assert share == pytest.approx(reel.roll.left / 50_000)
    assert sum((50_000 - reel.roll.left) * reel.count.value for reel in tape.reels) == pytest.approx(
        tape.used.exact
    )
