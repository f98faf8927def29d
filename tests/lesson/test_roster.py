"""A class is read with all that it rests on, or refused at its place in words."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.base.errors import InputError
from generator.lesson.outcome import outcome, refuse_late, three_ways
from generator.lesson.roster import clock
from tests.lesson.classes import CLASS, RECIPES, SQUARE, class_of, roster_of, written


def refused(folder: Path, taught: str) -> str:
    with pytest.raises(InputError) as caught:
        class_of(folder, taught)
    return str(caught.value)


@pytest.mark.parametrize(
    ("tables", "places"),
    [
        # The bench is the panel 974.8 + ring 260 + 200 = 1434.8 mm; two sides need 2 × (240 + 100) = 680 mm.
        ("[{length: 180 cm, depth: 75 cm, count: 4}]", 8),
        ("[{length: 180 cm, depth: 67 cm, count: 4}]", 4),
        ("[{length: 180 cm, depth: 68 cm, count: 4}]", 8),
        ("[{length: 287 cm, depth: 60 cm}]", 2),
        ("[{length: 286 cm, depth: 60 cm}, {length: 180 cm, depth: 75 cm}]", 3),
    ],
)
def test_places_are_counted_along_the_tables_and_on_both_sides_of_deep_ones(
    tmp_path: Path, tables: str, places: int
) -> None:
    old = "[{length: 180 cm, depth: 75 cm, count: 4}]"
    assert class_of(tmp_path, CLASS.replace(old, tables)).stations == places


def test_tools_are_found_by_what_people_call_them(tmp_path: Path) -> None:
    named = "{Rotary cutter and mat: 2, seam-roller: 3, iron: 1}"
    tools = class_of(tmp_path, CLASS.replace("{rotary cutter: 2, seam roller: 2}", named)).tools
    assert tools == {"cutter": 2, "seam-roller": 3, "iron": 1}


@pytest.mark.parametrize(
    "named",
    [
        "{Rollschneider: 2, Nahtroller: 3, Bügeleisen: 1}",
        "{cutter rotatif et tapis: 2, roulette: 3, fer: 1}",
        "{cúter rotatorio: 2, rodillo: 3, plancha: 1}",
        "{rotary cutter: 2, Nahtroller: 3, fer: 1}",
    ],
)
def test_tools_are_found_by_what_the_sheets_of_any_language_call_them(tmp_path: Path, named: str) -> None:
    tools = class_of(tmp_path, CLASS.replace("{rotary cutter: 2, seam roller: 2}", named)).tools
    assert tools == {"cutter": 2, "seam-roller": 3, "iron": 1}


def test_a_tool_that_the_work_does_not_use_is_told_with_the_nearest(tmp_path: Path) -> None:
    told = refused(tmp_path, CLASS.replace("seam roller: 2", "seem roller: 2"))
    assert "there is no tool “seem roller” in this work" in told
    assert "write seam roller if you mean that" in told


def test_a_table_that_is_too_short_is_told_with_the_length_it_takes(tmp_path: Path) -> None:
    told = refused(tmp_path, CLASS.replace("180 cm", "140 cm"))
    assert "shade.yaml:12:11: no table is long enough: the longest has 1400 mm" in told
    assert "at least 1434.8 mm" in told


def test_a_stage_and_a_demonstration_that_are_not_there_are_told(tmp_path: Path) -> None:
    told = refused(
        tmp_path, CLASS + "  break: {minutes: 20 min, after: lunch}\n  demonstrations: {rol: 5 min}\n"
    )
    assert "there is no stage of the work “lunch”" in told
    assert "there is no demonstration “rol”" in told
    assert "write roll if you mean that" in told


def people(*entries: str) -> str:
    return CLASS.replace("people: 8", f"people: [{', '.join(entries)}]")


def test_a_cloth_that_somebody_brings_too_narrow_is_refused_at_their_line(tmp_path: Path) -> None:
    taught = people("{name: Wanda}", "{name: Nils, cloth: {width: 90 cm}}")
    lines = (SQUARE + taught).splitlines()
    line = next(n for n, text in enumerate(lines, 1) if "90 cm" in text)
    told = refused(tmp_path, taught)
    assert f"shade.yaml:{line}:{lines[line - 1].index('90 cm') + 1}: " in told
    assert "1015" in told


def test_a_cloth_that_is_too_short_is_told_with_what_it_takes(tmp_path: Path) -> None:
    told = refused(tmp_path, people("{name: Wanda, cloth: {width: 137 cm, length: 20 cm}}"))
    assert "the cloth that Wanda brings is too short: 200 mm" in told
    assert "at least 240 mm of it, for a piece of 1015 × 240 mm" in told


def test_a_print_without_an_up_may_be_turned_on_a_narrow_cloth_of_ones_own(tmp_path: Path) -> None:
    cloth = "{name: Wanda, cloth: {name: Own, width: 30 cm, length: 1.1 m, direction: any}}"
    (guest,) = class_of(tmp_path, people(cloth)).guests
    assert guest.work.size.covering.name == "Own"
    assert guest.work.size.covering.width == 300
    assert guest.work.size.makers.own_cloth


def test_people_make_shades_of_other_recipes_beside_this_one(tmp_path: Path) -> None:
    drum = SQUARE.replace("outline: square", "outline: circle").replace(
        "side: 260 mm, corner_radius: 45 mm", "diameter: 30 cm"
    )
    written(tmp_path, drum.replace("26:", "30:").replace("Ferry square", "Drum"), "drum.yaml")
    found = class_of(tmp_path, people("{name: Wanda}", "{name: Nils, recipe: ./drum.yaml}"))
    assert [guest.work.size.title for guest in found.guests] == ["Ferry square", "Drum"]
    assert [guest.work.size.name for guest in found.guests] == ["26", "30"]
    # Both are shown the same, and differ in numbers.
    one, other = (member.shows(found.setup.terms) for member in found.setup.members)
    assert one == other
    assert len({guest.work.measures.shown("panel_length") for guest in found.guests}) == 2


def test_a_recipe_that_is_not_beside_it_and_a_size_it_does_not_have_are_told(tmp_path: Path) -> None:
    assert "there is no such file, “./drum.yaml”" in refused(
        tmp_path, people("{name: Wanda, recipe: ./drum.yaml}")
    )
    written(tmp_path, SQUARE, "other.yaml")
    told = refused(tmp_path, people("{name: Wanda, recipe: ./other.yaml, size: 27}"))
    assert "Wanda makes a size “27”, which ./other.yaml does not have" in told


def test_a_recipe_may_name_itself_without_going_in_circles(tmp_path: Path) -> None:
    found = class_of(tmp_path, people("{name: Wanda, recipe: ./shade.yaml}"))
    assert found.guests[0].work.size.name == "26"


def test_young_learners_wait_for_their_adult(tmp_path: Path) -> None:
    young = class_of(tmp_path, CLASS + "  ages: [9, 11]\n")
    assert young.setup.tools["adult"] == 1
    grown = class_of(tmp_path, CLASS + "  ages: [16, 60]\n")
    assert "adult" not in grown.setup.tools
    assert outcome(young).outlook.deterministic.last > outcome(grown).outlook.deterministic.last


def test_a_class_that_cannot_end_in_time_is_refused_with_three_ways_out(tmp_path: Path) -> None:
    found = outcome(class_of(tmp_path, CLASS.replace("4 h", "3 h")))
    assert not found.in_time
    assert len(three_ways(found)) == 3
    with pytest.raises(InputError) as caught:
        refuse_late(found)
    told = str(caught.value)
    assert "shade.yaml:11:11: the class does not end in time: the last of 8 is done at " in told
    assert "expected an end by 12:50, which leaves 10 min to clear up" in told
    assert told.count("; ") >= 4


def test_more_people_than_places_in_the_time_are_told_as_such(tmp_path: Path) -> None:
    found = outcome(class_of(tmp_path, CLASS.replace("4 h", "3 h").replace("count: 4", "count: 1")))
    with pytest.raises(InputError, match="there are more people than places in the time: 8 share 2"):
        refuse_late(found)


def test_a_class_in_time_is_not_refused_and_its_latest_start_is_its_slack(tmp_path: Path) -> None:
    found = outcome(class_of(tmp_path))
    refuse_late(found)
    assert found.latest_start == pytest.approx(600 + 230 - found.outlook.last_p80)
    # Begun then, it ends when the clearing up must begin; a minute later it does not.
    hours, minutes = clock(found.latest_start)
    begun = CLASS.replace('"10:00"', f'"{hours}:{minutes:02d}"').replace(
        "4 h", f"{240 - int(found.latest_start - 600) - 1} min"
    )
    assert not outcome(class_of(tmp_path, begun)).in_time


def test_what_is_borrowed_keeps_the_wait_to_the_aim_and_one_piece_less_does_not(tmp_path: Path) -> None:
    found = outcome(class_of(tmp_path))
    assert found.loans
    for loan in found.loans:
        assert loan.wait > 5
        assert loan.then <= 5


def test_no_class_claims_less_than_its_bound(tmp_path: Path) -> None:
    for taught in (CLASS, CLASS + "  swap: true\n", CLASS.replace("count: 4", "count: 2")):
        found = outcome(class_of(tmp_path, taught))
        assert found.outlook.deterministic.last >= found.bound - 1e-6


def test_the_samples_classes_end_in_time() -> None:
    for name, count in (("ferry-square", 8), ("pier-drum", 11)):
        found = roster_of(RECIPES / f"{name}.yaml")
        assert len(found.guests) == count
        refuse_late(outcome(found))
