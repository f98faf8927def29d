"""Lengths as a person writes them: read, held within bounds, slips of the unit found."""

from __future__ import annotations

import re
from typing import Any

from generator.base.message import Message, Number, message
from generator.base.units import LENGTH_EXPECTED, LengthError, parse_length, plain_number, quoted
from generator.recipe.values import Reader, ValueFault, text_of

SMALLEST_SIZE = 40.0
"""Smallest dimension of an outline and smallest height, mm. Less is most likely a slip of the unit."""

LARGEST = 3000.0
"""Largest length of anything but the cloth, mm."""

LARGEST_CLOTH = 20_000.0
"""Largest usable width of cloth, mm."""


def length(least: float = 0.0, most: float = LARGEST, *, zero: bool = False) -> Reader:
    """A reader of lengths: above 0 (from 0 if ``zero``), from ``least`` to ``most`` mm."""

    def read(value: Any) -> Any:
        if isinstance(value, int | float) and not isinstance(value, bool):
            return value
        text = text_of(value, LENGTH_EXPECTED, message("write one length, such as 250 mm"))
        try:
            mm = parse_length(text)
        except LengthError as error:
            fix = error.fix
            if str(error) == "unit" and least and re.fullmatch(r"[0-9]+(\.[0-9]+)?", text):
                fix = _size_with_unit(float(text), fix)
            raise ValueFault(error.wrong, error.expected, fix) from error
        if mm == 0 and not zero:
            raise ValueFault(
                message("{text} is zero", text=quoted(text)),
                message("a length above zero"),
                message("write the length that you measured"),
            )
        if mm < least:
            raise _too_small(text, mm, least)
        if mm > most:
            raise _too_large(text, mm, most)
        return mm

    return read


def shifted(value: Any) -> Any:
    """A length of at most 3 m that may be below zero, as in ``-20 mm``. Raises ValueFault."""
    text = value.strip() if isinstance(value, str) else ""
    if not text.startswith(("-", "−", "–")):
        return _distance(value)
    rest = text.lstrip("-−– ")
    if not rest or text not in (f"-{rest}", f"- {rest}"):
        fix = message("write {text}", text=f"-{rest}") if rest else message("write a length such as -20 mm")
        raise ValueFault(
            message("{text} is spelt in a way that is not read", text=quoted(text)), LENGTH_EXPECTED, fix
        )
    try:
        return -_distance(rest) or 0.0
    except ValueFault as fault:
        wrong = fault.wrong.about(quoted(text), quoted(rest))
        fix = (
            message("keep the minus sign, and {fix}", fix=fault.fix)
            if fault.fix.startswith("write ")
            else fault.fix
        )
        raise ValueFault(wrong, fault.expected, fix) from fault


_distance = length(zero=True)


def _size_with_unit(number: float, fix: Message) -> Message:
    if SMALLEST_SIZE <= number * 10 <= LARGEST and number < SMALLEST_SIZE:
        return message(
            "write {text}, or {other}",
            text=f"{plain_number(number)} cm",
            other=f"{plain_number(number * 10)} mm",
        )
    return fix


def _too_small(text: str, mm: float, least: float) -> ValueFault:
    expected = message("at least {least} mm", least=Number(plain_number(least)))
    if text.endswith("mm") and least <= mm * 10 <= LARGEST:
        return ValueFault(
            message("{text} looks like centimetres given as millimetres", text=quoted(text)),
            expected,
            message("write {text}", text=f"{plain_number(mm)} cm"),
        )
    return ValueFault(
        message("{text} is too small for a shade", text=quoted(text)),
        expected,
        message("check the number and its unit"),
    )


def _too_large(text: str, mm: float, most: float) -> ValueFault:
    expected = message("at most {most} m", most=Number(plain_number(most / 1000)))
    if text.endswith("cm") and mm / 10 <= most:
        number = plain_number(mm / 10)
        return ValueFault(
            message("{text} looks like millimetres given as centimetres", text=quoted(text)),
            expected,
            message("write {text}", text=f"{number} mm"),
        )
    if text.endswith("m") and not text.endswith(("cm", "mm")) and mm / 100 <= most:
        number = plain_number(mm / 1000)
        return ValueFault(
            message("{text} looks like centimetres given as metres", text=quoted(text)),
            expected,
            message("write {text}", text=f"{number} cm"),
        )
    return ValueFault(
        message("{text} is too long", text=quoted(text)), expected, message("check the number and its unit")
    )
