"""Lengths with units, durations, and the three ways in which a hand rounds."""

from __future__ import annotations

import math
import re
import unicodedata
from fractions import Fraction

from generator.base.message import Message, message

MM_PER_UNIT: dict[str, Fraction] = {
    "mm": Fraction(1),
    "cm": Fraction(10),
    "m": Fraction(1000),
    "in": Fraction(254, 10),
}
"""Exact millimetres in each unit that a recipe may use.

The inch is 25.4 mm (ISO 80000-3:2019, from memory)."""

MINUTES_PER_UNIT: dict[str, int] = {
    "min": 1,
    "mins": 1,
    "minute": 1,
    "minutes": 1,
    "h": 60,
    "hr": 60,
    "hrs": 60,
    "hour": 60,
    "hours": 60,
    "day": 1440,
    "days": 1440,
}
"""Minutes in each unit of a duration."""

LENGTH_EXPECTED = message("a length with its unit: mm, cm, m or in")

_NUMBER = (
    r"(?:(?P<whole>[0-9]{1,9})\s+)?(?P<top>[0-9]{1,9})\s*/\s*(?P<bottom>[0-9]{1,9})"
    r"|(?P<decimal>[0-9]{1,9}(?:\.[0-9]{1,9})?)"
)
_LENGTH = re.compile(rf"(?:{_NUMBER})\s*(?P<unit>[a-z]*)")
_DURATION = re.compile(r"(?P<value>[0-9]{1,5}(?:\.[0-9]{1,3})?)\s*(?P<unit>[a-z]+)")
# Rounding up or down must not turn 250.0000000001, which is floating-point noise, into 251.
_NOISE = 1e-6

_SPELLINGS = {
    '"': "in",
    "′′": "in",  # what the double prime is taken apart into
    "”": "in",
    "“": "in",
    "''": "in",
    "inch": "in",
    "inches": "in",
    "in.": "in",
    "ins": "in",
    "millimetre": "mm",
    "millimetres": "mm",
    "millimeter": "mm",
    "millimeters": "mm",
    "mm.": "mm",
    "centimetre": "cm",
    "centimetres": "cm",
    "centimeter": "cm",
    "centimeters": "cm",
    "cm.": "cm",
    "metre": "m",
    "metres": "m",
    "meter": "m",
    "meters": "m",
}
_FEET = {"'", "′", "’", "ft", "ft.", "foot", "feet"}
_LOOSE = re.compile(r"(?P<number>[0-9][0-9.,/\s-]*|\.[0-9]+)(?P<unit>.*)", re.DOTALL)
# A cap for what is read leniently to make a proposal: nobody writes longer lengths, and matching stays quick.
_LOOSE_LIMIT = 60


class LengthError(ValueError):
    """A text is no length. Its message is ``unit`` if only the unit is missing, else ``length``."""

    def __init__(self, reason: str, wrong: Message, fix: Message) -> None:
        super().__init__(reason)
        self.wrong = wrong
        self.expected = LENGTH_EXPECTED
        self.fix = fix


def parse_length(text: str) -> float:
    """Millimetres of ``250 mm``, ``35 cm``, ``1.5 m``, ``10 in`` or ``11 3/4 in``.

    Raises LengthError, a ValueError that also says in words what is wrong and what to write.
    """
    match = _LENGTH.fullmatch(text.strip())
    unit = match["unit"] if match else None
    if match is None or (unit and unit not in MM_PER_UNIT):
        raise _explain(text.strip())
    if match["decimal"] is not None:
        value = Fraction(match["decimal"])
    elif int(match["bottom"]) == 0:
        raise LengthError(
            "length",
            message("{text} divides by zero", text=quoted(text)),
            message("write a fraction such as 11 3/4 in"),
        )
    else:
        value = int(match["whole"] or 0) + Fraction(int(match["top"]), int(match["bottom"]))
    if not unit:
        number = text.strip()
        raise LengthError(
            "unit", message("{text} has no unit", text=quoted(number)), _with_unit(number, value)
        )
    return float(value * MM_PER_UNIT[unit])


def parse_minutes(text: str) -> float:
    """Minutes of ``45 min``, ``2 h`` or ``1 day``. Raises ValueError for anything else."""
    match = _DURATION.fullmatch(text.strip())
    if match is None or match["unit"] not in MINUTES_PER_UNIT:
        raise ValueError("duration")
    return float(Fraction(match["value"]) * MINUTES_PER_UNIT[match["unit"]])


def plain_number(value: float | Fraction) -> str:
    """A number for a message: at most four decimals, without trailing zeros, never in powers of ten."""
    return f"{float(value):.4f}".rstrip("0").rstrip(".")


