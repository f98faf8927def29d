"""Only the pinned fonts stand in a file, and all of them are embedded."""

from __future__ import annotations

from collections.abc import Iterator

import pikepdf

from generator.base.errors import PageFault
from generator.base.message import message
from generator.press.advice import REPORT
from generator.press.fonts import FACES
from generator.press.wish import Wish


def find_in_file(pdf: pikepdf.Pdf, wish: Wish) -> Iterator[PageFault]:
    """Fonts with another name, drawn fonts, and fonts whose letters are not in the file."""
    for item in pdf.objects:
        if not isinstance(item, pikepdf.Dictionary) or item.get("/Type") != "/Font":
            continue
        name = str(item.get("/BaseFont", "/a font without a name")).lstrip("/").rpartition("+")[2]
        kind = item.get("/Subtype")
        if name not in FACES:
            yield PageFault(message("the font {name} is not one of the pinned fonts", name=name), REPORT)
        elif kind == "/Type3":
            yield PageFault(message("the font {name} is drawn, not embedded", name=name), REPORT)
        elif kind != "/Type0" and not _embedded(item):
            yield PageFault(message("the font {name} is not embedded", name=name), REPORT)


def _embedded(font: pikepdf.Dictionary) -> bool:
    descriptor = font.get("/FontDescriptor", pikepdf.Dictionary())
    return any(key in descriptor for key in ("/FontFile", "/FontFile2", "/FontFile3"))
