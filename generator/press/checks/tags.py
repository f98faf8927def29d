"""A file that a screen reader can read, and that carries nothing but its pages.

What PDF/UA-1 (ISO 14289-1:2014, from memory: clauses 5, 7.1, 7.2, 7.3, 7.5) asks of the whole file and a
program can see quickly. The tests run a full machine checker besides.
"""

from __future__ import annotations

from collections.abc import Iterator

import pikepdf

from generator.base.errors import PageFault
from generator.base.message import Message, message
from generator.press.advice import REPORT
from generator.press.wish import Wish

_NOTHING = pikepdf.Dictionary()
_ACTIVE = {
    "/OpenAction": message("an action that starts by itself"),
    "/AA": message("an action that starts by itself"),
    "/AF": message("an attached file"),
    "/AcroForm": message("a form"),
}


ON_PRINT_SHEETS = False
"""Pages that are put on sheets for a printer lose their tags: the file to read keeps them."""


def find_in_file(pdf: pikepdf.Pdf, wish: Wish) -> Iterator[PageFault]:
    """What is missing for a reader who cannot see, and what a page may not carry."""
    for wrong in dict.fromkeys(_wrong(pdf)):
        yield PageFault(wrong, REPORT)


def _wrong(pdf: pikepdf.Pdf) -> Iterator[Message]:
    root = pdf.Root
    if not str(root.get("/Lang", "")).strip():
        yield message("the document names no language")
    if not str(pdf.docinfo.get("/Title", "")).strip():
        yield message("the document has no title")
    if not root.get("/ViewerPreferences", _NOTHING).get("/DisplayDocTitle", False):
        yield message("the document does not show its title in the window")
    if not root.get("/MarkInfo", _NOTHING).get("/Marked", False) or "/StructTreeRoot" not in root:
        yield message("the document is not tagged")
    metadata = root.get("/Metadata")
    if metadata is None or b"pdfuaid:part" not in metadata.read_bytes():
        yield message("the document does not say that it is PDF/UA")
    for key, what in _ACTIVE.items():
        if key in root:
            yield message("the document carries {what}", what=what)
    names = root.get("/Names", _NOTHING)
    if "/EmbeddedFiles" in names:
        yield message("the document carries {what}", what=message("an attached file"))
    if "/JavaScript" in names:
        yield message("the document carries {what}", what=message("a script"))
    yield from _elements(pdf)


def _elements(pdf: pikepdf.Pdf) -> Iterator[Message]:
    for item in pdf.objects:
        if not isinstance(item, pikepdf.Dictionary) or item.get("/Type") != "/StructElem":
            continue
        kind = item.get("/S")
        if kind == "/Figure" and not str(item.get("/Alt", "")).strip():
            yield message("a figure has no words for who cannot see it")
        if kind == "/TH" and "/Scope" not in item.get("/A", _NOTHING):
            yield message("a heading cell of a table does not say which cells it heads")
