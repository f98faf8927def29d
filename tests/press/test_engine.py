"""The engine in its cage: our fonts, our figures, nothing else; silent or refused; the same bytes always."""

from __future__ import annotations

import hashlib
import io
import os
import subprocess
import sys
import threading
from collections.abc import Iterator
from http.server import BaseHTTPRequestHandler, HTTPServer
from pathlib import Path

import pikepdf
import pytest

from generator.base import assets
from generator.base.errors import PressError
from generator.press import engine, fonts
from generator.press.look import pictures
from tests.press.pages import GOOD_FIGURES, GOOD_PAGE, IMAGE, figure, label, page

ROOT = Path(__file__).parents[2]


@pytest.fixture
def visitors() -> Iterator[tuple[str, list[str]]]:
    """Address of a server on this machine, and what was asked of it."""
    asked: list[str] = []

    class Listener(BaseHTTPRequestHandler):
        def do_GET(self) -> None:
            asked.append(self.path)
            self.send_response(404)
            self.end_headers()

        def log_message(self, format: str, *args: object) -> None:
            pass

    server = HTTPServer(("127.0.0.1", 0), Listener)
    thread = threading.Thread(target=server.serve_forever, args=(0.02,), daemon=True)
    thread.start()
    yield f"http://127.0.0.1:{server.server_port}", asked
    server.shutdown()
    server.server_close()


HOSTILE = {
    "a picture": '<img src="{0}/x.png" alt="x">',
    "an SVG picture": '<img src="{0}/x.svg" alt="x">',
    "a style sheet": '<link rel="stylesheet" href="{0}/x.css"><p>x</p>',
    "an import": '<style>@import "{0}/x.css";</style><p>x</p>',
    "an attached file": '<link rel="attachment" href="{0}/x.txt"><p>x</p>',
    "an attached link": '<p><a rel="attachment" href="{0}/x.txt">x</a></p>',
    "a background": '<p style="background: url({0}/x.png)">x</p>',
    "a list mark": '<ul><li style="list-style-image: url({0}/x.png)">x</li></ul>',
    "a font": '<style>@font-face {{ font-family: x; src: url("{0}/x.ttf") }}</style><p>x</p>',
    "an object": '<object data="{0}/x.svg"></object><p>x</p>',
    "an embedded thing": '<embed src="{0}/x.svg"><p>x</p>',
    "a picture in an SVG": '<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><title>x</title>'
    '<image href="{0}/x.png" width="9" height="9"/></svg>',
    "a base": '<base href="{0}/"><img src="x.png" alt="x">',
}


@pytest.mark.parametrize("what", HOSTILE)
def test_a_page_reaches_no_network(what: str, visitors: tuple[str, list[str]]) -> None:
    address, asked = visitors
    with pytest.raises(PressError, match="the document engine complained"):
        engine.render(page(HOSTILE[what].format(address)))
    assert asked == []


@pytest.mark.parametrize("what", HOSTILE)
def test_a_page_reads_no_file(what: str, tmp_path: Path) -> None:
    for name in ("x.png", "x.svg", "x.css", "x.txt", "x.ttf"):
        (tmp_path / name).write_text("p::after { content: 'a secret' }", encoding="utf-8")
    with pytest.raises(PressError, match="the document engine complained"):
        engine.render(page(HOSTILE[what].format(tmp_path.as_uri())))


def test_a_file_named_without_a_scheme_is_refused_too(tmp_path: Path) -> None:
    secret = tmp_path / "x.svg"
    secret.write_text(figure(label("a secret", 5, 9)), encoding="utf-8")
    for address in (str(secret), os.path.relpath(secret), "//localhost" + str(secret)):
        with pytest.raises(PressError):
            engine.render(page(f'<img src="{address}" alt="x">'))


def test_a_picture_in_a_figure_reaches_no_network(visitors: tuple[str, list[str]]) -> None:
    address, asked = visitors
    with pytest.raises(PressError):
        engine.render(page(IMAGE), {"dock": figure(f'<image href="{address}/x.png" width="9" height="9"/>')})
    assert asked == []


def test_a_part_of_another_svg_is_not_even_asked_for(visitors: tuple[str, list[str]]) -> None:
    address, asked = visitors
    engine.render(page(IMAGE), {"dock": figure(f'<use href="{address}/x.svg#a"/>')})
    assert asked == []


