"""Plain paths painted the short way: the engine's own picture, and what is not plain is left to it."""

from __future__ import annotations

import pytest
from PIL import ImageChops

from generator.press import drawing, engine
from generator.press.look import pictures
from tests.press.pages import IMAGE, figure, page

PLAIN = (
    '<path d="M5.00 5.00L30.00 5.00L30.00 30.00Z" fill="#D9D9D9" stroke="#1B1B1B" stroke-width="0.7"/>'
    '<path d="M40 5L70 5L70 35L40 35ZM45 10L65 10L65 30L45 30Z" fill="#0B5A66" fill-rule="evenodd"/>'
    '<path d="M5 38C20 30 30 46 45 38" fill="none" stroke="#1B1B1B" stroke-width="0.5" '
    'stroke-dasharray="1.6 1.0" stroke-linecap="butt"/>'
)
TURNED = '<g fill="none" stroke="#1B1B1B"><path d="M5 5L30 5" transform="rotate(20 5 5)"/></g>'
SHORT = '<path d="m5 5 10 0 0 10z" fill="#1B1B1B"/><path d="M20 5h10v10a5 5 0 0 1 -10 0z" opacity="0.5"/>'


@pytest.mark.parametrize(
    ("data", "expected"),
    [
        ("M1 2L3.50 -4", b"1 2 m\n3.50 -4 l"),
        ("M1 2L3 4L5 6ZM7 8L9 10", b"1 2 m\n3 4 l\n5 6 l\nh\n7 8 m\n9 10 l"),
        ("M0 0C1 2 3 4 5 6Z", b"0 0 m\n1 2 3 4 5 6 c\nh"),
    ],
)
def test_each_step_becomes_its_numbers_and_then_its_operator(data: str, expected: bytes) -> None:
    assert drawing.operators(data) == expected


@pytest.mark.parametrize(
    "data",
    [
        "",
        "m1 2l3 4",
        "M1 2 3 4",
        "M1,2L3,4",
        "M1 2L3",
        "L1 2",
        "M1 2A5 5 0 0 1 3 4",
        "M1 2L3 4 (x) Tj",
        "M1e3 2L3 4",
    ],
)
def test_any_other_path_is_left_to_the_engine(data: str) -> None:
    assert drawing.operators(data) is None


@pytest.mark.parametrize("content", [PLAIN, TURNED, SHORT, PLAIN + TURNED + SHORT])
def test_the_picture_is_the_engines_own(content: str, monkeypatch: pytest.MonkeyPatch) -> None:
    html, figures = page(IMAGE), {"dock": figure(content)}
    quick = pictures(engine.render(html, figures), 150)
    monkeypatch.setattr(engine, "paint_quickly", lambda images: None)
    slow = pictures(engine.render(html, figures), 150)
    for one, two in zip(quick, slow, strict=True):
        assert sum(one.convert("L").histogram()[:200]) > 0
        assert ImageChops.difference(one.convert("RGB"), two.convert("RGB")).getbbox() is None
