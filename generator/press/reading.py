"""A finished PDF read back, page by page."""

from __future__ import annotations

import ctypes
import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

import pypdfium2
import pypdfium2.raw as pdfium

from generator.base.errors import PageFault, ProofError
from generator.base.message import Message, message
from generator.press import fonts
from generator.press.advice import REPORT
from generator.press.geometry import Box, Matrix, Point
from generator.press.painting import Painting
from generator.press.parts import reading_of
from generator.press.sheet import Colour, Letter, Run, Sheet, Thing

_MOST_THINGS = 500_000
"""What one page may paint: beyond, it was made to stall whoever reads it."""
_DEEPEST = 30
"""Drawings within drawings."""


def not_read(error: Exception) -> Message:
    """That a library does not read a finished file, in its own words."""
    return message("the finished file cannot be read: {reason}", reason=str(error))


def sheets(pdf: bytes) -> Iterator[Sheet]:
    """Every page of a PDF in turn. Raises ProofError if it cannot be read."""
    try:
        document = pypdfium2.PdfDocument(pdf)
    except pypdfium2.PdfiumError as error:
        raise ProofError([PageFault(not_read(error), REPORT)]) from error
    try:
        begun: set[str] = set()
        for number, page in enumerate(document, 1):
            things = dict(_things(page))
            text = page.get_textpage()
            # The reader sorts letters by where they stand; the order of painting keeps each label together.
            runs = list(_runs(sorted(_letters(text, things), key=lambda letter: letter.thing.order)))
            box, reading = Box(*page.get_mediabox()), reading_of(page)
            yield Sheet(
                number, box, list(things.values()), runs, page,
                Box(*page.get_artbox()), reading, Painting(page, box), frozenset(begun),
                number == len(document),
            )  # fmt: skip
            begun |= {part.title for part in reading.parts if part.what == "card"}
            text.close()
            page.close()
    finally:
        document.close()


def _address(handle: Any) -> int:
    return ctypes.addressof(handle.contents) if handle else 0


def _things(page: pypdfium2.PdfPage) -> Iterator[tuple[int, Thing]]:
    count = pdfium.FPDFPage_CountObjects(page)
    handles = [pdfium.FPDFPage_GetObject(page, index) for index in range(count)]
    order = iter(range(_MOST_THINGS))
    yield from _within(handles, Matrix(), _Outside(None, False, -1, 0, 1.0), order)


@dataclass(frozen=True, slots=True)
class _Outside:
    """What holds for everything in a drawing."""

    clip: Box | None
    furniture: bool
    mark: int
    depth: int
    alpha: float
    """How much of it covers what is beneath, 0 to 1."""


def _within(
    handles: list[object], matrix: Matrix, outside: _Outside, order: Iterator[int]
) -> Iterator[tuple[int, Thing]]:
    for handle in handles:
        box = matrix.box(_bounds(handle))
        clip = _clip(handle, matrix)
        if outside.clip is not None:
            clip = outside.clip if clip is None else clip.common(outside.clip)
        aside = outside.furniture or _is_artefact(handle)
        mark = outside.mark if outside.mark >= 0 else pdfium.FPDFPageObj_GetMarkedContentID(handle)
        kind = pdfium.FPDFPageObj_GetType(handle)
        if kind == pdfium.FPDF_PAGEOBJ_FORM:
            count = pdfium.FPDFFormObj_CountObjects(handle) if outside.depth < _DEEPEST else 0
            inner = [pdfium.FPDFFormObj_GetObject(handle, index) for index in range(count)]
            covers = (_filling(handle, outside.alpha) or (0, 0, 0, 255))[3] / 255
            within = _Outside(clip, aside, mark, outside.depth + 1, covers)
            yield from _within(inner, _matrix(handle).then(matrix), within, order)
            continue
        is_text = kind == pdfium.FPDF_PAGEOBJ_TEXT
        font, size = _type(handle, matrix) if is_text else ("", 0.0)
        place = next(order, None)
        if place is None:
            wrong = message("a page paints more than {count} things", count=_MOST_THINGS)
            raise ProofError([PageFault(wrong, REPORT)])
        thing = Thing(
            place,
            is_text,
            box,
            clip,
            handle,
            _filling(handle, outside.alpha),
            font,
            size,
            aside and is_text,
            mark,
            matrix,
            outside.alpha,
        )
        yield _address(handle), thing


def _bounds(handle: object) -> Box:
    left, bottom, right, top = (ctypes.c_float() for _ in range(4))
    pdfium.FPDFPageObj_GetBounds(handle, left, bottom, right, top)
    return Box(left.value, bottom.value, right.value, top.value)


def _matrix(handle: object) -> Matrix:
    raw = pdfium.FS_MATRIX()
    pdfium.FPDFPageObj_GetMatrix(handle, raw)
    return Matrix(raw.a, raw.b, raw.c, raw.d, raw.e, raw.f)


def _clip(handle: object, matrix: Matrix) -> Box | None:
    """The box that an object's clipping paths leave. The reader forgets one that holds the whole object."""
    path = pdfium.FPDFPageObj_GetClipPath(handle)
    clip: Box | None = None
    for index in range(pdfium.FPDFClipPath_CountPaths(path)):
        points: list[Point] = []
        for at in range(pdfium.FPDFClipPath_CountPathSegments(path, index)):
            x, y = ctypes.c_float(), ctypes.c_float()
            pdfium.FPDFPathSegment_GetPoint(pdfium.FPDFClipPath_GetPathSegment(path, index, at), x, y)
            points.append(matrix.point((x.value, y.value)))
        if points:
            part = Box.around(points)
            clip = part if clip is None else clip.common(part)
    return clip


