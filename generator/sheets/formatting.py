"""Numbers, lengths, shares and minutes as one language writes them."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

from babel import Locale
from babel.lists import format_list
from babel.numbers import format_decimal, format_percent, parse_pattern

from generator.base.edition import Voice
from generator.measures.measure import Measure

_TERRITORY = {"en": "en_GB", "en-XA": "en_GB", "ar-XB": "en_GB"}
"""British English writes ``283, 567 and 850``, and so do the trials; other languages stand as they are."""
_PLAIN = "#0.####"
"""No thousands separator: 1155 stands on a rule as four figures, and a comma is read as a decimal point."""
_PERCENT = "#0.##%"
_MONEY = "#0.00"
"""Money is told without its currency: a table names that once."""
_EIGHTHS = ("", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞")
_SYMBOLS = {unit: f" {unit}" for unit in ("mm", "mm²", "m", "cm", "in", "s", "W", "g", "kg")} | {"deg": "°"}
"""Symbols of units are the same in every language (SI brochure, 9th edition, section 5.2; from memory)."""


@cache
def locale_of(language: str) -> Locale:
    """Babel's locale for a language code such as ``en`` or ``de``. Raises babel.UnknownLocaleError."""
    return Locale.parse(_TERRITORY.get(language, language).replace("-", "_"))


def direction(language: str) -> str:
    """``ltr``, or ``rtl`` where lines run from right to left."""
    return "rtl" if language == "ar-XB" else locale_of(language).text_direction


def number(value: float, voice: Voice) -> str:
    """A number without trailing zeros and without a thousands separator."""
    return format_decimal(value, format=parse_pattern(_PLAIN), locale=locale_of(voice.language))


def with_unit(text: str, unit: str) -> str:
    """A formatted number (or two, or a list of them) followed by its unit; a count has none."""
    return text + _SYMBOLS.get(unit, "")


def eighths(length: float) -> str:
    """A length in inches as a rule shows it, to an eighth: ``45½``."""
    whole, rest = divmod(round(length * 8), 8)
    part = _EIGHTHS[rest]
    return f"{whole or ''}{part}" if part else str(whole)


def value(measure: Measure, voice: Voice) -> str:
    """A measure's shown value or values without the unit."""
    if measure.unit == "fraction":
        parts = [
            format_percent(v, format=parse_pattern(_PERCENT), locale=locale_of(voice.language))
            for v in measure.values
        ]
    elif measure.unit == "clock":
        parts = [time_of_day(v) for v in measure.values]
    elif measure.unit == "money":
        parts = [
            format_decimal(v, format=parse_pattern(_MONEY), locale=locale_of(voice.language))
            for v in measure.values
        ]
    elif measure.unit == "in":
        parts = [eighths(v) for v in measure.values]
    else:
        parts = [number(v, voice) for v in measure.values]
    return listed(parts, voice)


def quantity(measure: Measure, voice: Voice) -> str:
    """A measure's shown value with its unit: ``1155 mm``, ``283 and 567 mm``, ``0.2%``, ``24 h``, ``3``."""
    if measure.unit == "min":
        return listed([duration(round(minutes)) for minutes in measure.values], voice)
    return with_unit(value(measure, voice), measure.unit)


def quantity_within(measure: Measure, tolerance: Measure, voice: Voice) -> str:
    """A measure with how far the work may be off: ``220 ± 2 mm``."""
    text = f"{value(measure, voice)} ± {value(tolerance, voice)}"
    return with_unit(text, measure.unit)


def product(measures: Iterable[Measure], voice: Voice) -> str:
    """Two or three lengths of one thing: ``1155 × 270 mm``."""
    several = list(measures)
    return with_unit(" × ".join(value(m, voice) for m in several), several[0].unit)


def listed(parts: Iterable[str], voice: Voice) -> str:
    """``283, 567 and 850`` as the language joins a list."""
    return format_list(list(parts), locale=locale_of(voice.language))


def time_of_day(minutes: float) -> str:
    """Minutes after midnight as a clock shows them: ``09:05``."""
    hours, rest = divmod(round(minutes), 60)
    return f"{hours % 24:02d}:{rest:02d}"


def duration(minutes: int) -> str:
    """Whole minutes in hours and minutes: ``53 min``, ``2 h``, ``2 h 03 min``."""
    hours, rest = divmod(minutes, 60)
    if not hours:
        return f"{rest} min"
    return f"{hours} h {rest:02d} min" if rest else f"{hours} h"
