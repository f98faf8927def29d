"""A kit: a box holds what the work uses and the list has; counts and lengths follow from the shade."""

from __future__ import annotations

import math
from functools import cache
from pathlib import Path

import pytest

from generator.base.assets import data_folder
from generator.base.errors import GeometryError, KitError
from generator.examine import examine
from generator.plan.kit import KitContents
from generator.plan.kit_list import load_kit, read_kit
from generator.plan.lot import batch_lot, size_lot
from generator.plan.stock import Reel, Roll, Sheet
from generator.plan.work import Work
from tests.recipe.expected import differences, expected_faults

RECIPES = data_folder("recipes")
BAD = sorted((Path(__file__).parent / "kits").glob("*.yaml"))
KITS = "\nkits: {{count: {{{size}: {boxes}}}, {more}}}\n"


def made(
    folder: Path, name: str, size: str, boxes: int = 5, more: str = "lot: L-1", change: str = ""
) -> Work:
    """A sample with kits; ``change`` goes below."""
    text = (RECIPES / f"{name}.yaml").read_text(encoding="utf-8").split("\n# What the workroom packs")[0]
    path = folder / f"{name}.yaml"
    path.write_text(text + KITS.format(size=size, boxes=boxes, more=more) + change, encoding="utf-8")
    work = examine(path).work(size)
    assert work is not None
    return work


def contents(work: Work) -> KitContents:
    assert work.kit is not None
    return work.kit


@cache
def pier_drum() -> tuple[Work, ...]:
    return examine(RECIPES / "pier-drum.yaml").works


@pytest.mark.parametrize("path", BAD, ids=lambda path: path.stem)
def test_exactly_the_announced_faults_of_a_list_come_out(path: Path) -> None:
    expected = expected_faults(path)
    assert expected
    with pytest.raises(KitError) as caught:
        read_kit(path)
    assert differences(expected, caught.value.faults) == []
    assert caught.value.exit_code == 2


def test_the_workrooms_own_list_reads() -> None:
    listed = load_kit("kit")
    assert listed.stock["panel"] == Roll(10_000.0, 300.0)
    assert listed.stock["label"] == Sheet(297.0, 210.0)
    reel = listed.stock["ring-tape"]
    assert isinstance(reel, Reel)
    # A full reel: π(D² − core²)/(4 × length) is the tape with its liner, some two tenths of a millimetre.
    assert 0.15 < math.pi * (reel.outer**2 - reel.core**2) / (4 * reel.length) < 0.3


def test_the_box_holds_what_the_work_uses_and_says_what_it_lacks() -> None:
    kit = contents(pier_drum()[1])
    assert [part.name for part in kit.supplied] == [
        "fitter-ring", "plain-ring", "panel", "ring-tape", "seam-tape", "paper-strip", "tucking-tool",
        "label",
    ]  # fmt: skip
    assert kit.needed == ("cloth", "low-tack-tape")
    used = {*pier_drum()[1].plan.consumables, *pier_drum()[1].plan.tools}
    assert {*kit.needed, *kit.needed_tools} == used - {part.name for part in kit.parts}
    assert [part.called for part in kit.parts if part.kind == "packing"] == [
        "Printed insert", "Box", "Box label",
    ]  # fmt: skip


def test_counts_lengths_and_weights_of_pier_drum_35() -> None:
    kit = contents(pier_drum()[1])
    values = {key: measure.shown for key, measure in kit.measures.items()}
    assert values["kits"] == 12
    # Eight parts of one piece each, and a piece of seam tape to spare.
    assert (values["kit_pieces"], values["kit_spares"]) == (8, 1)
    # 1.1 × 2 × (350π − 2) = 2414.6, up to a whole 10; H − 2 × 2 for the seam.
    assert values["kit_ring_tape_length"] == 2420
    assert values["kit_seam_tape_length"] == 216
    # 38 + 76 × 1.09956 = 121.6; 76 × 1.09956 = 83.6; 490 × 1.1116 × 0.25 = 136.2.
    assert values["kit_fitter_ring_weight"] == 122
    assert values["kit_plain_ring_weight"] == 84
    assert values["kit_panel_weight"] == 136
    # Shown parts add up: 122 + 84 + 136 + 7 + 1 + 2 + 9 + 1 + 20 + 210.
    assert values["kit_weight"] == 592
    assert kit.unweighed == ("box-label",)
    # 1155 and 270 mm, up to a tenth of a centimetre. Inches come from what the shade needs, up to an eighth:
    # 350π + 0.65π + 10 + 40 = 1151.6 mm is 45.34 in, 270 mm is 10.63 in.
    assert values["cloth_length_cm"] == 115.5
    assert values["cloth_width_cm"] == 27
    assert values["cloth_length_in"] == 45.375
    assert values["cloth_width_in"] == 10.75


