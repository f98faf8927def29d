"""Two lengths written together."""

from __future__ import annotations

import pytest

from generator.base.sides import SidesError, parse_sides


@pytest.mark.parametrize(
    ("text", "sides"),
    [
        ("108 x 60 cm", (1080.0, 600.0)),
        ("108x60cm", (1080.0, 600.0)),
        ("1.08 m × 600 mm", (1080.0, 600.0)),
        # 42.5 * 25.4 and 24 * 25.4.
        ("42 1/2 by 24 in", (1079.5, 609.6)),
        ("  1 m * 1 m ", (1000.0, 1000.0)),
    ],
)
def test_a_piece_of_cloth_is_read_with_its_width_first(text: str, sides: tuple[float, float]) -> None:
    assert parse_sides(text) == pytest.approx(sides)


@pytest.mark.parametrize(
    ("text", "wrong", "fix"),
    [
        ("", "is not a size", "108 x 60 cm"),
        ("108 cm", "is not a size", "108 x 60 cm"),
        ("1 x 2 x 3 cm", "is not a size", "108 x 60 cm"),
        ("108 x 60", "“108” has no unit", "write 108 mm"),
        ("108,5 x 60 cm", "comma", "write 108.5 cm"),
        ("0 x 60 cm", "is zero", "108 x 60 cm"),
        ("10 x 5 ft", "is in feet", "write 120 in"),
    ],
)
def test_anything_else_is_refused_in_words(text: str, wrong: str, fix: str) -> None:
    with pytest.raises(SidesError) as caught:
        parse_sides(text)
    assert wrong in caught.value.wrong
    assert fix in caught.value.fix
