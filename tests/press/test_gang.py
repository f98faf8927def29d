"""Labels on sheets to cut: as many as asked for, at true size, marks outside every piece."""

from __future__ import annotations

import io

import pikepdf
import pypdfium2
import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.base.errors import PressError
from generator.press import engine
from generator.press.folding import A4
from generator.press.gang import EDGE, MARK_TO, gang, places

MM = 25.4 / 72
SIZE = (148.0, 130.0)


def label(width: float = SIZE[0], height: float = SIZE[1], pages: int = 1) -> bytes:
    """A small page with one word at its upper left."""
    html = (
        '<!DOCTYPE html><html lang="en"><head><title>Label</title><style>'
        f"@page {{ size: {width}mm {height}mm; margin: 8mm }}"
        'html { font-family: "Source Sans Pro"; font-size: 12pt } h1 + h1 { break-before: page }'
        f"</style></head><body>{'<h1>GANNET</h1>' * pages}</body></html>"
    )
    return engine.render(html)


def words(pdf: bytes) -> list[list[tuple[float, float]]]:
    """Lower left corner of the word on each page, mm, read back by another library."""
    found = []
    document = pypdfium2.PdfDocument(pdf)
    for page in document:
        text = page.get_textpage()
        spots = []
        search = text.search("GANNET")
        while (hit := search.get_next()) is not None:
            left, bottom, _, _ = text.get_charbox(hit[0])
            spots.append((left * MM, bottom * MM))
        found.append(spots)
    return found


@pytest.mark.parametrize(("count", "sheets"), [(1, [1]), (2, [2]), (12, [2] * 6), (13, [2] * 6 + [1])])
def test_there_are_as_many_as_asked_for(count: int, sheets: list[int]) -> None:
    assert [len(spots) for spots in words(gang(label(), count))] == sheets


def test_each_stands_at_true_size_where_the_marks_are() -> None:
    ((own,),) = words(label())
    (found,) = words(gang(label(), 2))
    for (x, y), spot in zip(places(*SIZE), found, strict=True):
        assert spot == pytest.approx((x + own[0], y + own[1]), abs=0.05)
    with pikepdf.open(io.BytesIO(gang(label(), 2))) as file:
        box = [float(side) * MM for side in file.pages[0].mediabox]
        assert box == pytest.approx([0, 0, *A4], abs=0.01)
        assert str(file.Root.ViewerPreferences.PrintScaling) == "/None"


@given(st.floats(30, 185), st.floats(20, 270))
def test_pieces_and_their_marks_stay_apart_and_on_the_sheet(width: float, height: float) -> None:
    spots = places(width, height)
    assert spots
    for x, y in spots:
        assert x - MARK_TO >= EDGE - 1e-6
        assert y - MARK_TO >= EDGE - 1e-6
        assert x + width + MARK_TO <= A4[0] - EDGE + 1e-6
        assert y + height + MARK_TO <= A4[1] - EDGE + 1e-6
    for index, (ax, ay) in enumerate(spots):
        for bx, by in spots[index + 1 :]:
            # A piece and the mark beside it end before the next piece begins.
            assert abs(ax - bx) >= width + MARK_TO or abs(ay - by) >= height + MARK_TO


def test_what_no_sheet_holds_is_refused() -> None:
    with pytest.raises(PressError, match="200 × 130 mm does not fit on A4"):
        gang(label(200), 1)
    with pytest.raises(PressError, match="one page, and this file has 2"):
        gang(label(pages=2), 1)


def test_the_same_label_gives_the_same_bytes() -> None:
    assert gang(label(), 3) == gang(label(), 3)
