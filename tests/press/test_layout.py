"""Where the engine puts things, against places that follow from the page's own margins."""

from __future__ import annotations

import pytest

from generator.press import layout
from tests.press.pages import GOOD_FIGURES, GOOD_PAGE, IMAGE, page

HIGH = {"a": 30.0, "b": 400.0, "c": 12.5}


def test_a_block_stands_at_the_margins_of_its_page() -> None:
    placed = layout.place(page('<div id="card" style="height: 30mm; margin-bottom: 9mm">text</div>')).of(
        "card"
    )
    assert [part.page for part in placed] == [1]
    assert placed[0].left == pytest.approx(20, abs=0.01)
    assert placed[0].top == pytest.approx(16, abs=0.01)
    assert placed[0].width == pytest.approx(178, abs=0.01)
    assert placed[0].height == pytest.approx(30, abs=0.01)
    assert placed[0].bottom == pytest.approx(46, abs=0.01)


def test_a_block_on_the_next_page_is_told_with_its_page() -> None:
    found = layout.place(GOOD_PAGE, GOOD_FIGURES)
    assert found.pages == 2
    assert [(part.id, part.page) for part in found.placed] == [
        ("stage", 1),
        ("card-dock", 1),
        ("card-roll", 2),
    ]


def test_a_block_broken_over_pages_has_a_part_on_each() -> None:
    lines = "".join(f"<p>Line {number}</p>" for number in range(40))
    parts = layout.place(page(f'<div id="long">{lines}</div>')).of("long")
    assert [part.page for part in parts] == [1, 2]


def test_a_table_is_told_once_though_the_engine_wraps_it() -> None:
    parts = layout.place(page('<table id="measures"><tr><td>x</td></tr></table>')).of("measures")
    assert len(parts) == 1


def test_a_block_put_by_hand_is_found() -> None:
    body = '<div id="flag" style="position: absolute; left: 30mm; top: 40mm; width: 5mm; height: 5mm"></div>'
    parts = layout.place(page(body)).of("flag")
    assert [(round(part.left), round(part.top)) for part in parts] == [(50, 56)]


def test_an_id_that_is_not_there_has_no_parts() -> None:
    assert layout.place(page("<p>text</p>")).of("card") == ()


def test_measured_on_an_endless_sheet_a_long_block_is_whole() -> None:
    lines = "".join(f'<p style="margin: 0; height: 20mm">Line {number}</p>' for number in range(40))
    found = layout.measure(page(f'<div id="long">{lines}</div>'))
    assert found.pages == 1
    assert [part.height for part in found.of("long")] == [pytest.approx(800, abs=0.01)]
    assert [part.width for part in found.of("long")] == [pytest.approx(178, abs=0.01)]


def test_a_table_that_would_be_cut_is_measured_without_its_repeated_heading() -> None:
    rows = '<tr><td style="height: 20mm; padding: 0">row</td></tr>' * 20
    head = '<thead><tr><th scope="col" style="height: 20mm; padding: 0">head</th></tr></thead>'
    body = f'<table id="long" style="border-collapse: collapse">{head}<tbody>{rows}</tbody></table>'
    assert [part.height for part in layout.measure(page(body)).of("long")] == [pytest.approx(420, abs=0.01)]


def test_a_drawing_is_measured_as_large_as_it_is_printed() -> None:
    html = page(f'<div id="card">{IMAGE}</div><div id="foot">text</div>', "img { display: block }")
    measured, printed = (ask(html, GOOD_FIGURES) for ask in (layout.measure, layout.place))
    assert measured.of("card")[0].height == pytest.approx(42, abs=0.01)
    assert [part.height for part in measured.placed] == [part.height for part in printed.placed]


def test_some_elements_alone_are_as_high_as_among_all_others() -> None:
    body = "".join(f'<div id="{name}" style="height: {high}mm"></div>' for name, high in HIGH.items())
    assert layout.heights(page(body), only=("b", "c")) == {
        name: pytest.approx(HIGH[name], abs=0.01) for name in ("b", "c")
    }
    assert layout.heights(page(body)).keys() == HIGH.keys()


def test_a_line_with_the_number_of_a_page_is_measured_as_it_is_printed() -> None:
    entry = '<p id="entry">seen <span class="at" data-card="#card"></span></p><div id="card">text</div>'
    told = '.at::before { content: "on page " target-counter(attr(data-card), page) " of the sheet" }'
    narrow = f"p {{ width: 30mm; margin: 0 }} {told}"
    measured, printed = (ask(page(entry, narrow)) for ask in (layout.measure, layout.place))
    without = layout.measure(page(entry, "p { width: 30mm; margin: 0 }"))
    assert measured.of("entry")[0].height == printed.of("entry")[0].height
    assert measured.of("entry")[0].height > without.of("entry")[0].height


TOLD = '.at::before { content: "page " attr(data-page) } .next { break-before: page }'


@pytest.mark.parametrize("said", [2, 1])
def test_a_page_that_is_named_is_the_one_on_which_it_stands(said: int) -> None:
    at = f'<p><span class="at" data-card="#card" data-page="{said}"></span></p>'
    document = layout.lay_out(page(f'{at}<div id="card" class="next">text</div>', TOLD))
    words = [box.text for box in document.pages[0]._page_box.descendants() if hasattr(box, "text")]
    assert "".join(words) == "page 2"
