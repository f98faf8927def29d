"""Two people at one shade as a chart: every step has a bar of its length and a number that can be read."""

from __future__ import annotations

from functools import cache
from itertools import combinations, pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from shapely import box

from generator.base.edition import ENGLISH
from generator.base.words import Words
from generator.figures.model import Figure
from generator.figures.pair_chart import WIDTH, pair_chart, scale_of, ticks
from generator.figures.spread import spread
from generator.plan.critical import Pace
from generator.plan.outlook import Outlook, outlook
from generator.plan.pair import PairPlan, Turn
from generator.sheets.wording import load_words
from tests.figures import drawings
from tests.figures.jobs import job

SAMPLES = ("pier-drum/35", "customs-rect", "bell-hex")
CASES = [(sample, pace) for sample in SAMPLES for pace in ("first_time", "practised")]
every_case = pytest.mark.parametrize(("sample", "pace"), CASES)


@cache
def ahead(sample: str) -> tuple[Outlook, Words]:
    one = job(sample, "dock")
    return outlook(one.plan), load_words(ENGLISH).bound(one.plan, one.measures)


@cache
def chart(sample: str, pace: Pace) -> Figure:
    found, words = ahead(sample)
    return pair_chart(found.plan, found.pairs[pace], pace, words)


@every_case
def test_every_step_has_a_bar_from_its_start_to_its_end(sample: str, pace: Pace) -> None:
    found, _ = ahead(sample)
    pair = found.pairs[pace]
    scale = scale_of(pair.turns, pair.minutes)
    parts = {part.name: part for part in drawings.parts(chart(sample, pace))}
    ids = {step.number: step.id for step in found.plan.steps}
    assert {turn.step for turn in pair.turns} == set(ids)
    for turn in pair.turns:
        xs = [x for x, _ in parts[f"step-{ids[turn.step]}"].points]
        assert min(xs) == pytest.approx(scale.x(turn.start), abs=0.4)
        assert max(xs) == pytest.approx(scale.x(turn.end), abs=0.4)
        assert parts[f"number-{ids[turn.step]}"].texts == (str(turn.step),)


@every_case
def test_lettering_stands_apart_and_on_the_paper(sample: str, pace: Pace) -> None:
    drawings.check_texts_stand_apart(chart(sample, pace))
    assert chart(sample, pace).width == WIDTH


@every_case
def test_a_number_beyond_its_lane_lies_on_no_bar(sample: str, pace: Pace) -> None:
    figure = chart(sample, pace)
    bars = []
    for part in drawings.parts(figure):
        if part.name.startswith("step-"):
            xs, ys = zip(*part.points, strict=True)
            bars.append(box(min(xs), min(ys), max(xs), max(ys)))
    assert not any(a.buffer(-0.05).intersects(b) for a, b in combinations(bars, 2))
    for word in drawings.words(figure):
        over = [bar for bar in bars if bar.intersects(word.box)]
        assert not over or any(bar.buffer(0.1).contains(word.box) for bar in over), word.text


def test_the_first_and_the_last_minute_are_named() -> None:
    pair = ahead("pier-drum/35")[0].pairs["first_time"]
    assert ticks(pair)[0] == 0
    assert ticks(pair)[-1] == pair.minutes


def test_a_long_pause_of_both_takes_little_paper_and_minutes_stay_in_order() -> None:
    turns = (Turn(1, (1,), 0.0, 10.0), Turn(2, (2,), 4.0, 12.0), Turn(3, (1,), 132.0, 140.0))
    scale = scale_of(turns, 140.0)
    assert scale.breaks == ((12.0, 132.0),)
    assert scale.x(132.0) - scale.x(12.0) < 10.0
    places = [scale.x(minute) for minute in range(141)]
    assert all(a < b for a, b in pairwise(places))
    assert places[-1] == pytest.approx(WIDTH, abs=5.0)
    pair = PairPlan(turns, 140.0, 146.0, 140.0, True, ())
    assert not [minute for minute in ticks(pair) if 12 < minute < 132]


@given(
    st.lists(st.tuples(st.floats(0, 100), st.floats(0.5, 8)), min_size=1, max_size=12).map(
        lambda found: sorted(found)
    )
)
def test_things_on_a_line_stand_in_order_without_overlapping(things: list[tuple[float, float]]) -> None:
    middles, widths = [t[0] for t in things], [t[1] for t in things]
    placed = spread(middles, widths, -50.0, 150.0)
    for (a, wide_a), (b, wide_b) in pairwise(zip(placed, widths, strict=True)):
        assert b - a >= (wide_a + wide_b) / 2 - 1e-6
    alone = all(b - a >= (x + y) / 2 for (a, x), (b, y) in pairwise(things))
    if alone:
        assert placed == pytest.approx(middles)
