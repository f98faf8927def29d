"""HTML to a tagged PDF: the document engine, with nothing from the network, the disk or the clock."""

from __future__ import annotations

import contextlib
import ctypes.util
import functools
import hashlib
import logging
import os
import re
import sys
import warnings
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from functools import partial
from typing import Any, NoReturn
from urllib.error import URLError
from urllib.request import DataHandler, Request

from generator.base.errors import PressError
from generator.base.message import message
from generator.press import fonts
from generator.press.drawing import paint_quickly
from generator.press.finish import finish

_LOGGER = "weasyprint"
_ALIEN = "a page may not fetch {!r}, only its own fonts and figures"
_SCHEME = re.compile(r"([A-Za-z][A-Za-z0-9+.-]*):")


@functools.cache
def _engine() -> Any:
    """The document engine, imported late (it costs start-up time) and without any system font."""
    fonts.hide_system_fonts()
    try:
        with warnings.catch_warnings():
            # The engine warns that no font is configured: that is what we want.
            warnings.simplefilter("ignore", UserWarning)
            with contextlib.suppress(OSError), _libraries_by_name():
                import weasyprint
            # Where a library goes by another name, the long way to it.
            import weasyprint
    except OSError as error:
        raise PressError(
            message(
                "the document engine cannot start, a library of the system is missing: {reason}",
                reason=str(error),
            ),
            message("run `bash .ci/setup`, it says which"),
        ) from error
    return weasyprint


@contextmanager
def _libraries_by_name() -> Iterator[None]:
    """Load libraries by the names that the engine knows, and by no other way.

    It tries several names for each, those of other systems first, and Python looks for a name that it does
    not find with the help of other programs, a compiler and a linker among them: some fifty at each start.
    """
    long_way = ctypes.util.find_library
    if sys.platform.startswith("linux"):
        ctypes.util.find_library = lambda name: None
    try:
        yield
    finally:
        ctypes.util.find_library = long_way


class _Problems(logging.Handler):
    """Keeps what the engine complains of; the engine itself goes on silently."""

    def __init__(self) -> None:
        super().__init__(logging.WARNING)
        self.words: list[str] = []

    def emit(self, record: logging.LogRecord) -> None:
        words = " ".join(record.getMessage().split())
        if words not in self.words:
            self.words.append(words)


@contextmanager
def _engine_must_be_silent() -> Iterator[None]:
    """Raise PressError, with all the engine's words, if it warned or failed."""
    problems = _Problems()
    logger = logging.getLogger(_LOGGER)
    logger.addHandler(problems)
    try:
        yield
    finally:
        logger.removeHandler(problems)
    if problems.words:
        raise PressError(message("the document engine complained: {words}", words="; ".join(problems.words)))


@functools.cache
def _fetcher_class() -> type[Any]:
    """The fetcher that serves what is in memory and refuses everything else."""
    urls: Any = _engine().urls

    class MemoryFetcher(urls.URLFetcher):
        """Serves ``font:<weight>``, ``figure:<id>`` and SVG data URIs."""

        def __init__(self, figures: Mapping[str, str]) -> None:
            super().__init__(allowed_protocols=())
            self._figures = figures

        def fetch(self, url: str, headers: Mapping[str, str] | None = None) -> Any:
            """Answer one request. A refusal becomes an engine's complaint, and so a PressError."""
            match = _SCHEME.match(url)
            scheme = match[1].lower() if match else ""
            name = url[len(scheme) + 1 :]
            if scheme == "font" and name in fonts.font_bytes():
                return self._answer(url, fonts.font_bytes()[name], "font/ttf")
            if scheme == "figure":
                if name not in self._figures:
                    _refuse(f"there is no figure {name!r}")
                return self._answer(url, self._figures[name].encode("utf-8"), "image/svg+xml")
            if scheme == "data":
                return self._answer(url, _svg_of_data_uri(url), "image/svg+xml")
            _refuse(_ALIEN.format(url[:80]))

        def open(self, url: Any, data: object = None, timeout: object = None) -> NoReturn:
            """The engine's own way to the network and the disk: closed."""
            _refuse(_ALIEN.format(str(url)[:80]))

        @staticmethod
        def _answer(url: str, body: bytes, kind: str) -> Any:
            return urls.URLFetcherResponse(url, body, {"Content-Type": kind})

    return MemoryFetcher


def _refuse(words: str) -> NoReturn:
    # The engine keeps silent about some refusals (a part of another SVG, say): tell it ourselves too.
    logging.getLogger(_LOGGER).error(words)
    raise ValueError(words)


def _svg_of_data_uri(url: str) -> bytes:
    """Bytes of an SVG data URI. Raster pictures are refused: they can grow without limit, and print badly."""
    try:
        response = DataHandler().data_open(Request(url))
    except (URLError, ValueError) as error:
        raise ValueError("a data URI cannot be read") from error
    if response.headers.get_content_type() != "image/svg+xml":
        _refuse("only SVG may stand in a data URI")
    return bytes(response.read())


@functools.cache
def _typefaces(process: int) -> Any:
    """What the engine knows of our fonts: one for all documents of a process.

    Each of them takes a fifth of a megabyte that is never given back, and each document asks twice. Raises
    PressError if there is no room for the files.
    """
    configuration = _engine().text.fonts.FontConfiguration()
    with fonts.faces_folder(process) as folder, _engine_must_be_silent():
        configuration._folder = folder
        rules = fonts.font_face_css()
        _engine().CSS(string=rules, font_config=configuration, url_fetcher=_fetcher_class()({}))
    return configuration


def lay_out(html: str, figures: Mapping[str, str] | None = None, style: str = "") -> Any:
    """Lay out a page without writing it: the engine's Document.

    ``style`` is CSS that comes after the page's own. Raises PressError if the engine complains.
    """
    fonts.font_bytes()
    engine = _engine()
    fetcher = _fetcher_class()(figures or {})
    with _engine_must_be_silent():
        configuration = _typefaces(os.getpid())
        more = engine.CSS(string=style, font_config=configuration, url_fetcher=fetcher)
        page = engine.HTML(string=html, url_fetcher=fetcher, base_url="rimfold:")
        images: dict[str, Any] = {}
        document = page.render(
            font_config=configuration, stylesheets=[more], cache=images, pdf_variant="pdf/ua-1"
        )
        paint_quickly(images.values())
        return document


def render(html: str, figures: Mapping[str, str] | None = None) -> bytes:
    """A tagged PDF/UA-1 of one HTML text, not yet proved.

    ``figures`` holds SVG texts; ``<img src="figure:dock" alt="…">`` shows the one named ``dock``.
    Raises PressError if the engine complains of anything.
    """
    return write(lay_out(html, figures), html, figures or {})


def write(document: Any, html: str, figures: Mapping[str, str], *, unscaled: bool = False) -> bytes:
    """The PDF of a document that was laid out from this text and these figures.

    The same text and figures give the same bytes, on any day and in any process: the identifier is a hash of
    them, and no date is written. ``unscaled`` asks the viewer to print at full size.
    """
    source = hashlib.sha256(html.encode("utf-8"))
    for name, svg in sorted(figures.items()):
        source.update(f"\0{name}\0{svg}".encode())
    with _engine_must_be_silent():
        pdf: bytes = document.write_pdf(
            finisher=partial(finish, unscaled=unscaled),
            pdf_variant="pdf/ua-1",
            pdf_identifier=source.hexdigest()[:32].encode("ascii"),
        )
    return pdf