def quoted(text: str) -> Message:
    """What a person wrote, in typographic quotes, shortened if it is long and made harmless to print."""
    shown = "".join(c if c.isprintable() else " " for c in text)
    return message("“{text}”", text=shown if len(shown) <= 40 else shown[:39] + "…")


def _with_unit(number: str, value: Fraction) -> Message:
    if "/" in number:
        return message("write {text} if it is inches", text=f"{number} in")
    return message("write {text}, or {other}", text=f"{number} mm", other=f"{plain_number(value / 10)} cm")


def _explain(text: str) -> LengthError:
    """Why a text is no length, and the nearest text that is one."""

    def error(wrong: Message, fix: Message, reason: str = "length") -> LengthError:
        return LengthError(reason, wrong, fix)

    shown = quoted(text)
    if not text:
        return error(message("the length is empty"), message("write one, such as 250 mm"))
    if text[0] in "-−–" and any(c.isdigit() for c in text):
        return error(
            message("{text} is below zero", text=shown), message("write the length without the minus sign")
        )
    # NFKC turns ¾ into 3⁄4 with a fraction slash of its own, and wide digits into plain ones.
    fractions = "".join(f" {c}" if unicodedata.category(c) == "No" else c for c in text[:_LOOSE_LIMIT])
    folded = unicodedata.normalize("NFKC", fractions).replace("⁄", "/").lower()
    folded = folded.lstrip("+").strip()
    match = _LOOSE.fullmatch(folded)
    if match is None or len(text) > _LOOSE_LIMIT:
        return error(
            message("{text} is not a length", text=shown),
            message("write a number and its unit, such as 250 mm"),
        )
    number, unit = match["number"].strip(), match["unit"].strip()
    comma = re.fullmatch(r"([0-9]{1,9}),([0-9]{1,9})", number)
    if unit in _FEET:
        feet = re.fullmatch(r"[0-9]{1,3}(?:\.[0-9]{1,3})?", number)
        inches = (
            message("write {text}", text=f"{plain_number(Fraction(number) * 12)} in")
            if feet
            else message("write it in inches")
        )
        return error(message("{text} is in feet", text=shown), inches)
    proposal = _SPELLINGS.get(unit, unit)
    if unit and proposal not in MM_PER_UNIT:
        first = unit.split()[0]
        if first in MM_PER_UNIT and re.fullmatch(r"[0-9]+(\.[0-9]+)?", number):
            return error(
                message("{text} has more than a number and its unit", text=shown),
                message("write {text}", text=f"{number} {first}"),
            )
        if re.fullmatch(r"[a-zµ]+", unit):
            return error(
                message("{text} has an unknown unit, {unit}", text=shown, unit=quoted(unit)),
                message("write the length in mm, cm, m or in"),
            )
        return error(
            message("{text} is not a length", text=shown),
            message("write a number and its unit, such as 250 mm"),
        )
    suffix = f" {proposal}" if proposal else " mm"
    if comma:
        decimal, joined = f"{comma[1]}.{comma[2]}{suffix}", f"{comma[1]}{comma[2]}{suffix}"
        if len(comma[2]) == 3:
            fix = message(
                "write {text} if the comma parts the thousands, or {other} if it is a decimal comma",
                text=joined,
                other=decimal,
            )
        else:
            fix = message("write {text}", text=decimal)
        return error(message("{text} has a comma in the number", text=shown), fix)
    if re.fullmatch(r"[0-9]{1,3}( [0-9]{3})+", number):
        number = number.replace(" ", "")
    mixed = re.sub(r"^([0-9]+)-([0-9]+/[0-9]+)$", r"\1 \2", number)
    mixed = re.sub(r"^\.", "0.", mixed).rstrip(".-")
    candidate = re.sub(r"\s+", " ", f"{mixed}{suffix}")
    if _LENGTH.fullmatch(candidate):
        if not unit:
            return error(
                message("{text} has no unit", text=shown),
                message("write {text}, or the unit that you mean", text=candidate),
                "unit",
            )
        return error(
            message("{text} is spelt in a way that is not read", text=shown),
            message("write {text}", text=candidate),
        )
    return error(
        message("{text} is not a length", text=shown),
        message("write a number and its unit, such as 250 mm"),
    )


def round_up(value: float, step: float = 1.0) -> float:
    """The least multiple of ``step`` that is not below ``value``: for what may be trimmed."""
    return math.ceil(value / step - _NOISE) * step


def round_down(value: float, step: float = 1.0) -> float:
    """The greatest multiple of ``step`` that is not above ``value``: for what must fit."""
    return math.floor(value / step + _NOISE) * step


def round_nearest(value: float, step: float = 1.0) -> float:
    """The nearest multiple of ``step``, halves away from zero: for a mark."""
    return math.copysign(math.floor(abs(value) / step + 0.5 + _NOISE), value) * step
