"""Pages as pictures."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from PIL import Image

from generator.press import engine, look
from tests.press.pages import GOOD_FIGURE, GOOD_FIGURES, GOOD_PAGE

ROOT = Path(__file__).parents[2]


def test_each_page_becomes_a_picture_of_its_size() -> None:
    images = look.pictures(engine.render(GOOD_PAGE, GOOD_FIGURES), 72)
    assert [image.size for image in images] == [(596, 842), (596, 842)]


def test_grey_has_no_colour_left() -> None:
    pdf = look.page_of_svg(GOOD_FIGURE)
    (colour,), (grey,) = look.pictures(pdf, 72), look.pictures(pdf, 72, grey=True)
    red, green, blue = colour.getpixel((60, 60))  # type: ignore[misc]
    assert len({red, green, blue}) > 1
    assert grey.mode == "L"


def test_a_figure_alone_has_5_mm_around_it() -> None:
    (image,) = look.pictures(look.page_of_svg(GOOD_FIGURE), 254)
    assert image.width == pytest.approx(10 * (80 + 10), abs=3)
    assert image.height == pytest.approx(10 * (42 + 10), abs=3)


def test_the_tool_says_where_its_pictures_are(tmp_path: Path) -> None:
    svg = tmp_path / "a dock.svg"
    svg.write_text(GOOD_FIGURE, encoding="utf-8")
    command = [
        sys.executable,
        str(ROOT / ".ci" / "look"),
        "a dock.svg",
        "gone.svg",
        "-o",
        str(tmp_path / "out"),
    ]
    done = subprocess.run(command, cwd=tmp_path, env=os.environ, capture_output=True, text=True, timeout=60)
    assert done.stdout == f"{tmp_path / 'out' / 'a dock.png'}\n"
    assert done.returncode == 1
    assert "gone.svg" in done.stderr
    with Image.open(tmp_path / "out" / "a dock.png") as image:
        assert image.width > 600
