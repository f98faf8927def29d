"""One value at a time: from the text that a person wrote to a number, a choice or a line of text.

Each function takes what stands in the file and raises ValueFault, which says in words what is wrong. Values
that are typed already pass through, so that the models can be made in code as well.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any
from urllib.parse import urlsplit

from generator.base.assets import languages as languages_known
from generator.base.message import Message, Number, in_three, message
from generator.base.units import parse_minutes, plain_number, quoted

_WHOLE = re.compile(r"[0-9]{1,6}")
_WATTS = re.compile(r"(?P<value>[0-9]{1,5}(?:\.[0-9]{1,3})?)\s*(?:W|w|watts?)?")
_CLOCK = re.compile(r"([01]?[0-9]|2[0-3]):([0-5][0-9])")
_MONEY = re.compile(r"[0-9]{1,6}(?:\.[0-9]{1,2})?")
_YES = {"true": True, "yes": True, "false": False, "no": False}
_LINK_BREAKING = re.compile(r"[\s<>\"\\^`{|}]")


class ValueFault(ValueError):  # noqa: N818 - a fault is what a person reads, here as everywhere
    """A value is refused: what is wrong, what was expected, what to do."""

    def __init__(self, wrong: Message, expected: Message, fix: Message) -> None:
        super().__init__(wrong)
        self.wrong = wrong
        self.expected = expected
        self.fix = fix

    @property
    def said(self) -> Message:
        """All three in one line."""
        return in_three(self.wrong, self.expected, self.fix)


Reader = Callable[[Any], Any]


def text_of(value: Any, expected: Message, fix: Message) -> str:
    """The text that stands where one value should be. Raises ValueFault for a list or a section."""
    if isinstance(value, str):
        return value.strip()
    if isinstance(value, list | tuple):
        raise ValueFault(message("a list stands where one value should be"), expected, fix)
    raise ValueFault(message("a section stands where one value should be"), expected, fix)


def count(least: int, most: int) -> Reader:
    """A reader of whole numbers."""
    expected = message("a whole number from {least} to {most}", least=least, most=most)

    def read(value: Any) -> Any:
        if isinstance(value, int | float):
            return value
        text = text_of(value, expected, message("write one number, such as {least}", least=least or 1))
        if not _WHOLE.fullmatch(text):
            raise ValueFault(
                message("{text} is not a whole number", text=quoted(text)),
                expected,
                message("write a number such as {least}", least=least or 1),
            )
        number = int(text)
        if not least <= number <= most:
            fix = (
                message("write {text} or more", text=least)
                if number < least
                else message("write {most} or fewer", most=most)
            )
            raise ValueFault(message("{text} is out of bounds", text=quoted(text)), expected, fix)
        return number

    return read


def yes_no(value: Any) -> Any:
    """``true``, ``false``, ``yes`` or ``no``. Raises ValueFault."""
    if isinstance(value, bool):
        return value
    text = text_of(value, message("true or false"), message("write true or false"))
    if text.lower() not in _YES:
        raise ValueFault(
            message("{text} is neither true nor false", text=quoted(text)),
            message("true or false"),
            message("write true or false"),
        )
    return _YES[text.lower()]


def line(most: int) -> Reader:
    """A reader of one line of text of at most ``most`` characters."""
    expected = message("one line of at most {most} characters", most=most)

    def read(value: Any) -> Any:
        text = text_of(value, expected, message("write one text"))
        if not text:
            raise ValueFault(message("the text is empty"), expected, message("write it, or remove the key"))
        if re.search(r"[\r\n\t\v\f]", text):
            raise ValueFault(
                message("the text has more than one line"), expected, message("write it in one line")
            )
        if len(text) > most:
            raise ValueFault(
                message("the text has {count} characters", count=len(text)), expected, message("shorten it")
            )
        return text

    return read


def lines(most: int) -> Reader:
    """A reader of a list of texts; each of them is read on its own afterwards."""
    expected = message("a list of at most {most} texts", most=most)

    def read(value: Any) -> Any:
        if not isinstance(value, list | tuple):
            what = message("a section stands where a list should be")
            if isinstance(value, str):
                what = message("{text} stands where a list should be", text=quoted(value))
            raise ValueFault(what, expected, message("write such as {text}", text='["…", "…"]'))
        if len(value) > most:
            raise ValueFault(
                message("{count} texts stand here", count=len(value)),
                expected,
                message("join some, or leave some out"),
            )
        return tuple(value)

    return read


def watts(value: Any) -> Any:
    """A positive number of watts; the W may stand behind it. Raises ValueFault."""
    if isinstance(value, int | float) and not isinstance(value, bool):
        return value
    expected = message("a number of watts above 0, up to 1000")
    text = text_of(value, expected, message("write the wattage marked on the lamp, such as 6"))
    match = _WATTS.fullmatch(text)
    if match is None or not 0 < float(match["value"]) <= 1000:
        raise ValueFault(
            message("{text} is not a wattage", text=quoted(text)),
            expected,
            message("write the wattage marked on the lamp, such as 6"),
        )
    return float(match["value"])


def ages(value: Any) -> Any:
    """Two ages, the youngest and the oldest. Raises ValueFault."""
    expected = message("two ages from 3 to 110, the youngest first")
    if isinstance(value, str):
        numbers = re.findall(r"[0-9]{1,3}", value)
        pair = (numbers * 2)[:2] if len(numbers) in (1, 2) else ["9", "11"]
        raise ValueFault(
            message("{value} is not a list of two ages", value=quoted(value)),
            expected,
            message("write {text}", text=f"[{pair[0]}, {pair[1]}]"),
        )
    if not isinstance(value, list | tuple):
        raise ValueFault(
            message("a section stands where two ages should be"), expected, message("write such as [9, 11]")
        )
    if len(value) != 2:
        many = (
            message("only one age stands here")
            if len(value) == 1
            else message("{count} ages stand here", count=len(value))
        )
        raise ValueFault(many, expected, message("write two, such as [9, 11]"))
    if not all(
        isinstance(age, int) or (isinstance(age, str) and _WHOLE.fullmatch(age.strip())) for age in value
    ):
        raise ValueFault(message("an age is not a whole number"), expected, message("write such as [9, 11]"))
    low, high = (int(age) for age in value)
    if low > high:
        raise ValueFault(
            message("the first age, {low}, is above the second, {high}", low=low, high=high),
            expected,
            message("write {text}", text=f"[{high}, {low}]"),
        )
    if low < 3 or high > 110:
        raise ValueFault(
            message("the ages {low} and {high} are out of bounds", low=low, high=high),
            expected,
            message("write the ages of the makers"),
        )
    return (low, high)


def languages(value: Any) -> Any:
    """Codes of languages, at least one, each once. Raises ValueFault for one that has no wording."""
    known = languages_known()
    expected = message("a list of codes, of {known}", known=", ".join(known))
    wished = [value] if isinstance(value, str) else value
    if not isinstance(wished, list | tuple):
        raise ValueFault(
            message("a section stands where a list should be"), expected, message("write such as [en, de]")
        )
    if not wished:
        raise ValueFault(
            message("the list of languages is empty"), expected, message("write one at least, such as [en]")
        )
    codes = [text_of(code, expected, message("write codes alone, such as [en, de]")) for code in wished]
    for code in codes:
        if code not in known:
            fix = message("write one of {known}", known=", ".join(known))
            raise ValueFault(message("there is no wording in {code}", code=quoted(code)), expected, fix)
    return tuple(dict.fromkeys(codes))


def fitter(value: Any) -> Any:
    """The one end that carries the fitter ring. Raises ValueFault."""
    expected = message("top or bottom: a shade has exactly one fitter end")
    fix = message(
        "write the end that holds the lamp-holder, or leave the key out (pendant: top, table: bottom)"
    )
    if isinstance(value, list | tuple):
        raise ValueFault(message("a list stands where one end should be"), expected, fix)
    text = text_of(value, expected, fix)
    if text in ("top", "bottom"):
        return text
    if text.lower() in ("both", "two", "top and bottom", "2"):
        raise ValueFault(message("{text} gives the shade two fitter ends", text=quoted(text)), expected, fix)
    if text.lower() in ("none", "neither", "no", "false", "0"):
        raise ValueFault(
            message("{text} leaves the shade without a fitter end", text=quoted(text)), expected, fix
        )
    raise ValueFault(message("{text} is no end of a shade", text=quoted(text)), expected, fix)


def duration(value: Any) -> Any:
    """A time such as ``45 min``, ``2 h`` or ``1 day``, kept as it is written. Raises ValueFault."""
    expected = message("a time with its unit: min, h or day")
    text = text_of(value, expected, message("write such as 2 h"))
    try:
        minutes = parse_minutes(text)
    except ValueError as error:
        raise ValueFault(
            message("{text} is not a time", text=quoted(text)),
            expected,
            message("write such as 45 min, 2 h or 1 day"),
        ) from error
    if not 0 < minutes <= 30 * 1440:
        raise ValueFault(
            message("{text} is out of bounds", text=quoted(text)),
            message("a time above zero, up to 30 days"),
            message("check the number"),
        )
    return text


def minutes(most: float, *, zero: bool = False) -> Reader:
    """A reader of times such as ``45 min`` or ``4 h``, in minutes: above 0 (from 0 if ``zero``), at most
    ``most``."""
    hours = plain_number(most / 60)
    expected = message("a time with its unit, min or h, of at most {hours} h", hours=Number(hours))

    def read(value: Any) -> Any:
        if isinstance(value, int | float) and not isinstance(value, bool):
            return value
        text = text_of(value, expected, message("write such as 45 min"))
        try:
            found = parse_minutes(text)
        except ValueError as error:
            fix = (
                message("write {text} min or {text} h", text=text)
                if _WHOLE.fullmatch(text)
                else message("write such as 45 min or 4 h")
            )
            raise ValueFault(message("{text} is not a time", text=quoted(text)), expected, fix) from error
        if not (found >= 0 if zero else found > 0) or found > most:
            raise ValueFault(
                message("{text} is out of bounds", text=quoted(text)),
                expected,
                message("check the number and its unit"),
            )
        return found

    return read


def clock(value: Any) -> Any:
    """A time of day such as ``10:00``, as minutes after midnight. Raises ValueFault."""
    if isinstance(value, int | float) and not isinstance(value, bool):
        return value
    expected = message("a time of day from 00:00 to 23:59")
    text = text_of(value, expected, message("write such as {text}", text='"10:00"'))
    match = _CLOCK.fullmatch(text)
    if match is None:
        loose = re.fullmatch(r"([01]?[0-9]|2[0-3])(?:[.h]([0-5][0-9]))?", text)
        fix = (
            message("write {text}", text=f'"{loose[1]}:{loose[2] or "00"}"')
            if loose
            else message("write such as {text}", text='"10:00"')
        )
        raise ValueFault(message("{text} is not a time of day", text=quoted(text)), expected, fix)
    return float(int(match[1]) * 60 + int(match[2]))


def money(value: Any) -> Any:
    """An amount of money without its currency, such as ``60`` or ``4.50``. Raises ValueFault."""
    if isinstance(value, int | float) and not isinstance(value, bool):
        return value
    expected = message("an amount such as 60 or 4.50, without a sign for the currency")
    text = text_of(value, expected, message("write such as 60"))
    if not _MONEY.fullmatch(text):
        found = re.search(r"[0-9]{1,6}(?:[.,][0-9]{2})?", text)
        fix = (
            message("write {text}", text=found[0].replace(",", ".")) if found else message("write such as 60")
        )
        raise ValueFault(message("{text} is not an amount", text=quoted(text)), expected, fix)
    return float(text)


def link(value: Any) -> Any:
    """An address that a reader can open: http, https or mailto. Raises ValueFault."""
    expected = message("an address that begins with https://, http:// or mailto:, without spaces")
    text = text_of(value, expected, message("write one address"))
    if not text:
        raise ValueFault(message("the address is empty"), expected, message("write it, or remove the key"))
    if len(text) > 300:
        raise ValueFault(
            message("the address has {count} characters", count=len(text)),
            message("at most 300 characters"),
            message("use a shorter one"),
        )
    if _LINK_BREAKING.search(text):
        raise ValueFault(
            message("the address holds a space or a sign that ends it"),
            expected,
            message("copy it from the browser again"),
        )
    try:
        parts = urlsplit(text)
        good = (
            bool(parts.hostname) if parts.scheme in ("http", "https") else _is_mail(parts.scheme, parts.path)
        )
    except ValueError:
        good = False
    if not good:
        bare = "://" not in text and ":" not in text and "." in text
        prefix = "mailto:" if "@" in text else "https://"
        fix = (
            message("write {text}", text=f"{prefix}{text[:60]}")
            if bare
            else message("copy it from the browser again")
        )
        raise ValueFault(
            message("{text} is no address that a reader can open", text=quoted(text)), expected, fix
        )
    return text


def secure_link(value: Any) -> Any:
    """An address that begins with ``https://``. Raises ValueFault."""
    text = link(value)
    if urlsplit(text).scheme != "https":
        rest = text.partition("://")[2]
        fix = (
            message("write {text}", text=f"https://{rest[:60]}")
            if rest
            else message("write the address of a page")
        )
        raise ValueFault(
            message("{text} does not begin with https://", text=quoted(text)),
            message("an address of https://"),
            fix,
        )
    return text


