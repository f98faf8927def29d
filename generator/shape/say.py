"""Numbers as they stand in a sentence of an error, a warning or a formula (English, mm)."""

from __future__ import annotations

from collections.abc import Iterable

from generator.base.message import Message, Number, joined, message


def plain(value: float, digits: int = 1) -> Number:
    """A number with at most ``digits`` decimals and without trailing zeros: 12, 3.5, 1099.6."""
    text = f"{value:.{digits}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return Number("0" if text == "-0" else text)


def mm(value: float) -> Number:
    """A length in mm with its unit, to a tenth."""
    return Number(f"{plain(value)} mm")


_DIMENSIONS = {
    "across_flats": message("across flats"),
    "corner_radius": message("corner radius"),
    "diameter": message("diameter"),
    "height": message("height"),
    "length": message("length"),
    "side": message("side"),
    "sides": message("sides"),
    "slant": message("slant"),
    "width": message("width"),
}


def dimension(key: str) -> Message:
    """A dimension's key as people say it."""
    return _DIMENSIONS.get(key) or joined([key.replace("_", " ")])


def ways(found: Iterable[str]) -> Message:
    """What would do, one way or another."""
    several = list(found)
    made = joined(several[:1])
    for other in several[1:]:
        made = message("{way}, or {other}", way=made, other=other)
    return made


def end_ring(end: str) -> Message:
    """One of a taper's rings, in a sentence: ``the top ring``."""
    return message("the top ring") if end == "top" else message("the bottom ring")
