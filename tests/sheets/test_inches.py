"""Lengths in inches: exact, rounded the way the hand needs it, and adding up on the page.

An inch is 25.4 mm exactly (NIST SP 811, appendix B; ISO 80000-3: both from memory). Expected values are
worked out with fractions.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import cache

import pytest
from babel.units import format_unit
from hypothesis import given
from hypothesis import strategies as st

from generator.base.assets import data_folder
from generator.base.edition import Units, Voice
from generator.base.units import LengthError, parse_length
from generator.base.words import on_the_line
from generator.measures.inches import STEPS, chains, inches_of, tolerance_in_inches
from generator.measures.measure import Measure, Measures, Rounding, Ruler, Unit
from generator.press.checks.numbers import untraceable_numbers
from generator.sheets.formatting import (
    fraction,
    inch_word,
    out_of_drawing,
    product,
    quantity,
    quantity_within,
    small_fraction,
    told,
    tolerances,
)
from generator.sheets.render import rich
from generator.sheets.wording import load_words
from tests.figures.jobs import names_in, planned

INCH = Fraction(254, 10)
INCHES, BOTH = Voice("en", "inch"), Voice("en", "both")
SAMPLES = [
    name for path in sorted(data_folder("recipes").glob("*.yaml")) for name in sorted(names_in(path.stem))
]
# Chains that the page shows, told in words: a whole, its parts, and how often each part.
SUMS: Mapping[str, tuple[tuple[int, str], ...]] = {
    "panel_height": ((1, "finished_height"), (2, "margin")),
    "cloth_length": ((1, "slack_ends"), (1, "panel_length"), (1, "hem"), (1, "slack_end_rest")),
    "strip_length": ((1, "wrapped_length"), (1, "overlap")),
    "outer_radius": ((1, "inner_radius"), (1, "slant")),
    "braid_width": ((1, "binding_fold"), (1, "binding_inside")),
    "margin": ((1, "relief_depth"), (1, "slit_stop")),
}


def length(
    exact: float, rounding: Rounding = "nearest", ruler: Ruler = "sixteenths", tolerance: float | None = None
) -> Measure:
    """A length that is shown to the millimetre."""
    return Measure("any", "Any", exact, round(exact), "mm", "", "", tolerance, rounding=rounding, ruler=ruler)


@cache
def measures_of(sample: str) -> Measures:
    return planned(sample)[1]


def only(measure: Measure) -> Fraction:
    """Inches of a measure of one value."""
    found = inches_of(measure)
    assert found is not None
    (one,) = found
    return one


@pytest.mark.parametrize(
    ("mm", "rounding", "ruler", "inches"),
    # 1151.6 / 25.4 = 45.34; 718.34 / 25.4 = 28.281; 173.75 / 25.4 = 6.841; 3 / 25.4 = 0.118; 254 / 25.4 = 10.
    [
        (1151.6, "up", "eighths", Fraction(363, 8)),
        (718.34, "nearest", "sixteenths", Fraction(28 * 16 + 4, 16)),
        (173.75, "down", "sixteenths", 6 + Fraction(13, 16)),
        (3.0, "down", "sixteenths", Fraction(3, 32)),
        (254.0, "up", "eighths", Fraction(10)),
        (254.0, "down", "eighths", Fraction(10)),
        (100.0, "nearest", "quarters", Fraction(4)),
        (15.0, "nearest", "thirty-seconds", Fraction(19, 32)),
    ],
)
def test_known_lengths(mm: float, rounding: Rounding, ruler: Ruler, inches: Fraction) -> None:
    assert only(length(mm, rounding, ruler)) == inches


@pytest.mark.parametrize(("mm", "ruler"), [(3.5, "mm"), (0.35, "sixteenths"), (0.15, "thirty-seconds")])
def test_what_no_rule_shows_stays_in_millimetres(mm: float, ruler: Ruler) -> None:
    assert inches_of(length(mm, ruler=ruler)) is None
    assert quantity(length(mm, ruler=ruler), INCHES).endswith(" mm")


MILLIMETRES = st.integers(100, 30_000).map(lambda tenths: tenths / 10)
"""10 mm to 3 m, by tenths."""
RULERS = st.sampled_from(sorted(STEPS))


@given(MILLIMETRES, RULERS)
def test_up_is_never_short_and_down_always_fits(mm: float, ruler: Ruler) -> None:
    step, exact = STEPS[ruler], Fraction(mm) / INCH
    noise = Fraction(1, 10**5)
    assert -noise <= only(length(mm, "up", ruler)) - exact < step
    if exact >= step:
        assert -noise <= exact - only(length(mm, "down", ruler)) < step


@given(MILLIMETRES, RULERS)
def test_a_mark_is_off_by_half_a_line_at_most(mm: float, ruler: Ruler) -> None:
    found = inches_of(length(mm, "nearest", ruler))
    assert found is None or abs(found[0] - Fraction(mm) / INCH) <= STEPS[ruler] / 2 + Fraction(1, 10**5)


@given(st.integers(1, 64 * 100))
def test_inches_of_a_recipe_come_back_as_they_were_written(sixteenths: int) -> None:
    stated = Fraction(sixteenths, 16)
    if stated >= Fraction(1, 4):
        mm = float(stated * INCH)
        assert all(only(length(mm, way)) == stated for way in ("up", "nearest", "down"))


@given(st.integers(1, 32 * 100))
def test_what_is_printed_can_be_read_again(steps: int) -> None:
    inches = Fraction(steps, 32)
    text = f"{fraction(inches)} in"
    try:
        read = parse_length(text)
    except LengthError as error:
        # Glyphs such as ⅝ are not read in a recipe, and the message has what is.
        read = parse_length(error.fix.removeprefix("write "))
    assert read == pytest.approx(float(inches * INCH), abs=1e-6)
    assert not untraceable_numbers(on_the_line(small_fraction(inches)), [text])


def test_fractions_are_written_as_a_rule_has_them() -> None:
    written = {fraction(Fraction(n, 16)) for n in (3, 4, 6, 8, 10, 12, 14, 16, 22)}
    assert written == {"3/16", "¼", "⅜", "½", "⅝", "¾", "⅞", "1", "1⅜"}
    assert fraction(11 + Fraction(3, 16)) == "11\N{NO-BREAK SPACE}3/16"
    assert small_fraction(11 + Fraction(3, 16)) == "11³/₁₆"


def test_a_fraction_of_a_drawing_is_said_as_one_on_the_line() -> None:
    assert on_the_line("9¹³/₁₆ ± ¹/₁₆″") == "9 13/16 ± 1/16″"
    assert on_the_line("≤ ³/₃₂″") == "≤ 3/32″"
    assert on_the_line("270 mm²") == "270 mm²"
    height = length(250.0)
    assert out_of_drawing("9¹³/₁₆ ± ¹/₁₆″", height, INCHES) == "9 13/16 ± 1/16 in"
    assert out_of_drawing("250 ± 2", height, BOTH) == "250 ± 2 mm"


def test_the_unit_is_named_as_cldr_has_it() -> None:
    for language in ("en", "de", "fr", "es"):
        cldr = format_unit("7", "length-inch", length="short", locale=language)
        assert cldr == f"7{cldr[1]}{inch_word(language)}"
    assert inch_word("fr") == "po"


@pytest.mark.parametrize(
    ("units", "text"),
    [("metric", "1155 mm"), ("inch", "45⅜ in (1155 mm)"), ("both", "1155 mm (45⅜ in)")],
)
def test_one_length_is_told_as_the_voice_wishes(units: Units, text: str) -> None:
    cloth = Measure("any", "Any", 1151.6, 1155.0, "mm", "", "", rounding="up", ruler="eighths")
    assert quantity(cloth, Voice("en", units)) == text


def bought(mm: float, rounding: Rounding, unit: Unit = "mm") -> Measure:
    """A length that is bought: of cloth, of tape, of a roll."""
    exact = mm / 1000 if unit == "m" else mm
    return Measure("any", "Any", exact, exact, unit, "", "", rounding=rounding, ruler="feet")


@pytest.mark.parametrize(
    ("mm", "rounding", "text"),
    # 10 m / 304.8 mm = 32.808 ft; 4700 / 304.8 = 15.420; 304.8 × 10 is ten feet; 3000 mm = 118.11 in.
    [
        (10_000.0, "down", "32¾ ft"),
        (10_000.0, "up", "33 ft"),
        (4700.0, "up", "15½ ft"),
        (3048.0, "down", "10 ft"),
        (3048.0, "up", "10 ft"),
        (3000.0, "down", "118 in"),
        (3000.0, "up", "118⅛ in"),
        (20.0, "down", "¾ in"),
    ],
)
def test_what_is_bought_by_the_length_is_told_in_feet_from_ten_feet_on(
    mm: float, rounding: Rounding, text: str
) -> None:
    assert told(bought(mm, rounding), INCHES)[0].text == text
    assert told(bought(mm, rounding, "m"), INCHES)[0].text == text


@given(st.integers(3048, 100_000), st.sampled_from(("up", "down")))
def test_feet_are_never_short_of_what_is_needed_nor_more_than_there_is(mm: int, rounding: Rounding) -> None:
    inches = only(bought(float(mm), rounding))
    off, noise = inches * INCH - mm, Fraction(1, 1000)
    assert inches % 3 == 0
    assert (-noise <= off < 3 * INCH) if rounding == "up" else (-3 * INCH < off <= noise)


def test_lengths_that_share_a_unit_are_told_together() -> None:
    # 270 / 25.4 = 10.63; 220 / 25.4 = 8.66 = 8 and 10.6 sixteenths; 2 / 25.4 = 2.5 thirty-seconds.
    pair = (length(1151.6, "up", "eighths"), length(270.0, "up", "eighths"))
    assert product(pair, INCHES) == "45⅜ × 10¾ in (1152 × 270 mm)"
    assert product(pair, BOTH) == "1152 × 270 mm (45⅜ × 10¾ in)"
    within = quantity_within(length(220.0), length(2.0, "down"), INCHES)
    assert within == "8\N{NO-BREAK SPACE}11/16 ± 1/16 in (220 ± 2 mm)"
    # One that has no inches takes the others with it: a unit stands behind the last alone.
    assert product((length(270.0), length(0.35)), INCHES) == "270 × 0 mm"


@given(st.integers(1, 40))
def test_a_tolerance_allows_no_more_in_inches(halves: int) -> None:
    mm = halves / 2
    inches = tolerance_in_inches(mm)
    assert 0 < inches * INCH <= Fraction(mm)
    assert tolerances(length(100.0, tolerance=mm), INCHES)[0] == fraction(inches)


def test_a_sentence_tells_a_pair_in_both_units_and_each_number_by_its_measure() -> None:
    shade, measures, order = planned("pier-drum/35")
    assert shade.panels == 1
    words = load_words(INCHES).bound(order, measures)
    markup = rich(words.rich("rolled-edge.rough-cut.do.1"))
    assert words.say("rolled-edge.rough-cut.do.1").endswith(": 45⅜ × 10¾ in (1155 × 270 mm).")
    assert markup.count('data-measure="cloth_length"') == markup.count('data-measure="cloth_width"') == 2
    assert words.say("crib.number.tape") == "tape, ⅜ in (9 mm) wide"
    assert words.say("peel.range.test" if words.has("peel.range.test") else "measure.peel.value") == (
        "2 to 4 in (50 to 100 mm)"
    )


@pytest.mark.parametrize("sample", SAMPLES)
def test_inches_add_up_wherever_millimetres_do(sample: str) -> None:
    """But for what would be off by more than its tolerance: that is converted by itself."""
    measures = measures_of(sample)
    inches = {key: found[0] for key, m in measures.items() if (found := inches_of(m)) and len(found) == 1}
    inches |= {key: Fraction(m.value) for key, m in measures.items() if m.unit == "count" and m.values}
    closed = 0
    for name, rest in chains(measures):
        try:
            left = rest(inches)
        except KeyError:
            assert name not in inches, name
            continue
        measure = measures[name]
        assert not isinstance(measure.exact, tuple)
        off = abs(left * INCH - Fraction(measure.exact))
        if measure.tolerance is None or off <= Fraction(measure.tolerance):
            assert name not in inches or inches[name] == left, name
            closed += 1
    assert closed > 3


@pytest.mark.parametrize("sample", SAMPLES)
@pytest.mark.parametrize("whole", sorted(SUMS))
def test_the_sums_of_a_page_hold_in_inches(sample: str, whole: str) -> None:
    measures = measures_of(sample)
    parts = [(count, part) for count, part in SUMS[whole] if part in measures]
    if whole not in measures or not all(part in measures or part == "hem" for _, part in SUMS[whole]):
        pytest.skip("this shade has no such parts")
    shown = sum(count * measures.shown(part) for count, part in parts)
    if shown != pytest.approx(measures.shown(whole), abs=0.01):
        pytest.skip("nor do the millimetres add up")
    assert sum(count * only(measures[part]) for count, part in parts) == only(measures[whole])


@pytest.mark.parametrize("sample", SAMPLES)
def test_inches_of_a_sample_are_rounded_as_its_millimetres(sample: str) -> None:
    """Up is not below what is exact, down not above, and what has a tolerance keeps within it."""
    for name, measure in measures_of(sample).items():
        exact = measure.exact if isinstance(measure.exact, tuple) else (measure.exact,)
        for inches, mm in zip(inches_of(measure) or (), exact, strict=False):
            off = float(inches * INCH) - mm
            if measure.rounding == "up":
                assert off > -1e-4, name
            if measure.rounding == "down":
                assert off < 1e-4, name
            if measure.tolerance is not None:
                assert abs(off) <= measure.tolerance + 1e-6, name


@pytest.mark.parametrize("sample", SAMPLES)
def test_what_is_rounded_up_or_down_in_millimetres_says_so(sample: str) -> None:
    for name, measure in measures_of(sample).items():
        if measure.unit != "mm" or isinstance(measure.exact, tuple) or isinstance(measure.shown, tuple):
            continue
        if measure.shown > measure.exact + 1.0:
            assert measure.rounding == "up" or measure.tolerance or measure.inches, name
        if measure.shown < measure.exact - 1.0:
            assert measure.rounding == "down" or measure.tolerance or measure.inches, name


@pytest.mark.parametrize("sample", SAMPLES)
def test_the_cloth_holds_panel_and_slack_as_they_are_printed(sample: str) -> None:
    shade, measures = planned(sample)[0], measures_of(sample)
    if shade.tapered:
        return
    ends = only(measures["panel_length"]) + 2 * only(measures["slack_ends"])
    ends += only(measures["hem"]) if "hem" in measures else 0
    assert only(measures["cloth_length"]) >= ends
    edges = only(measures["panel_height"]) + 2 * only(measures["slack_edges"])
    assert only(measures["cloth_width"]) >= edges
