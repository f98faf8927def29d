"""A ring's size in one word, as a person says it: ``35cm``, ``28x17cm``, ``6x28cm``.

Which measures stand in it, and in which order, comes from the outline's own keys: counts first, then lengths,
then the optional ones, such as the radius of the corners. The last unit counts for all that state none.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction

from generator.base.message import Message, joined, message
from generator.base.outline_keys import OutlineKeys
from generator.base.units import LENGTH_EXPECTED, plain_number, quoted
from generator.recipe.values import ValueFault

_CROSS = re.compile(r"\s*[x×*]\s*", re.IGNORECASE)
_UNIT = re.compile(r"[0-9.,/\s½¼¾-]*(?P<unit>\D*)", re.DOTALL)
_FRACTION = re.compile(r"(?:(?P<whole>[0-9]{1,9})\s+)?(?P<top>[0-9]{1,9})\s*/\s*(?P<bottom>[0-9]{1,9})")
_SIGNS = re.compile(r"[^A-Za-z0-9._-]+")
_COUNT, _LENGTHS, _OPTIONAL = "6", ("28", "17", "12"), "2"
_LONGEST = 120


def ring_size(text: str, outline: str, keys: OutlineKeys) -> dict[str, str]:
    """The dimensions that a text states, each as a recipe writes it. Raises ValueFault in words.

    Whether a length is sound is not judged here: the recipe's own readers do that.
    """
    parts = [part.strip() for part in _CROSS.split(text[:_LONGEST].strip())]
    asked, most = keys.counts + keys.lengths, keys.all
    if not all(parts) or not len(asked) <= len(parts) <= len(most):
        said = len([part for part in parts if part])
        raise ValueFault(
            message(
                "{text} gives {said} of the measures of the {outline}",
                text=quoted(text),
                said=said,
                outline=outline,
            ),
            form(keys),
            message("write such as {text}", text=example(keys)),
        )
    unit = _unit(parts[-1])
    if not unit:
        raise ValueFault(
            message("{text} has no unit", text=quoted(text)),
            LENGTH_EXPECTED,
            message("write {text}, or {other}", text=f"{text.strip()}cm", other=f"{text.strip()}mm"),
        )
    return {
        key: part if key in keys.counts else _length(part, unit)
        for key, part in zip(most, parts, strict=False)
    }


def form(keys: OutlineKeys) -> Message:
    """What the text looks like: ``SIDESxACROSS_FLATS``, optional measures in brackets."""
    asked = "x".join(key.upper() for key in keys.counts + keys.lengths)
    return joined([asked, *(f"[x{key.upper()}]" for key in keys.optional)], "")


def example(keys: OutlineKeys) -> str:
    """A text that is right for an outline: ``28x17cm``."""
    lengths = [_LENGTHS[place % len(_LENGTHS)] for place, _ in enumerate(keys.lengths)]
    return "x".join([*(_COUNT for _ in keys.counts), *lengths]) + "cm"


def usual(keys: OutlineKeys) -> dict[str, str]:
    """Dimensions to begin from, before a person has said any."""
    lengths = [f"{_LENGTHS[place % len(_LENGTHS)]} cm" for place, _ in enumerate(keys.lengths)]
    return {
        **dict.fromkeys(keys.counts, _COUNT),
        **dict(zip(keys.lengths, lengths, strict=True)),
        **dict.fromkeys(keys.optional, f"{_OPTIONAL} cm"),
    }


def size_name(dimensions: Mapping[str, str], keys: OutlineKeys) -> str:
    """A name for the size: its measures without the optional ones, ``28x17cm``, fractions as decimals."""
    counts = [dimensions[key] for key in keys.counts]
    lengths = [dimensions[key] for key in keys.lengths]
    units = [_unit(part) for part in lengths]
    numbers = [_decimal(part[: len(part) - len(unit)]) for part, unit in zip(lengths, units, strict=True)]
    if len(set(units)) == 1:
        # One unit counts for all.
        units = ["" for _ in units[1:]] + units[:1]
    said = [number + unit for number, unit in zip(numbers, units, strict=True)]
    return _SIGNS.sub("", "x".join([*counts, *said])).strip(".-")[:40] or "1"


def _length(part: str, unit: str) -> str:
    """A length as a recipe writes it, ``17 cm``; what has no unit of its own takes the last one's."""
    own = _unit(part)
    return f"{part[: len(part) - len(own)].strip()} {own or unit}".strip()


def _decimal(text: str) -> str:
    fraction = _FRACTION.fullmatch(text.strip())
    if fraction is None or not int(fraction["bottom"]):
        return text.strip()
    return plain_number(int(fraction["whole"] or 0) + Fraction(int(fraction["top"]), int(fraction["bottom"])))


def _unit(part: str) -> str:
    match = _UNIT.fullmatch(part)
    return match["unit"].strip() if match else ""
