"""Lengths, durations and rounding."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.base.units import (
    LengthError,
    parse_length,
    parse_minutes,
    plain_number,
    quoted,
    round_down,
    round_nearest,
    round_up,
)


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("250 mm", 250.0),
        ("35 cm", 350.0),
        ("1.5 m", 1500.0),
        ("250mm", 250.0),
        ("  35   cm ", 350.0),
        # The inch is exactly 25.4 mm: international yard and pound agreement, 1959 (from memory).
        ("1 in", 25.4),
        ("10 in", 254.0),
        # 11.75 * 25.4
        ("11 3/4 in", 298.45),
        ("3/8 in", 9.525),
        ("0 mm", 0.0),
    ],
)
def test_a_length_is_read_in_its_unit(text: str, mm: float) -> None:
    assert parse_length(text) == mm


@given(st.integers(0, 10**9 - 1))
def test_a_length_means_the_same_in_every_unit(tenths: int) -> None:
    text = f"{tenths // 10}.{tenths % 10}"
    mm = parse_length(f"{text} mm")
    assert mm == tenths / 10
    assert parse_length(f"{text} cm") == pytest.approx(10 * mm, rel=1e-15)
    assert parse_length(f"{text} m") == pytest.approx(1000 * mm, rel=1e-15)


@given(st.integers(0, 999), st.integers(0, 63))
def test_inches_in_sixty_fourths_go_to_mm_and_back(whole: int, part: int) -> None:
    mm = parse_length(f"{whole} {part}/64 in")
    assert round(mm / 25.4 * 64) == whole * 64 + part
    assert mm == pytest.approx((whole + part / 64) * 25.4, rel=1e-15)


@given(st.floats(0.001, 9_999, allow_nan=False))
def test_a_length_that_is_written_out_is_read_back(mm: float) -> None:
    assert parse_length(f"{plain_number(mm)} mm") == pytest.approx(mm, abs=0.00005)


@pytest.mark.parametrize("text", ["350", " 0.35 ", "3/4", ".5", "5 ½"])
def test_a_missing_unit_is_told_as_such(text: str) -> None:
    with pytest.raises(LengthError, match=r"^unit$") as caught:
        parse_length(text)
    assert "has no unit" in caught.value.wrong


@pytest.mark.parametrize(
    ("text", "fix"),
    [
        ("350", "write 350 mm, or 35 cm"),
        ("35,5 cm", "write 35.5 cm"),
        ("1,400 mm", "write 1400 mm if the comma parts the thousands, or 1.400 mm if it is a decimal comma"),
        ('10"', "write 10 in"),
        ("10″", "write 10 in"),
        ("10 inches", "write 10 in"),
        ("11¾”", "write 11 3/4 in"),
        ("11-3/4 in", "write 11 3/4 in"),
        ("25 centimetres", "write 25 cm"),
        ("250 MM", "write 250 mm"),
        ("1 000 mm", "write 1000 mm"),
        (".5 mm", "write 0.5 mm"),
        ("5. mm", "write 5 mm"),
        ("2'", "write 24 in"),
        ("35 cm wide", "write 35 cm"),
        ("-5 mm", "write the length without the minus sign"),
        ("−5 mm", "write the length without the minus sign"),
    ],
)
def test_a_length_in_another_spelling_is_refused_with_the_spelling_to_use(text: str, fix: str) -> None:
    with pytest.raises(LengthError) as caught:
        parse_length(text)
    assert caught.value.fix == fix


@pytest.mark.parametrize(
    "text",
    ["", "mm", "nan mm", "inf mm", "1e3 mm", "1/0 in", "9999999999 mm", "1/2/3 in", "５ ５ mm", "0x10 mm"],
)
def test_what_is_no_length_is_refused(text: str) -> None:
    with pytest.raises(LengthError, match=r"^length$"):
        parse_length(text)


def _read(text: str) -> float | LengthError:
    try:
        return parse_length(text)
    except LengthError as error:
        return error


@given(st.text() | st.from_regex(r"[0-9 .,/]{1,8} ?(mm|cm|m|in|\"|')", fullmatch=True))
def test_any_text_is_a_finite_length_or_is_refused_in_words(text: str) -> None:
    outcome = _read(text)
    if isinstance(outcome, LengthError):
        assert outcome.wrong
        assert outcome.fix
        assert "\n" not in outcome.wrong + outcome.fix
    else:
        assert math.isfinite(outcome)
        assert outcome >= 0


@pytest.mark.parametrize(
    ("text", "minutes"), [("45 min", 45), ("2 h", 120), ("1.5 hours", 90), ("1 day", 1440)]
)
def test_a_duration_is_read_in_minutes(text: str, minutes: float) -> None:
    assert parse_minutes(text) == minutes


@pytest.mark.parametrize("text", ["2", "overnight", "h", "-2 h", "2 weeks"])
def test_what_is_no_duration_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="duration"):
        parse_minutes(text)


def test_a_quoted_text_is_short_and_in_one_line() -> None:
    assert quoted("a\nb\u202ec") == "“a b c”"
    assert len(quoted("x" * 500)) == 42


@pytest.mark.parametrize(
    ("value", "up", "down", "nearest"),
    [(1111.599, 1115, 1110, 1110), (1112.5, 1115, 1110, 1115), (250.0, 250, 250, 250), (0.1, 5, 0, 0)],
)
def test_rounding_to_five_goes_up_down_or_to_the_nearest(
    value: float, up: float, down: float, nearest: float
) -> None:
    assert (round_up(value, 5), round_down(value, 5), round_nearest(value, 5)) == (up, down, nearest)


def test_noise_in_the_last_digits_moves_no_rounding() -> None:
    assert round_up(250.0000000001) == 250
    assert round_down(249.9999999999) == 250


@given(st.floats(0, 1e5), st.sampled_from([0.5, 1.0, 5.0, 10.0, 100.0]))
def test_rounding_keeps_to_its_side_and_within_a_step(value: float, step: float) -> None:
    noise = 1e-5 * step + 1e-9
    assert value - noise <= round_up(value, step) < value + step + noise
    assert value - step - noise < round_down(value, step) <= value + noise
    assert abs(round_nearest(value, step) - value) <= step / 2 + noise
