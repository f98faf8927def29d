"""What carries meaning in a picture is seen: WCAG 2.2, 1.4.11, asked of real pages.

Published: W3C, Understanding Success Criterion 1.4.11 (from memory): 3 to 1 against what is beside it, and of
two colours of one object the one that stands out will do. #949494 on white is 3.03 to 1, #959595 2.99 to 1
(ColorAide 8.13; the formula is held to W3C's own examples in ``test_contrast.py``).
"""

from __future__ import annotations

import pytest
from coloraide import Color

from generator.base.errors import PageFault
from generator.press import engine
from generator.press.checks import graphics
from generator.press.reading import sheets
from generator.press.wish import Wish
from tests.press.pages import GOOD_FIGURES, GOOD_PAGE, IMAGE, figure, label, page

INK, SEA = "#1B1B1B", "#0B5A66"


def found(svg: str, html: str = "") -> list[PageFault]:
    """The faults of a page with one figure."""
    return [
        fault
        for sheet in sheets(engine.render(html or page(IMAGE), {"dock": figure(svg)}))
        for fault in graphics.find(sheet, Wish())
    ]


def line(colour: str, way: str = "M5 20 L70 20", width: float = 0.5) -> str:
    return f'<path d="{way}" fill="none" stroke="{colour}" stroke-width="{width}"/>'


def disc(fill: str, more: str = "") -> str:
    return f'<circle cx="40" cy="20" r="15" fill="{fill}" {more}/>'


@pytest.mark.parametrize(("colour", "passes"), [("#949494", True), ("#959595", False), (SEA, True)])
def test_a_line_on_paper_stands_out_by_three_to_one(colour: str, passes: bool) -> None:
    assert (Color(colour).contrast("white", method="wcag21") >= 3) == passes
    assert (not found(line(colour))) == passes


def test_a_line_is_judged_on_the_fill_beneath_it() -> None:
    assert not found(disc("#8A8A8A") + line("#949494", "M45 2 L70 2"))
    (fault,) = found(disc("#555555", 'stroke="#555555"') + line(INK, "M30 20 L50 20"))
    value = Color("#555555").contrast(INK, method="wcag21")
    assert f"a line of a picture stands out too little: {value:.2f} to 1, the least is 3 to 1" in fault.wrong
    assert fault.page == 1
    assert fault.at is not None


def test_a_line_that_only_crosses_a_dark_shape_is_seen() -> None:
    tool = '<circle cx="40" cy="20" r="8" fill="#555555"/>'
    assert not found(tool + line(INK, "M5 20 L75 20"))


@pytest.mark.parametrize(("wide", "passes"), [(3, True), (6, False)])
def test_of_a_line_that_is_mostly_covered_two_millimetres_must_be_seen(wide: int, passes: bool) -> None:
    """A line from 31 to 41 begins on a dark bar and goes on under a disc: 2 mm of it are seen, or 5."""
    bar = f'<rect x="30" y="10" width="{wide}" height="20" fill="{INK}"/>'
    cover = f'<circle cx="{30 + wide + 6.1}" cy="20" r="6" fill="{SEA}"/>'
    assert (not found(bar + line(INK, "M31 20 L41 20") + cover)) == passes


def test_the_dark_edge_of_a_pale_line_is_its_outline() -> None:
    assert found(line("#B5B5B5", width=1.0))
    assert not found(line(INK, width=1.6) + line("#B5B5B5", width=1.0))


def test_a_tint_may_be_pale_where_a_line_stands_round_it() -> None:
    assert "a tint of a picture has no edge that is seen" in found(disc("#D9D9D9"))[0].wrong
    assert not found(disc("#D9D9D9", f'stroke="{INK}" stroke-width="0.25"'))
    assert not found(disc("#D9D9D9") + f'<circle cx="40" cy="20" r="15" fill="none" stroke="{INK}"/>')


def test_an_outline_as_pale_as_its_tint_is_none() -> None:
    (fault,) = found(disc("#D9D9D9", 'stroke="#B5B5B5" stroke-width="0.5"'))
    assert "a line of a picture" in fault.wrong


def test_a_part_that_is_broken_off_need_not_have_a_line_there() -> None:
    assert not found('<path d="M10 10 L60 10 L60 30 L10 30 Z" fill="#D9D9D9"/>' + line(INK, "M10 10 L60 10"))


def test_what_a_later_shape_covers_is_not_judged() -> None:
    cover = f'<rect x="2" y="2" width="76" height="38" fill="#FFFFFF" stroke="{INK}" stroke-width="0.5"/>'
    assert found(line("#B5B5B5"))
    assert not found(line("#B5B5B5") + cover)


def test_a_halo_of_white_is_no_graphic() -> None:
    tint = disc("#D9D9D9", f'stroke="{INK}"')
    assert not found(tint + line("#FFFFFF", "M30 20 L50 20", 2.0) + label("rim", 35, 21))


def test_an_arrow_that_only_colour_sets_off_is_found() -> None:
    red = '<rect x="5" y="5" width="60" height="30" fill="#FF0000" stroke="#1B1B1B" stroke-width="0.5"/>'
    assert Color("#FF0000").contrast(INK, method="wcag21") > 3
    assert found(red + line(INK, "M10 20 L60 20"))


def test_borders_of_tables_and_boxes_are_no_part_of_a_picture() -> None:
    html = page(f'<table><tr><td style="border: 1mm solid #D9D9D9">one</td></tr></table>{IMAGE}')
    assert not found(line(INK), html)


def test_a_line_is_where_it_is_seen_however_it_is_turned_and_scaled() -> None:
    turned = f'<g transform="translate(40 20) rotate(30) scale(0.5)">{line("#B5B5B5", "M-30 0 L30 0", 1)}</g>'
    (fault,) = found(turned)
    assert fault.at is not None
    assert not found(f'<g opacity="0.9">{line(INK)}</g>')
    assert found(f'<g opacity="0.3">{line(INK)}</g>')


def test_a_good_page_has_no_faint_graphics() -> None:
    pages = sheets(engine.render(GOOD_PAGE, GOOD_FIGURES))
    assert [list(graphics.find(sheet, Wish())) for sheet in pages] == [[], []]
