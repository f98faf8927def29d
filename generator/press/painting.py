"""Pictures of one page with and without its text, for checks that must see it. Painting takes time."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

import pypdfium2
import pypdfium2.raw as pdfium

from generator.press.geometry import Box

if TYPE_CHECKING:
    from PIL.Image import Image

_DPI = 100


class Painting:
    """Pictures of an open page, each painted when it is asked for, and once."""

    def __init__(self, page: pypdfium2.PdfPage, box: Box) -> None:
        """``box`` is the whole page."""
        self._page, self._box = page, box

    @cached_property
    def whole(self) -> Image:
        """All of it, in grey."""
        return self._paint(grey=True)

    @cached_property
    def ground(self) -> Image:
        """All but its text, in colour."""
        self._show(text=False, rest=True)
        try:
            return self._paint(grey=False)
        finally:
            self._show(text=True, rest=True)

    @cached_property
    def ink(self) -> Image:
        """How much its text alone would darken white paper, 0 to 255."""
        from PIL import ImageOps

        self._show(text=True, rest=False)
        try:
            return ImageOps.invert(self._paint(grey=True))
        finally:
            self._show(text=True, rest=True)

    def area(self, box: Box, more: int = 0) -> tuple[int, int, int, int]:
        """A box of the page as pixels of these pictures, with so many more on each side."""
        scale = _DPI / 72
        left, right = (box.left - self._box.left) * scale, (box.right - self._box.left) * scale
        top, bottom = (self._box.top - box.top) * scale, (self._box.top - box.bottom) * scale
        return int(left) - more, int(top) - more, int(right) + 1 + more, int(bottom) + 1 + more

    def _paint(self, *, grey: bool) -> Image:
        image: Image = self._page.render(scale=_DPI / 72, grayscale=grey).to_pil()
        return image

    def _show(self, *, text: bool, rest: bool) -> None:
        """Switch the page's text and all else on or off."""
        waiting = [
            pdfium.FPDFPage_GetObject(self._page, index)
            for index in range(pdfium.FPDFPage_CountObjects(self._page))
        ]
        while waiting:
            handle = waiting.pop()
            kind = pdfium.FPDFPageObj_GetType(handle)
            if kind == pdfium.FPDF_PAGEOBJ_FORM:
                count = pdfium.FPDFFormObj_CountObjects(handle)
                waiting.extend(pdfium.FPDFFormObj_GetObject(handle, index) for index in range(count))
            else:
                pdfium.FPDFPageObj_SetIsActive(handle, text if kind == pdfium.FPDF_PAGEOBJ_TEXT else rest)