def test_a_figure_may_use_and_cut_its_own_parts() -> None:
    parts = (
        '<defs><clipPath id="frame"><rect x="0" y="0" width="40" height="42"/></clipPath>'
        '<pattern id="hatch" width="4" height="4" patternUnits="userSpaceOnUse">'
        '<rect width="4" height="4" fill="#0B5A66"/></pattern>'
        '<rect id="bar" width="80" height="10"/></defs>'
        '<g clip-path="url(#frame)"><use href="#bar" y="5"/></g>'
        '<rect y="20" width="80" height="10" fill="url(#hatch)"/>'
    )
    (image,) = pictures(engine.render(page(IMAGE), {"dock": figure(parts)}), 254)
    left, top = 200, 160  # the page's margins at ten dots a millimetre

    def colour(x: float, y: float) -> object:
        return image.getpixel((left + round(10 * x), top + round(10 * y)))

    assert colour(20, 10) == (0, 0, 0)
    assert colour(60, 10) == (255, 255, 255)
    assert colour(60, 25) == (0x0B, 0x5A, 0x66)


def test_an_svg_data_uri_is_shown_and_a_raster_one_refused() -> None:
    shown = "data:image/svg+xml,%3Csvg xmlns='http://www.w3.org/2000/svg' width='9' height='9'/%3E"
    assert engine.render(page(f'<img src="{shown}" alt="x">')).startswith(b"%PDF")
    with pytest.raises(PressError, match="only SVG"):
        engine.render(page('<img src="data:image/png;base64,iVBORw0KGgo=" alt="x">'))


def test_a_figure_that_is_not_there_is_told_by_name() -> None:
    with pytest.raises(PressError, match="there is no figure 'dock'"):
        engine.render(page(IMAGE))


@pytest.mark.parametrize(
    ("html", "words"),
    [
        (page("<p>✂ cut</p>"), r"\.notdef.*✂"),
        (page("<p>text</p>", "p { colour: red }"), "colour"),
        (page('<img src="figure:dock" alt="">'), "alt"),
        (page("<p>text</p>").replace(' lang="en"', ""), "lang"),
    ],
)
def test_what_the_engine_only_warns_of_is_a_failure(html: str, words: str) -> None:
    with pytest.raises(PressError, match=words):
        engine.render(html, GOOD_FIGURES)


def test_a_figure_that_cannot_be_drawn_is_a_failure() -> None:
    with pytest.raises(PressError):
        engine.render(page(IMAGE), {"dock": "<svg"})


def test_a_missing_font_file_is_told_before_the_engine_starts(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    fonts.font_bytes.cache_clear()
    gone = dict.fromkeys(fonts.WEIGHTS, tmp_path / "gone.ttf")
    monkeypatch.setattr(assets, "font_files", lambda: gone)
    try:
        with pytest.raises(PressError, match=r"gone\.ttf cannot be read"):
            engine.render(page("<p>text</p>"))
    finally:
        fonts.font_bytes.cache_clear()


def test_an_unknown_family_still_prints_in_the_pinned_font() -> None:
    pdf = engine.render(page('<p style="font-family: DejaVu Sans, sans-serif">text</p>'))
    with pikepdf.open(io.BytesIO(pdf)) as file:
        names = {
            str(item.BaseFont).rpartition("+")[2]
            for item in file.objects
            if isinstance(item, pikepdf.Dictionary) and item.get("/Type") == "/Font"
        }
    assert names == {"Source-Sans-Pro"}


PRINT_HASH = """
import hashlib
import io
from generator.press import engine
from tests.press.pages import GOOD_FIGURES, GOOD_PAGE
print(hashlib.sha256(engine.render(GOOD_PAGE, GOOD_FIGURES)).hexdigest())
"""


def test_the_same_input_gives_the_same_bytes_in_any_process_and_zone() -> None:
    here = hashlib.sha256(engine.render(GOOD_PAGE, GOOD_FIGURES)).hexdigest()
    places = [
        {"TZ": "Pacific/Kiritimati", "PYTHONHASHSEED": "1", "LC_ALL": "C"},
        {"TZ": "America/Los_Angeles", "PYTHONHASHSEED": "4242", "SOURCE_DATE_EPOCH": "0"},
    ]
    started = [
        subprocess.Popen(
            [sys.executable, "-c", PRINT_HASH], cwd=ROOT, env={**os.environ, **place}, stdout=subprocess.PIPE
        )
        for place in places
    ]
    assert [process.communicate(timeout=60)[0].decode().strip() for process in started] == [here, here]


def test_no_date_stands_in_the_file() -> None:
    with pikepdf.open(io.BytesIO(engine.render(GOOD_PAGE, GOOD_FIGURES))) as file:
        assert "/CreationDate" not in file.docinfo
        assert "/ModDate" not in file.docinfo
        assert b"Date" not in file.Root.Metadata.read_bytes()
