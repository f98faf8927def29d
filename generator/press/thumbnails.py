"""Pages of a finished file as pictures, for looking at them before they are printed."""

from __future__ import annotations

import io
from pathlib import Path
from threading import Lock

import pypdfium2 as pdfium

from generator.base.errors import UsageError
from generator.base.message import message

WIDEST = 1600
"""Pixels: a page is looked at, not printed from."""
_ONE_AT_A_TIME = Lock()
"""PDFium may not be called from two threads at once (from memory): it would end the process."""


def page_picture(path: Path, number: int, width: int) -> bytes:
    """One page, counted from 1, as PNG of so many pixels across.

    Raises UsageError for a page that is not there.
    """
    try:
        with _ONE_AT_A_TIME, pdfium.PdfDocument(path) as file:
            if not 1 <= number <= len(file):
                raise UsageError(
                    message(
                        "{name} has {pages} pages; there is no page {page}",
                        name=path.name,
                        pages=len(file),
                        page=number,
                    )
                )
            page = file[number - 1]
            scale = min(max(width, 40), WIDEST) / page.get_width()
            picture = page.render(scale=scale).to_pil()
    except (OSError, pdfium.PdfiumError) as error:
        raise UsageError(
            message("{name} cannot be shown", name=path.name), message("make it again")
        ) from error
    out = io.BytesIO()
    picture.save(out, "PNG")
    return out.getvalue()
