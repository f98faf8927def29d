"""Many of one small page on sheets for an office printer, with marks to cut by.

Like every file for a printer it has no tags: the page itself is the file to read.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from itertools import product

import pikepdf

from generator.base.edition import PAPERS, Paper
from generator.base.errors import PressError
from generator.base.message import message
from generator.press.geometry import MM_PER_POINT

EDGE = 6.0
"""What a common printer leaves unprinted, and a little more, mm."""
GAP = 10.0
"""Between two pieces, mm: room for the marks of both."""
MARK_FROM, MARK_TO = 1.5, 4.5
"""Cut marks begin and end so far outside a piece, mm."""
_MARK_WIDTH = 0.2


def places(width: float, height: float, paper: str = "A4") -> tuple[tuple[float, float], ...]:
    """Lower left corners of as many pieces as a sheet holds, upper row first, all in its middle, mm."""
    sheet = PAPERS[paper]
    across, down = _fit(sheet.width, width), _fit(sheet.height, height)
    if not across or not down:
        return ()
    left = (sheet.width - across * width - (across - 1) * GAP) / 2
    foot = (sheet.height - down * height - (down - 1) * GAP) / 2
    rows = [foot + row * (height + GAP) for row in reversed(range(down))]
    return tuple((left + column * (width + GAP), y) for y, column in product(rows, range(across)))


def gang(pdf: bytes, count: int, paper: str = "A4") -> bytes:
    """``count`` of the one page of a file on sheets of a paper, at true size, in vectors.

    The same page gives the same bytes. Raises PressError for a file of several pages, or a page that with its
    marks no sheet holds.
    """
    with pikepdf.open(io.BytesIO(pdf)) as source, pikepdf.new() as sheets:
        if len(source.pages) != 1:
            pages = len(source.pages)
            raise PressError(message("a label has one page, and this file has {pages}", pages=pages))
        left, bottom, right, top = (float(side) * MM_PER_POINT for side in source.pages[0].trimbox)
        width, height = right - left, top - bottom
        spots = places(width, height, paper)
        if not spots:
            raise PressError(
                message(
                    "a label of {size} does not fit on {paper} with its marks",
                    size=f"{width:.0f} × {height:.0f} mm",
                    paper=paper,
                )
            )
        form = sheets.copy_foreign(source.pages[0].as_form_xobject())
        for first in range(0, count, len(spots)):
            _add_sheet(sheets, PAPERS[paper], form, spots[: count - first], (width, height))
        title = source.docinfo.get("/Title", "")
        sheets.docinfo["/Title"] = f"{title} (print sheets, not for reading: print at full size, and cut)"
        sheets.Root.ViewerPreferences = pikepdf.Dictionary(
            DisplayDocTitle=True, PrintScaling=pikepdf.Name("/None"), Duplex=pikepdf.Name("/Simplex")
        )
        written = io.BytesIO()
        sheets.save(written, deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.generate)
    return written.getvalue()


def _fit(sheet: float, side: float) -> int:
    """How many pieces of a side fit along a sheet with marks round each."""
    return max(0, int((sheet - 2 * EDGE - 2 * MARK_TO + GAP + 1e-6) // (side + GAP)))


def _add_sheet(
    sheets: pikepdf.Pdf,
    paper: Paper,
    form: pikepdf.Object,
    spots: tuple[tuple[float, float], ...],
    piece: tuple[float, float],
) -> None:
    x0, y0 = (float(side) for side in list(form["/BBox"])[:2])
    operators = ["q", f"0 0 0 1 K {_points(_MARK_WIDTH)} w", *_marks(spots, piece), "Q"]
    for x, y in spots:
        operators.append(f"q 1 0 0 1 {_points(x) - x0:.4f} {_points(y) - y0:.4f} cm /Label Do Q")
    sheets.add_blank_page(page_size=(_points(paper.width), _points(paper.height)))
    page = sheets.pages[-1]
    page.contents_add(sheets.make_stream("\n".join(operators).encode("ascii")))
    page.Resources = pikepdf.Dictionary(XObject=pikepdf.Dictionary({"/Label": form}))


def _marks(spots: tuple[tuple[float, float], ...], piece: tuple[float, float]) -> Iterator[str]:
    """Two short lines at each corner, outside the piece."""
    for (x, y), right, up in product(spots, (False, True), (False, True)):
        cx, cy = x + piece[0] * right, y + piece[1] * up
        way_x, way_y = (1 if right else -1), (1 if up else -1)
        for (ax, ay), (bx, by) in (
            ((cx + way_x * MARK_FROM, cy), (cx + way_x * MARK_TO, cy)),
            ((cx, cy + way_y * MARK_FROM), (cx, cy + way_y * MARK_TO)),
        ):
            yield f"{_points(ax)} {_points(ay)} m {_points(bx)} {_points(by)} l S"


def _points(length: float) -> float:
    return round(length / MM_PER_POINT, 4)
