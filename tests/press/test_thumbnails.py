"""Pages of a finished file, looked at in a browser that asks for many at once."""

from __future__ import annotations

import io
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from PIL import Image

from generator.base.errors import UsageError
from generator.press import engine
from generator.press.thumbnails import page_picture
from tests.press.pages import GOOD_FIGURES, GOOD_PAGE


@pytest.fixture
def pages(tmp_path: Path) -> Path:
    path = tmp_path / "sheet.pdf"
    path.write_bytes(engine.render(GOOD_PAGE, GOOD_FIGURES))
    return path


def test_a_page_is_drawn_as_wide_as_was_asked_for(pages: Path) -> None:
    with Image.open(io.BytesIO(page_picture(pages, 2, 360))) as image:
        assert image.width == 360
        assert image.height == pytest.approx(360 * 297 / 210, abs=1)


def test_many_pages_asked_for_at_once_are_what_each_is_alone(pages: Path) -> None:
    alone = {number: page_picture(pages, number, 240) for number in (1, 2)}
    assert alone[1] != alone[2]
    with ThreadPoolExecutor(16) as askers:
        asked = [number for _ in range(60) for number in (1, 2)]
        found = list(askers.map(lambda number: page_picture(pages, number, 240), asked))
    assert all(picture == alone[number] for number, picture in zip(asked, found, strict=True))


@pytest.mark.parametrize("number", [0, 3])
def test_a_page_that_there_is_not_is_refused(pages: Path, number: int) -> None:
    with pytest.raises(UsageError, match="there is no page"):
        page_picture(pages, number, 240)
