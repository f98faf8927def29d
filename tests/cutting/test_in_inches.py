"""A plan of rolls and reels in inches: what is told comes out of what there is, and adds up.

An inch is 25.4 mm exactly (NIST SP 811, appendix B, from memory). Sums are made here with fractions.
"""

from __future__ import annotations

from fractions import Fraction
from functools import cache

from generator.base.assets import data_folder
from generator.cutting.batch import PanelRolls, cut_batch
from generator.cutting.in_inches import panel_sides, tape_lengths
from generator.cutting.model import Piece, Strip
from generator.cutting.numbers import Book
from generator.cutting.panels import Sheet, cut_panels
from generator.cutting.reels import Reel
from generator.cutting.roll_numbers import BatchNumbers, batch_numbers, panel_numbers
from generator.examine import examine
from generator.lesson.buying import buying
from generator.measures.inches import inches_of
from generator.measures.measure import Measure

INCH = Fraction(254, 10)


def only(measure: Measure) -> Fraction:
    found = inches_of(measure)
    assert found is not None, measure.id
    return found[0]


@cache
def drum() -> BatchNumbers:
    return batch_numbers(cut_batch(examine(data_folder("recipes") / "pier-drum.yaml").works))


def test_panels_have_the_inches_of_their_sheet_and_come_out_of_their_roll() -> None:
    (panel,) = drum().panels
    assert panel.in_inches
    for piece, work in zip(panel.pieces, drum().batch.works, strict=True):
        assert only(piece.length) == only(work.measures["panel_length"])
        assert only(piece.width) == only(work.measures["panel_height"])
    length = {piece.name: only(piece.length) for piece in panel.pieces}
    for roll in panel.alike:
        taken = sum(length[name] * int(count.value) for name, count in roll.pieces)
        assert (taken + only(roll.left)) * INCH <= 10_000


def test_a_row_is_as_long_as_its_panels_and_what_is_left() -> None:
    """Pier drum, its first roll: eight panels of 1112 mm in two rows, then one of 797 and what is left."""
    (panel,) = drum().panels
    long, short = (only(piece.length) for piece in sorted(panel.pieces, key=lambda p: -p.length.value))
    rows = [only(row) for row in panel.rows[:3]]
    assert rows == [4 * long, 4 * long, short + only(panel.alike[0].left)]


def test_a_roll_that_its_inches_overrun_is_told_in_millimetres_alone() -> None:
    """Four panels of 250 mm in a metre: 9 7/8 in each are 39 1/2 in, and a metre has 39 3/8."""
    pieces = [Piece("A", 250.0, 200.0, 4, inches=(Fraction(79, 8), Fraction(63, 8)))]
    (tight,) = cut_panels(pieces, Sheet(1000.0, 300.0))
    assert panel_sides(tight) == {}
    numbers = panel_numbers(Book(), PanelRolls(tight, (), scored=False), "panel")
    assert not numbers.in_inches
    assert inches_of(numbers.pieces[0].length) is None
    (free,) = cut_panels(pieces, Sheet(1010.0, 300.0))
    assert panel_sides(free) == {"A": pieces[0].inches}


def test_two_lanes_side_by_side_are_held_to_the_width_of_the_roll() -> None:
    """Two lanes of 150 mm in 300: 5 15/16 in each are more than 11 13/16 (300.04 mm is 11 13/16)."""
    pieces = [Piece("A", 400.0, 150.0, 4, inches=(Fraction(63, 4), Fraction(95, 16)))]
    (plan,) = cut_panels(pieces, Sheet(1000.0, 300.0))
    assert plan.lanes == 2
    assert panel_sides(plan) == {}


def test_tape_is_told_in_inches_only_where_all_of_it_comes_off_the_reel() -> None:
    reel = Reel(1000.0, 76.0, 100.0)
    strip = Strip("tape", 250.0, 4, Fraction(79, 8))
    assert tape_lengths([strip], [{"tape": 4}], reel) == {}
    assert tape_lengths([strip], [{"tape": 3}], reel) == {"tape": Fraction(79, 8)}


def test_what_is_left_on_a_reel_is_no_more_than_its_pieces_leave_in_either_unit() -> None:
    (tape,) = drum().tapes
    each = {name: only(length) for name, length, _ in tape.pieces}
    for reel in tape.reels:
        left = inches_of(reel.left)
        taken = sum(each[name] * int(count.value) for name, count in reel.pieces)
        assert left is None or (
            left[0] * INCH <= reel.roll.left + 1e-9 and (taken + left[0]) * INCH <= 50_000
        )
        assert only(reel.across) >= only(tape.core)


def test_what_is_needed_and_left_of_a_cloth_is_what_is_bought_in_feet_too() -> None:
    """Ferry square: a class whose cloth is the workroom's, bought by the metre."""
    roster = examine(data_folder("recipes") / "ferry-square.yaml").roster
    assert roster is not None
    items = [item for item in buying(roster).items if item.form == "metre"]
    assert items
    for item in items:
        rest = inches_of(item.left)
        assert only(item.needed) + (rest[0] if rest else 0) == only(item.packs)
        assert only(item.packs) * INCH >= Fraction(item.packs.value) * 1000
