"""A drawing in a form that people and version control can compare: an element a line, rounded numbers."""

from __future__ import annotations

import re
from xml.etree import ElementTree

_NUMBER = re.compile(r"-?\d+\.\d+")
_PLACES = frozenset(("d", "x", "y", "transform", "viewBox", "height"))
"""What says where something is; line widths and sizes of letters stay as they are."""


def canonical(svg: str) -> str:
    """The drawing as lines, places rounded to a tenth of a millimetre: finer is not seen on paper.

    Each line begins with the part that it belongs to, so that a difference says what it is about.
    """
    return "\n".join(_lines(ElementTree.fromstring(svg), "figure")) + "\n"


def _lines(element: ElementTree.Element, part: str) -> list[str]:
    name, said = element.tag.rpartition("}")[2], (element.text or "").strip()
    part = element.get("data-part", part)
    attributes = [
        f"{key.rpartition('}')[2]}={_rounded(value) if key in _PLACES else value}"
        for key, value in sorted(element.items())
    ]
    line = " ".join([f"{part}:", name, *attributes, *([f"“{said}”"] if said else [])])
    return [line, *(each for child in element for each in _lines(child, part))]


def _rounded(text: str) -> str:
    # Adding nothing turns a negative zero into zero.
    return _NUMBER.sub(lambda match: f"{round(float(match[0]), 1) + 0.0:g}", text)
