"""Text stands out from what is painted beneath it, in colour and in grey (WCAG 2.2, 1.4.3)."""

from __future__ import annotations

import ctypes
from collections import defaultdict
from collections.abc import Iterator
from itertools import pairwise
from typing import TYPE_CHECKING, Any

import pypdfium2.raw as pdfium

from generator.base.errors import PageFault
from generator.base.message import Number, message
from generator.press.advice import REPORT
from generator.press.contrast import GREY, LINEAR, LUMINANCE, contrast, grey_of, least, over
from generator.press.fonts import FACES
from generator.press.geometry import meeting
from generator.press.sheet import Colour, Letter, Sheet, Thing
from generator.press.wish import Wish

if TYPE_CHECKING:
    from PIL.Image import Image

_ROUNDING = 0.02
"""Points: 18 pt comes back from the file as 17.9999."""
_PAPER = (255, 255, 255)
_ROUND = 2
"""Pixels round a letter's body that still count as its ground, at 100 dots per inch: half a millimetre."""
_BODY = 128
"""Of 255: from here a pixel belongs to a letter's body."""
_SHARE = 0.35
"""Share of its ground from which a letter is too faint on the rest: a line that only passes below is less.
Where a halo parts the letter from a hatching, the halo is its ground."""


def find(sheet: Sheet, wish: Wish) -> Iterator[PageFault]:
    """Runs with letters too faint for their size, told with their contrast.

    What is beneath a text is mostly known without looking: paper, or one rectangle. The page is painted only
    for a text that some of the things beneath it would be too dark or too pale for.
    """
    beneath = _beneath(sheet)
    faint: dict[int, tuple[float, bool]] = {}
    doubtful: set[int] = set()
    for thing in {id(letter.thing): letter.thing for run in sheet.runs for letter in run.letters}.values():
        grounds = _grounds(thing, beneath[thing.order])
        if thing.fill is None or grounds is None:
            doubtful.add(thing.order)
            continue
        worst = [_worse(thing.fill, ground) for ground in grounds]
        least_of_all = min(worst)
        if least_of_all[0] >= _needed(thing):
            continue
        if len(grounds) == 1:
            faint[thing.order] = least_of_all
        else:
            doubtful.add(thing.order)
    look = _Look(sheet) if doubtful else None
    for run in sheet.runs:
        found: list[tuple[float, bool]] = []
        for letter in run.letters:
            thing = letter.thing
            if thing.order in faint:
                found.append(faint[thing.order])
            elif look is not None and thing.order in doubtful:
                found.extend(look.faint(letter, _needed(thing)))
        if found:
            value, in_grey = min(found)
            needed = max(_needed(letter.thing) for letter in run.letters)
            ratios = {"value": Number(f"{value:.2f}"), "needed": Number(f"{needed:.3g}")}
            wrong = (
                message(
                    "stands out too little from its ground when printed in grey: {value} to 1, the least is "
                    "{needed} to 1",
                    **ratios,
                )
                if in_grey
                else message(
                    "stands out too little from its ground: {value} to 1, the least is {needed} to 1",
                    **ratios,
                )
            )
            yield sheet.fault(wrong, REPORT, run.box, run.text)


def _needed(thing: Thing) -> float:
    return least(thing.size + _ROUNDING, bold=FACES.get(thing.font) == "bold")


def _beneath(sheet: Sheet) -> dict[int, list[Thing]]:
    """Shapes painted before each text where it stands, by the text's place in the order of painting."""
    texts = [thing for thing in sheet.things if thing.is_text]
    shapes = [thing for thing in sheet.things if not thing.is_text]
    found: dict[int, list[Thing]] = defaultdict(list)
    for one, two in meeting([thing.box for thing in texts], [thing.visible for thing in shapes]):
        if shapes[two].order < texts[one].order:
            found[texts[one].order].append(shapes[two])
    return found


def _grounds(text: Thing, shapes: list[Thing]) -> list[tuple[float, ...]] | None:
    """Every colour that may be beneath a text; None where a shape does not say its colour."""
    grounds: list[tuple[float, ...]] = [_PAPER]
    for shape in sorted(shapes, key=lambda shape: shape.order):
        fill, stroke = _paint_of(shape)
        if fill == stroke == ():
            return None
        if fill and fill[3] == 255 and shape.visible.holds(text.box, 0.0) and _is_rectangle(shape):
            grounds = [fill[:3]]
            fill = ()
        for paint in (fill, stroke):
            if paint and paint[3]:
                grounds += [over(paint[:3], paint[3] / 255, ground) for ground in tuple(grounds)]
        grounds = list(dict.fromkeys(grounds))
        if len(grounds) > _MOST_GROUNDS:
            return None
    return grounds


_MOST_GROUNDS = 64
"""Colours that may be beneath a text before it is quicker to look."""


