"""What offcuts still make: counted by hand, and never more than comes out."""

from __future__ import annotations

from generator.cutting.guillotine import cut_cloth
from generator.cutting.model import Area, Piece
from generator.cutting.offcuts import uses

SWATCH = Piece("swatch", 100, 100, 99)


def test_a_strip_makes_as_many_swatches_as_lie_on_it() -> None:
    # 335 × 1920: three beside one another, nineteen one after the other.
    (use,) = uses([Area(0, 0, 1920, 335)], [SWATCH], turn=True)
    assert use.made == (("swatch", 57),)


def test_another_size_comes_first_and_the_rest_makes_swatches() -> None:
    # A strip of 105 comes off along the whole: 19 swatches. Beside the cover 1080 × 230 is left: 20 more.
    # Cut across first it would be 30 and 8, one fewer.
    cover = Piece("25", 840, 230, 1)
    (use,) = uses([Area(0, 0, 1920, 335)], [cover, SWATCH], turn=True)
    assert use.made[0] == ("25", 1)
    assert use.made[1] == ("swatch", 39)


def test_what_lies_turned_is_not_made_of_one_way_cloth() -> None:
    (use,) = uses([Area(0, 0, 1920, 335)], [Piece("25", 840, 230, 1)], turn=False)
    assert use.made == ()


def test_no_more_is_made_than_is_wanted() -> None:
    (use,) = uses([Area(0, 0, 1920, 335)], [Piece("swatch", 100, 100, 5)], turn=True)
    assert use.made == (("swatch", 5),)


def test_the_largest_offcut_stands_first_and_what_it_makes_comes_out_of_it() -> None:
    offcuts = [Area(0, 0, 300, 200), Area(0, 0, 900, 400)]
    found = uses(offcuts, [Piece("25", 840, 230, 9), SWATCH], turn=True)
    assert [use.offcut for use in found] == [offcuts[1], offcuts[0]]
    for use in found:
        sizes = {"25": (840.0, 230.0), "swatch": (100.0, 100.0)}
        pieces = [Piece(name, *sizes[name], count) for name, count in use.made]
        assert cut_cloth(pieces, use.offcut.across, True).length <= use.offcut.along