def _is_mail(scheme: str, path: str) -> bool:
    return scheme == "mailto" and bool(re.fullmatch(r"[^@]+@[^@]+", path))


def version(value: Any) -> Any:
    """The format version, 1. Raises ValueFault."""
    expected = message("rimfold: 1, the version of the format")
    text = str(value) if isinstance(value, int) else text_of(value, expected, message("write rimfold: 1"))
    if text != "1":
        fix = message("write rimfold: 1, or use a newer Rimfold if the recipe was written for one")
        raise ValueFault(
            message("{text} is not a version that this Rimfold reads", text=quoted(text)), expected, fix
        )
    return 1


def size_name(value: Any) -> Any:
    """The name of a size, which becomes a folder's name. Raises ValueFault."""
    expected = message("1 to 40 letters (a to z), digits or the signs - . _")
    text = str(value)
    if not re.fullmatch(r"[A-Za-z0-9._-]{1,40}", text):
        safe = re.sub(r"[^A-Za-z0-9._-]+", "-", text).strip("-.")[:40]
        fix = message("write {text}", text=safe) if safe else message("choose another name, such as 35")
        raise ValueFault(message("{text} cannot be the name of a size", text=quoted(text)), expected, fix)
    if not text.strip("."):
        raise ValueFault(
            message("{text} cannot be the name of a size", text=quoted(text)),
            expected,
            message("choose another name, such as 35"),
        )
    return text


def tool_name(value: Any) -> Any:
    """What a tool is called, as people say it: ``seam roller``, ``seam-roller`` or ``Nahtroller``. Whether
    there is such a tool is known later. Raises ValueFault."""
    text = " ".join(str(value).replace("-", " ").split()).lower()
    letters = all(sign.isalpha() or sign.isdecimal() or sign == " " for sign in text)
    if not text[:1].isalpha() or not letters or len(text) > 60:
        expected = message("a name of at most 60 letters, such as seam roller")
        raise ValueFault(
            message("{value} cannot be a tool", value=quoted(str(value))),
            expected,
            message("write its name as on the sheets"),
        )
    return text


def part_name(value: Any) -> Any:
    """The name of a part of a kit. Whether there is such a part is known later. Raises ValueFault."""
    text = str(value)
    if not re.fullmatch(r"[a-z][a-z0-9-]{0,59}", text):
        safe = re.sub(r"[^a-z0-9]+", "-", text.lower()).strip("-")[:60]
        fix = (
            message("write {text}", text=safe)
            if safe[:1].isalpha()
            else message("write a name such as seam-tape")
        )
        raise ValueFault(
            message("{text} cannot be a part", text=quoted(text)), message("a name such as seam-tape"), fix
        )
    return text
