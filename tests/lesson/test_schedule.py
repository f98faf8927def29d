"""A class by the clock: parts in order, gates as stated, latest moments that leave time for the rest."""

from __future__ import annotations

import pickle
from itertools import pairwise
from pathlib import Path

from generator.lesson.outcome import outcome
from generator.lesson.pack import class_numbers
from generator.lesson.room import room_of
from generator.lesson.schedule import Schedule, schedule
from tests.lesson.classes import CLASS, RECIPES, class_of, roster_of


def of(folder: Path, taught: str = CLASS) -> Schedule:
    return schedule(outcome(class_of(folder, taught)))


def test_demonstrations_and_the_break_stand_in_order_with_their_minutes(tmp_path: Path) -> None:
    found = of(tmp_path)
    gates = [(p.name, p.minutes.value) for p in found.parts if p.kind in ("welcome", "show", "break")]
    # As planned for a class: 10, 6, 5, 5, 15 after the rings, 6, 5, 3.
    assert gates == [
        ("welcome", 10), ("laminate", 6), ("seam", 5), ("rings", 5), ("break", 15), ("roll", 6), ("tuck", 5),
        ("finish", 3),
    ]  # fmt: skip
    starts = [p.start.value for p in found.parts if p.kind in ("welcome", "show", "break")]
    assert starts == sorted(starts)
    assert starts[0] == 600


def test_a_demonstration_may_take_other_minutes_than_the_technique_says(tmp_path: Path) -> None:
    found = of(tmp_path, CLASS + "  demonstrations: {roll: 9 min}\n")
    assert {p.name: p.minutes.value for p in found.shown}["roll"] == 9


def test_work_stands_between_the_gates_it_belongs_to(tmp_path: Path) -> None:
    parts = of(tmp_path).parts
    for before, part in pairwise(parts):
        if before.kind in ("show", "break", "welcome") and part.kind == "work":
            assert abs(part.start.value - before.start.value - before.minutes.value) <= 1


def test_every_step_that_is_not_done_ahead_stands_on_it_once(tmp_path: Path) -> None:
    roster = class_of(tmp_path)
    plan = roster.guests[0].work.plan
    done = [step.id for part in of(tmp_path).parts if part.kind == "work" for step in part.steps]
    assert sorted(done) == sorted(step.id for step in plan.steps if not step.task.ahead)


def test_the_latest_moments_keep_their_order_and_lie_after_the_usual_ones(tmp_path: Path) -> None:
    found = of(tmp_path)
    gates = [p for p in found.parts if p.kind in ("welcome", "show", "break")]
    assert [p.latest.value for p in gates] == sorted(p.latest.value for p in gates)
    # The class has time to spare, so that each may begin later than usual by about as much.
    assert all(p.latest.value > p.start.value for p in gates)
    assert gates[0].latest.value == found.latest.value


def test_a_halved_class_tells_each_half_its_turn() -> None:
    found = schedule(outcome(roster_of(RECIPES / "pier-drum.yaml")))
    turns = {(p.name, p.who): p.start.value for p in found.parts if p.kind == "work" and p.who != "all"}
    assert turns["laminate", "first-half"] < turns["tape", "first-half"]
    assert turns["tape", "second-half"] < turns["laminate", "second-half"]


def test_a_pack_can_be_handed_to_another_process(tmp_path: Path) -> None:
    roster = class_of(tmp_path)
    assert pickle.loads(pickle.dumps(roster)).stations == roster.stations


def test_tables_stand_clear_of_one_another_and_on_the_page(tmp_path: Path) -> None:
    for tables in ("[{length: 180 cm, depth: 75 cm, count: 7}]", "[{length: 3 m, depth: 1 m, count: 12}]"):
        old = "[{length: 180 cm, depth: 75 cm, count: 4}]"
        room = room_of(class_of(tmp_path, CLASS.replace(old, tables)))
        for n, one in enumerate(room.tables):
            for other in room.tables[n + 1 :]:
                apart_x = max(other.x - one.x - one.length, one.x - other.x - other.length)
                apart_y = max(other.y - one.y - one.depth, one.y - other.y - other.depth)
                assert max(apart_x, apart_y) >= 900
        assert room.width / room.scale.value <= 246
        assert room.height / room.scale.value <= 96


def test_every_number_of_a_pack_is_a_measure_of_its_own(tmp_path: Path) -> None:
    numbers = class_numbers(class_of(tmp_path))
    assert all(measure.id == key for key, measure in numbers.measures.items())
    assert all(measure.source and measure.formula for measure in numbers.measures.values())