def test_lengths_of_the_kit_are_those_of_the_sheet() -> None:
    for work in pier_drum():
        kit = contents(work)
        seam = kit.part("seam-tape")
        assert seam is not None
        assert seam.length is not None
        assert seam.length.shown == work.measures.shown("seam_tape")
        ring = kit.part("ring-tape")
        assert ring is not None
        assert ring.length is not None
        assert ring.length.value >= 1.1 * work.measures.exact("ring_tape")


def test_a_hem_takes_a_second_piece_of_tape(tmp_path: Path) -> None:
    part = contents(made(tmp_path, "customs-rect", "35x18")).part("seam-tape")
    assert part is not None
    assert part.count.shown == 2
    assert part.pieces == 2


def test_two_panels_take_two_panels_and_two_pieces_of_tape(tmp_path: Path) -> None:
    kit = contents(made(tmp_path, "slipway-45", "45", more="spares: {panel: 1}"))
    panel, tape = kit.part("panel"), kit.part("seam-tape")
    assert panel is not None
    assert tape is not None
    assert (panel.count.shown, panel.pieces, tape.count.shown) == (2, 3, 2)
    assert panel.spare is not None
    assert panel.spare.shown == 1


def test_what_a_technique_never_uses_is_left_out(tmp_path: Path) -> None:
    # Nothing is tucked where the edges are bound.
    work = made(tmp_path, "tide-drum", "30")
    kit = contents(work)
    assert "tucking-tool" not in work.plan.tools
    assert kit.part("tucking-tool") is None
    assert {"cloth", "braid", "glue"} <= {*kit.needed}
    assert "pegs" in kit.needed_tools


def test_rings_of_a_taper_weigh_what_each_of_them_is_round(tmp_path: Path) -> None:
    kit = contents(made(tmp_path, "fog-cone", "35"))
    fitter, plain = kit.part("fitter-ring"), kit.part("plain-ring")
    assert fitter is not None
    assert plain is not None
    assert fitter.weight is not None
    assert plain.weight is not None
    # 38 + 76 × 0.2π and 76 × 0.35π.
    assert fitter.weight.exact == pytest.approx(38 + 76 * 0.2 * math.pi)
    assert plain.weight.exact == pytest.approx(76 * 0.35 * math.pi)


def test_spares_of_a_part_that_is_not_in_the_list_are_refused_at_their_place(tmp_path: Path) -> None:
    with pytest.raises(KitError) as caught:
        made(tmp_path, "fog-cone", "35", more="spares: {seam-tapes: 1}")
    (fault,) = caught.value.faults
    assert str(fault.span).startswith(f"{tmp_path / 'fog-cone.yaml'}:")
    assert "there is no part “seam-tapes”" in str(fault)
    assert "did you mean “seam-tape”?" in str(fault)


def test_spares_that_no_box_holds_are_told(tmp_path: Path) -> None:
    made(tmp_path, "tide-drum", "30", more="spares: {tucking-tool: 1, panel: 1}")
    (warning,) = (
        warning for warning in examine(tmp_path / "tide-drum.yaml").warnings if "spares" in str(warning)
    )
    assert "“kits.spares.tucking-tool” is not used: the work of no size uses it" in str(warning)


