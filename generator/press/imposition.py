"""Pages laid out on print sheets, so that they stand in order once the sheets are folded.

What comes out is for a printer, not for reading: pages stand out of order and upside down, and the tags
that a screen reader needs are gone. The document itself, page by page, is the file to read.
"""

from __future__ import annotations

import io
from collections.abc import Iterator, Sequence

import pikepdf

from generator.base.errors import PressError
from generator.base.message import Number, message
from generator.press.folding import BLEED, Fold, Line, Place, fold_named, marks, placed
from generator.press.geometry import MM_PER_POINT

_SLACK = 0.1
"""Millimetres by which a page may differ from the size that the fold is made for."""
_DUPLEX = {"short edge": "/DuplexFlipShortEdge", "long edge": "/DuplexFlipLongEdge", "one side": "/Simplex"}
_HOW = {
    "short edge": "print both sides, turned on the short edge",
    "long edge": "print both sides, turned on the long edge",
    "one side": "print one side",
}
_DASHES = {"crop": "[] 0 d", "fold": "[2.2 1.6] 0 d", "slit": "[] 0 d"}
_MARK_WIDTH = 0.25
"""Millimetres, as fine as a crop mark is cut by."""


def impose(pdf: bytes, scheme: str, title: str | None = None, paper: str = "A4") -> bytes:
    """The print sheets of a document, with crop and fold marks; ``scheme`` names a way to fold a paper.

    Pages are placed at their true size, as they are, in vectors. ``title`` is what the file is called;
    without one it is the document's own and how to print. The same document gives the same bytes. Raises
    UsageError for an unknown scheme, PressError for a page of another size or more pages than the sheet
    holds.
    """
    fold = fold_named(scheme, paper)
    with pikepdf.open(io.BytesIO(pdf)) as source, pikepdf.new() as sheets:
        _refuse_unfit(source, fold, scheme)
        forms = [sheets.copy_foreign(page.as_form_xobject()) for page in source.pages]
        for places in placed(fold, len(forms)):
            _add_side(sheets, fold, places, forms)
        how = f"(print sheets, not for reading: {_HOW[fold.turn]})"
        sheets.docinfo["/Title"] = title or f"{source.docinfo.get('/Title', '')} {how}".strip()
        sheets.Root.ViewerPreferences = pikepdf.Dictionary(
            DisplayDocTitle=True,
            PrintScaling=pikepdf.Name("/None"),
            Duplex=pikepdf.Name(_DUPLEX[fold.turn]),
        )
        written = io.BytesIO()
        sheets.save(written, deterministic_id=True, object_stream_mode=pikepdf.ObjectStreamMode.generate)
    return written.getvalue()


def _refuse_unfit(source: pikepdf.Pdf, fold: Fold, scheme: str) -> None:
    width, height = fold.page
    for number, page in enumerate(source.pages, 1):
        left, bottom, right, top = (float(side) * MM_PER_POINT for side in page.trimbox)
        off = max(abs(right - left - width), abs(top - bottom - height))
        if off > _SLACK or page.rotation:
            raise PressError(
                message(
                    "page {page} is {size}, and the fold “{fold}” takes pages of {expected}",
                    page=number,
                    size=Number(f"{right - left:.1f} × {top - bottom:.1f} mm"),
                    fold=scheme,
                    expected=Number(f"{width:g} × {height:g} mm"),
                )
            )
    if not source.pages or (fold.most is not None and len(source.pages) > fold.most):
        raise PressError(
            message(
                "the document has {pages} pages, the fold “{fold}” takes {most}",
                pages=len(source.pages),
                fold=scheme,
                most=fold.most or message("any number of"),
            )
        )


def _add_side(
    sheets: pikepdf.Pdf, fold: Fold, places: Sequence[Place], forms: Sequence[pikepdf.Object]
) -> None:
    margin = tuple((media - trim) / 2 for media, trim in zip(fold.media, fold.trim, strict=True))
    names = {place.page: pikepdf.Name(f"/Page{place.page + 1}") for place in places}
    operators = ["q", *_marks(fold, (margin[0], margin[1])), "Q"]
    for place in places:
        left, bottom, right, top = (float(side) for side in forms[place.page]["/BBox"])
        x, y = (at + edge for at, edge in zip(place.middle, margin, strict=True))
        across, up = (left + right) / 2, (bottom + top) / 2
        way = -1 if place.turned else 1
        shift = x / MM_PER_POINT - way * across, y / MM_PER_POINT - way * up
        operators += [f"q {way} 0 0 {way} {shift[0]:.4f} {shift[1]:.4f} cm {names[place.page]} Do Q"]
    sheets.add_blank_page(page_size=(_points(fold.media[0]), _points(fold.media[1])))
    page = sheets.pages[-1]
    page.contents_add(sheets.make_stream("\n".join(operators).encode("ascii")))
    page.Resources = pikepdf.Dictionary(
        XObject=pikepdf.Dictionary({str(name): forms[number] for number, name in names.items()})
    )
    page.mediabox = pikepdf.Array([0, 0, _points(fold.media[0]), _points(fold.media[1])])
    page.trimbox = _box(fold, margin[0], margin[1], 0.0)
    page.bleedbox = _box(fold, margin[0], margin[1], BLEED)


def _box(fold: Fold, across: float, up: float, beyond: float) -> pikepdf.Array:
    """The trimmed sheet on the print sheet, and so much more all round."""
    sides = (across - beyond, up - beyond, across + fold.trim[0] + beyond, up + fold.trim[1] + beyond)
    return pikepdf.Array([_points(side) for side in sides])


def _marks(fold: Fold, margin: tuple[float, float]) -> Iterator[str]:
    yield f"0 0 0 1 K {_points(_MARK_WIDTH)} w"
    for mark in marks(fold):
        yield f"{_DASHES[mark.kind]} {_path(mark, margin)} S"


def _path(mark: Line, margin: tuple[float, float]) -> str:
    (x0, y0), (x1, y1) = (
        tuple(_points(at + edge) for at, edge in zip(end, margin, strict=True))
        for end in (mark.start, mark.end)
    )
    return f"{x0} {y0} m {x1} {y1} l"


def _points(length: float) -> float:
    return round(length / MM_PER_POINT, 4)