def _is_artefact(handle: object) -> bool:
    for index in range(pdfium.FPDFPageObj_CountMarks(handle)):
        mark = pdfium.FPDFPageObj_GetMark(handle, index)
        name = ctypes.create_string_buffer(32)
        used = ctypes.c_ulong()
        pdfium.FPDFPageObjMark_GetName(
            mark, ctypes.cast(name, ctypes.POINTER(pdfium.FPDF_WCHAR)), len(name), used
        )
        if name.raw[: used.value].decode("utf-16-le").rstrip("\0") == "Artifact":
            return True
    return False


def _filling(handle: object, outside: float) -> Colour | None:
    red, green, blue, alpha = (ctypes.c_uint() for _ in range(4))
    if not pdfium.FPDFPageObj_GetFillColor(handle, red, green, blue, alpha):
        return None
    return red.value, green.value, blue.value, round(outside * alpha.value)


def _type(handle: object, matrix: Matrix) -> tuple[str, float]:
    """Name of the font, without the mark of a subset, and the size in points on the paper."""
    buffer = ctypes.create_string_buffer(128)
    pdfium.FPDFFont_GetBaseFontName(pdfium.FPDFTextObj_GetFont(handle), buffer, len(buffer))
    size = ctypes.c_float()
    pdfium.FPDFTextObj_GetFontSize(handle, size)
    whole = _matrix(handle).then(matrix)
    return buffer.value.decode("latin-1").rpartition("+")[2], size.value * math.hypot(whole.c, whole.d)


def _letters(text: pypdfium2.PdfTextPage, things: dict[int, Thing]) -> Iterator[Letter]:
    # One set of places for the reader's answers, and its bare handle: all else takes longer than asking.
    raw, count = text.raw, text.count_chars()
    left, right, bottom, top, x, y = (ctypes.c_double() for _ in range(6))
    turn = pdfium.FS_MATRIX()
    for index in range(count):
        thing = things.get(_address(pdfium.FPDFText_GetTextObject(raw, index)))
        if thing is None:
            continue  # a space or a line end that the reader made up
        pdfium.FPDFText_GetCharBox(raw, index, left, right, bottom, top)
        pdfium.FPDFText_GetCharOrigin(raw, index, x, y)
        pdfium.FPDFText_GetMatrix(raw, index, turn)
        length = math.hypot(turn.a, turn.b) or 1.0
        along = (turn.a / length, turn.b / length)
        box = Box(left.value, bottom.value, right.value, top.value)
        origin = (x.value, y.value)
        code = pdfium.FPDFText_GetUnicode(raw, index)
        spoiled = code in (0, 0xFFFD) or pdfium.FPDFText_HasUnicodeMapError(raw, index) == 1
        sign = chr(code)
        yield Letter(sign, origin, along, _quad(sign, box, origin, along, thing), box, thing, spoiled)


def _quad(sign: str, box: Box, origin: Point, along: Point, thing: Thing) -> list[Point]:
    """Corners around the ink of a letter, turned with it.

    At right angles the upright box is the answer; else the letter's own bounds are turned.
    """
    ux, uy = along
    if min(abs(ux), abs(uy)) < 0.02:
        return box.corners
    size = thing.size
    turn = Matrix(ux * size, uy * size, -uy * size, ux * size, *origin)
    return [turn.point(corner) for corner in Box(*fonts.ink(thing.font, sign)).corners]


def _runs(letters: Iterable[Letter]) -> Iterator[Run]:
    run = Run()
    last: Letter | None = None
    for letter in letters:
        if last is not None and not _follows(last, letter):
            if run.letters:
                yield run
            run = Run()
            last = None
        if last is not None and run.text and _gap(last, letter) > 0.2 * letter.thing.size:
            run.text += " "
        if letter.sign.isspace():
            run.text = run.text.rstrip() + " "
        else:
            run.text += letter.sign
            run.letters.append(letter)
        last = letter
    if run.letters:
        yield run


def _shadow(letter: Letter, along: Point) -> tuple[float, float]:
    values = [x * along[0] + y * along[1] for x, y in letter.quad]
    return min(values), max(values)


def _gap(last: Letter, letter: Letter) -> float:
    """Free space between two letters along their line; negative if they overlap."""
    if last.along == letter.along == (1.0, 0.0):
        return letter.box.left - last.box.right
    return _shadow(letter, last.along)[0] - _shadow(last, last.along)[1]


def _follows(last: Letter, letter: Letter) -> bool:
    """Whether a letter continues the line of the one before it."""
    if last.thing is letter.thing:
        return True
    size = max(last.thing.size, letter.thing.size)
    dx, dy = letter.origin[0] - last.origin[0], letter.origin[1] - last.origin[1]
    aside = abs(dy * last.along[0] - dx * last.along[1])
    turned = abs(last.along[0] * letter.along[1] - last.along[1] * letter.along[0])
    # A letter may lean a little over its neighbour (an f, a j); more is a label printed on another.
    return aside < 0.15 * size and turned < 0.02 and -0.08 * size <= _gap(last, letter) <= 0.9 * size