def _paint_of(shape: Thing) -> tuple[Colour | tuple[()], Colour | tuple[()]]:
    """What a shape fills and strokes with; both empty where it has no plain colour."""
    if pdfium.FPDFPageObj_GetType(shape.handle) != pdfium.FPDF_PAGEOBJ_PATH:
        return (), ()
    mode, stroked = ctypes.c_int(), ctypes.c_int()
    pdfium.FPDFPath_GetDrawMode(shape.handle, mode, stroked)
    fill: Colour | tuple[()] = ()
    if mode.value:
        if shape.fill is None:
            return (), ()
        fill = shape.fill
    stroke: Colour | tuple[()] = ()
    if stroked.value:
        red, green, blue, alpha = (ctypes.c_uint() for _ in range(4))
        if not pdfium.FPDFPageObj_GetStrokeColor(shape.handle, red, green, blue, alpha):
            return (), ()
        stroke = (red.value, green.value, blue.value, alpha.value)
    # A path that is neither filled nor stroked only clips: it paints nothing.
    return (fill, stroke) if fill or stroke else ((255, 255, 255, 0), ())


def _is_rectangle(shape: Thing) -> bool:
    """Whether a path is an upright rectangle, so that it fills its box."""
    count = pdfium.FPDFPath_CountSegments(shape.handle)
    if count not in (4, 5):
        return False
    spots: list[tuple[float, float]] = []
    for index in range(count):
        segment = pdfium.FPDFPath_GetPathSegment(shape.handle, index)
        if index and pdfium.FPDFPathSegment_GetType(segment) != pdfium.FPDF_SEGMENT_LINETO:
            return False
        x, y = ctypes.c_float(), ctypes.c_float()
        pdfium.FPDFPathSegment_GetPoint(segment, x, y)
        spots.append((x.value, y.value))
    steps = pairwise(spots)
    return all(one[0] == two[0] or one[1] == two[1] for one, two in steps) and len(set(spots)) == 4


def _worse(text: Colour, ground: tuple[float, ...]) -> tuple[float, bool]:
    """The lesser contrast of those in colour and in grey, and whether it is that in grey."""
    seen = over(text[:3], text[3] / 255, ground)
    return min(
        (contrast(seen, ground), False),
        (contrast(grey_of(seen), grey_of(ground)), True),
    )


class _Look:
    """The page painted without its text."""

    def __init__(self, sheet: Sheet) -> None:
        self._sheet = sheet
        self._ground = sheet.painting.ground.convert("RGB")
        self._known: dict[object, bool] = {}

    def faint(self, letter: Letter, needed: float) -> Iterator[tuple[float, bool]]:
        """The contrast of a letter that is too faint on too much of its ground: in colour, or in grey."""
        area = self._sheet.painting.area(letter.box, _ROUND)
        fill = letter.thing.fill or (0, 0, 0, 255)
        ground = self._ground.crop(area)
        extremes = ground.getextrema()
        key = (fill, needed, extremes)
        if key not in self._known:
            # The darkest and the lightest that could be there: mostly all of it is paper.
            ends = zip(*extremes, strict=True)
            self._known[key] = all(_worse(fill, end)[0] >= needed for end in ends) and _beyond(fill, extremes)
        if not self._known[key]:
            body = self._sheet.painting.ink.crop(area)
            yield from _faint(ground, body, fill, needed)


def _beyond(fill: Colour, extremes: Any) -> bool:
    """Whether a colour is darker than all beneath it, or lighter: its contrast is then least at an end."""
    darker = all(level <= low for level, (low, _) in zip(fill, extremes, strict=False))
    return darker or all(level >= high for level, (_, high) in zip(fill, extremes, strict=False))


def _faint(ground: Image, ink: Image, fill: Colour, needed: float) -> Iterator[tuple[float, bool]]:
    """The contrast of one letter, dot by dot."""
    import numpy as np

    body = _spread(np.asarray(ink) >= _BODY)
    if not body.any():
        body[:] = True
    pixels = np.asarray(ground).astype(float)[body]
    *colour, alpha = fill
    seen = (alpha / 255) * np.asarray(colour, float) + (1 - alpha / 255) * pixels
    grey, light = np.asarray(GREY), np.asarray(LINEAR)
    greys = [np.repeat((each @ grey)[:, None], 3, 1) for each in (seen, pixels)]
    for in_grey, two in ((False, [seen, pixels]), (True, greys)):
        lights = [light[np.rint(each).astype(int)] @ np.asarray(LUMINANCE) for each in two]
        ratios: Any = (np.maximum(*lights) + 0.05) / (np.minimum(*lights) + 0.05)
        low = ratios < needed
        if low.mean() > _SHARE:
            yield float(np.median(ratios[low])), in_grey


def _spread(body: Any) -> Any:
    """The pixels of a letter and those round it."""
    wide = body.copy()
    for _ in range(_ROUND):
        step = wide.copy()
        step[1:] |= wide[:-1]
        step[:-1] |= wide[1:]
        step[:, 1:] |= wide[:, :-1]
        step[:, :-1] |= wide[:, 1:]
        wide = step
    return wide
