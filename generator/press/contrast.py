"""How well two colours stand out from each other, by WCAG 2.2, and what a colour becomes without colour.

Relative luminance and contrast ratio: W3C Recommendation Web Content Accessibility Guidelines 2.2, the two
definitions of these names, success criteria 1.4.3 and 1.4.11 (from memory; the linear part ends at 0.04045,
as in IEC 61966-2-1: for 8 bits it is the same as with the older 0.03928).

Grey: 0.30 R + 0.59 G + 0.11 B of the coded values, which is how a PDF's DeviceRGB becomes DeviceGray
(ISO 32000-1, 10.3.2, from memory), and so what a printer without colour prints.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

BODY, LARGE = 4.5, 3.0
"""Least contrast of text, and of large text (1.4.3, level AA)."""
GRAPHICS = 3.0
"""Least contrast of what carries meaning in a picture with what is beside it (1.4.11, level AA)."""
_LARGE_SIZE, _LARGE_BOLD_SIZE = 18.0, 14.0
"""Points from which text is large, and bold text."""
GREY = (0.30, 0.59, 0.11)
LUMINANCE = (0.2126, 0.7152, 0.0722)


def _linear(value: float) -> float:
    share = value / 255
    return share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4


LINEAR = tuple(_linear(value) for value in range(256))
"""Light of each coded value of a channel, 0 to 1."""


def luminance(colour: Sequence[float]) -> float:
    """Relative luminance of red, green and blue, each 0 to 255: 0 black to 1 white."""
    return _luminance(tuple(colour))


# A page has few colours, and asks for each of them with every letter.
@lru_cache(maxsize=4096)
def _luminance(colour: tuple[float, ...]) -> float:
    return sum(share * _linear(value) for share, value in zip(LUMINANCE, colour, strict=True))


def ratio(one: float, two: float) -> float:
    """Contrast of two luminances, 1 to 21."""
    return (max(one, two) + 0.05) / (min(one, two) + 0.05)


def contrast(one: Sequence[float], two: Sequence[float]) -> float:
    """Contrast of two colours, 1 to 21."""
    return ratio(luminance(one), luminance(two))


def grey_of(colour: Sequence[float]) -> tuple[float, float, float]:
    """The colour without colour."""
    level = sum(share * value for share, value in zip(GREY, colour, strict=True))
    return level, level, level


def over(colour: Sequence[float], alpha: float, ground: Sequence[float]) -> tuple[float, ...]:
    """What is seen of a colour that covers its ground only in part; ``alpha`` 0 to 1."""
    return tuple(alpha * top + (1 - alpha) * below for top, below in zip(colour, ground, strict=True))


def least(size: float, *, bold: bool) -> float:
    """The contrast that lettering of this size in points must have."""
    return LARGE if size >= _LARGE_SIZE or (bold and size >= _LARGE_BOLD_SIZE) else BODY