def test_a_part_that_no_technique_knows_is_refused_at_its_line(tmp_path: Path) -> None:
    (tmp_path / "mine.yaml").write_text("kit: 1\nparts:\n  - {part: tucking-tol}\n", encoding="utf-8")
    with pytest.raises(KitError) as caught:
        made(tmp_path, "fog-cone", "35", more="parts: ./mine.yaml")
    assert f"{tmp_path / 'mine.yaml'}:3:5: there is no tool or consumable “tucking-tol”" in str(caught.value)


def test_a_weight_by_a_measure_that_the_shade_lacks_is_refused(tmp_path: Path) -> None:
    text = "kit: 1\nparts:\n  - {part: panel, weight: {metre: 2 g, of: outer_radius}}\n"
    (tmp_path / "mine.yaml").write_text(text, encoding="utf-8")
    assert contents(made(tmp_path, "fog-cone", "35", more="parts: ./mine.yaml")).weight is not None
    with pytest.raises(KitError, match="no measure to weigh by “outer_radius”"):
        made(tmp_path, "bell-hex", "28", more="parts: ./mine.yaml")


def test_a_list_of_ones_own_names_parts_that_no_step_uses(tmp_path: Path) -> None:
    text = "kit: 1\nparts:\n  - {part: dust-bag, called: Dust bag, shelf: Z9}\n  - {part: cloth}\n"
    (tmp_path / "mine.yaml").write_text(text, encoding="utf-8")
    kit = contents(made(tmp_path, "net-loft", "35x20", more="parts: ./mine.yaml"))
    assert [part.name for part in kit.parts] == ["dust-bag", "cloth"]
    # Cloth that is in the box need not be bought.
    assert "cloth" not in kit.needed
    assert kit.cloth == ()


def test_a_list_that_is_not_there_is_told_with_the_nearest(tmp_path: Path) -> None:
    with pytest.raises(KitError, match=r"there is no list of parts “kits”.*did you mean kit\?"):
        made(tmp_path, "net-loft", "35x20", more="parts: kits")


def test_the_lot_of_all_sizes_adds_up() -> None:
    packed = [work for work in pier_drum() if work.size.boxes]
    assert [work.size.name for work in packed] == ["25", "35"]
    lot = batch_lot(packed)
    assert lot.boxes.shown == 24
    parts = {part.name: part for part in lot.parts}
    # Two pieces of seam tape in each box, one of them to spare.
    assert parts["seam-tape"].total.shown == 48
    assert [count.shown for count in parts["seam-tape"].by_size if count] == [24, 24]
    # 12 × 1.73 m = 20.76 and 12 × 2.42 m = 29.04, each up to a tenth: 20.8 + 29.1.
    assert parts["ring-tape"].length is not None
    assert parts["ring-tape"].length.shown == 49.9
    # (488 + 592) × 12 = 12 960 g.
    assert lot.weight is not None
    assert lot.weight.shown == 13
    for part in lot.parts:
        assert part.total.value == sum(count.value for count in part.by_size if count)
    for work in packed:
        for each in size_lot(contents(work)):
            assert each.total.value == each.part.pieces * 12


def test_a_supplied_panel_is_the_kits_and_a_wrong_one_makes_no_kit(tmp_path: Path) -> None:
    panel = "panel: {{supplied: {{length: {} mm, height: 210 mm}}}}\n"
    recipe = "rimfold: 1\ntitle: T\noutline: circle\nlamp: {diameter: 60 mm, kind: LED, watts: 6}\n"
    recipe += "sizes: {25: {diameter: 250 mm, height: 180 mm}}\nkits: {count: {25: 2}}\n"
    path = tmp_path / "drum.yaml"
    path.write_text(recipe + panel.format(800), encoding="utf-8")
    work = examine(path).works[0]
    assert work.with_kit.measures.shown("panel_length") == 800
    weight = contents(work).part("panel")
    assert weight is not None
    assert weight.weight is not None
    assert weight.weight.exact == pytest.approx(490 * 0.8 * 0.21)
    path.write_text(recipe + panel.format(820), encoding="utf-8")
    with pytest.raises(
        GeometryError, match=r"drum\.yaml:7:28: a panel of 820 mm laps over itself by 32\.6 mm"
    ):
        examine(path)
