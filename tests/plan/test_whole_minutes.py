"""Minutes as a page prints them."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from generator.plan.build import whole_parts


@given(st.lists(st.floats(0.5, 60), min_size=1, max_size=40))
def test_whole_minutes_add_up_to_the_rounded_total_and_none_is_a_minute_off(minutes: list[float]) -> None:
    whole = whole_parts(minutes)
    assert abs(sum(whole) - sum(minutes)) <= 0.5 + 1e-6
    for part, exact in zip(whole, minutes, strict=True):
        assert abs(part - exact) < 1 + 1e-6


def test_the_minutes_of_equal_steps_add_up_to_what_the_page_prints() -> None:
    # 1.4 + 1.4 + 1.4 = 4.2: a reader who adds 1, 2 and 1 finds the 4 that the page prints.
    assert whole_parts([1.4, 1.4, 1.4]) == [1, 2, 1]
