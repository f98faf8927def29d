"""Numbers, lengths, shares and minutes as one language writes them.

A length is told in the units of a voice: ``1155 mm``; inches first, ``45⅜ in (1155 mm)``; or the other way.
Halves, quarters and eighths have glyphs in the pinned fonts. Other fractions have none and are written
``11 3/16 in``: who listens hears "eleven, three sixteenths", and the text copies and reads back as it
stands, which raised and lowered figures do not.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import TYPE_CHECKING

from generator.base.edition import Voice
from generator.base.words import INCH_SIGN, on_the_line
from generator.measures.inches import INCHES_PER_FOOT, in_feet, inches_of, tolerance_in_inches
from generator.measures.measure import Measure

if TYPE_CHECKING:
    from babel import Locale

# What Babel knows of languages is loaded with the first number that is written as a language writes it:
# whether a technique has words is judged without.

_TERRITORY = {"en": "en_GB", "en-XA": "en_GB", "ar-XB": "en_GB"}
"""British English writes ``283, 567 and 850``, and so do the trials; other languages stand as they are."""
_DIGITS = "#0.##"
_PLAIN = "#0.####"
"""Four figures stand together, as on a rule: 1155."""
GROUPED_FROM = 10_000.0
"""From here on figures stand in threes, a thin space between them (SI brochure, 9th edition, section 5.4.4;
from memory), in every language: a comma or a point there is read as a decimal sign."""
_THIN = "\u202f"
_THREES = re.compile(r"(?<=\d)(?=(?:\d{3})+(?!\d))(?<![.,]\d)(?<![.,]\d\d)(?<![.,]\d\d\d)")
_MONEY = "#0.00"
"""Money is told without its currency: a table names that once."""
_EIGHTHS = ("", "⅛", "¼", "⅜", "½", "⅝", "¾", "⅞")
_RAISED, _LOWERED = (str.maketrans("0123456789", figures) for figures in ("⁰¹²³⁴⁵⁶⁷⁸⁹", "₀₁₂₃₄₅₆₇₈₉"))
_SYMBOLS = {unit: f" {unit}" for unit in ("mm", "mm²", "m", "cm", "in", "s", "W", "g", "kg")} | {"deg": "°"}
"""Symbols of units are the same in every language (SI brochure, 9th edition, section 5.2; from memory)."""


@cache
def locale_of(language: str) -> Locale:
    """Babel's locale for a language code such as ``en`` or ``de``. Raises babel.UnknownLocaleError."""
    from babel import Locale

    return Locale.parse(_TERRITORY.get(language, language).replace("-", "_"))


def direction(language: str) -> str:
    """``ltr``, or ``rtl`` where lines run from right to left."""
    return "rtl" if language == "ar-XB" else locale_of(language).text_direction


def number(value: float, voice: Voice) -> str:
    """A number without trailing zeros; five figures or more in threes: ``1155``, ``59 208``."""
    from babel.numbers import format_decimal, parse_pattern

    text = format_decimal(value, format=parse_pattern(_PLAIN), locale=locale_of(voice.language))
    return _THREES.sub(_THIN, text) if abs(value) >= GROUPED_FROM else text


def with_unit(text: str, unit: str) -> str:
    """A formatted number (or two, or a list of them) followed by its unit; a count has none."""
    return text + _SYMBOLS.get(unit, "")


@cache
def inch_word(language: str) -> str:
    """The inch beside a number, as CLDR's short form has it: ``in``, in French ``po``."""
    from babel.units import format_unit

    return format_unit("0", "length-inch", length="short", locale=locale_of(language)).lstrip("0").strip()


@cache
def foot_word(language: str) -> str:
    """The foot beside a number, likewise: ``ft``, in French ``pi``."""
    from babel.units import format_unit

    return format_unit("0", "length-foot", length="short", locale=locale_of(language)).lstrip("0").strip()


def fraction(length: Fraction) -> str:
    """A length in inches as a rule shows it: ``45½``, ``11 3/16``, ``3/32``."""
    eighth = length * 8
    if eighth.denominator == 1:
        whole, rest = divmod(eighth.numerator, 8)
        part = _EIGHTHS[rest]
        return f"{whole or ''}{part}" if part else str(whole)
    whole, part_of = divmod(length, 1)
    text = f"{part_of.numerator}/{part_of.denominator}"
    return f"{whole}\N{NO-BREAK SPACE}{text}" if whole else text


def small_fraction(length: Fraction) -> str:
    """The same for a drawing, where a fraction must be no wider than a digit or two: ``11³/₁₆``.

    Nobody is read these letters: a drawing has a description of its own.
    """
    whole, _, part = fraction(length).rpartition("\N{NO-BREAK SPACE}")
    top, stroke, bottom = part.partition("/")
    return whole + (top.translate(_RAISED) + "/" + bottom.translate(_LOWERED) if stroke else part)


def eighths(length: float) -> str:
    """A length in inches as a rule shows it, to an eighth: ``45½``."""
    return fraction(Fraction(round(length * 8), 8))


@dataclass(frozen=True, slots=True)
class Told:
    """A measure in one unit: its numbers as text, and what stands behind them."""

    numbers: str
    unit: str
    parts: tuple[str, ...] = ()
    """Each of the numbers."""

    @property
    def text(self) -> str:
        """Numbers and unit."""
        return self.numbers + self.unit


def told(measure: Measure, voice: Voice) -> tuple[Told, ...]:
    """A measure as a voice tells it: the leading unit, then the one beside it if there is one."""
    parts = _metric(measure, voice)
    if measure.unit == "min":
        parts = tuple(duration(round(minutes)) for minutes in measure.values)
    inch = f" {inch_word(voice.language)}"
    unit = inch if measure.unit == "in" else _SYMBOLS.get(measure.unit, "")
    metric = Told(listed(parts, voice), unit, parts)
    inches = inches_of(measure) if voice.units != "metric" else None
    if inches is None:
        return (metric,)
    if in_feet(measure, inches):
        parts = tuple(fraction(each / INCHES_PER_FOOT) for each in inches)
        other = Told(listed(parts, voice), f" {foot_word(voice.language)}", parts)
    else:
        parts = tuple(map(fraction, inches))
        other = Told(listed(parts, voice), inch, parts)
    return (other, metric) if voice.units == "inch" else (metric, other)


def told_together(measures: Sequence[Measure], voice: Voice) -> list[tuple[Told, ...]]:
    """Several measures that share one unit behind the last: all of them in inches too, or none."""
    each = [told(measure, voice) for measure in measures]
    if len({len(ways) for ways in each}) == 1:
        return each
    return [told(measure, Voice(voice.language)) for measure in measures]


def value(measure: Measure, voice: Voice) -> str:
    """A measure's shown value or values without the unit, in the leading unit of the voice alone."""
    return told(measure, voice)[0].numbers


def alone(measure: Measure, voice: Voice, *, drawn: bool = False) -> str:
    """A number with no unit behind it, for narrow places: millimetres bare, inches with their sign.

    ``drawn``: as a drawing has it.
    """
    inches = inches_of(measure) if voice.units == "inch" else None
    if inches is None:
        return listed(_metric(measure, voice), voice)
    return listed(map(small_fraction if drawn else fraction, inches), voice) + INCH_SIGN


def unit_sign(measures: Iterable[Measure], voice: Voice) -> str:
    """What stands behind numbers of ``value``: a unit, or nothing behind a count."""
    last = list(measures)[-1]
    return told(last, voice)[0].unit


def _metric(measure: Measure, voice: Voice) -> tuple[str, ...]:
    if measure.unit == "fraction":
        parts = [share(v, voice) for v in measure.values]
    elif measure.unit == "clock":
        parts = [time_of_day(v) for v in measure.values]
    elif measure.unit == "money":
        from babel.numbers import format_decimal, parse_pattern

        parts = [
            format_decimal(v, format=parse_pattern(_MONEY), locale=locale_of(voice.language))
            for v in measure.values
        ]
    elif measure.unit == "in":
        parts = [eighths(v) for v in measure.values]
    else:
        parts = [number(v, voice) for v in measure.values]
    return tuple(parts)


def beside(texts: Sequence[str]) -> str:
    """The first of one or two ways to say the same, the other in brackets behind it."""
    return texts[0] if len(texts) == 1 else f"{texts[0]} ({texts[1]})"


def quantity(measure: Measure, voice: Voice) -> str:
    """A measure's shown value with its unit: ``1155 mm``, ``283 and 567 mm``, ``0.2%``, ``24 h``, ``3``."""
    return beside([way.text for way in told(measure, voice)])


def tolerances(measure: Measure, voice: Voice) -> tuple[str, ...]:
    """How far the work may be off, without a unit, for each unit in which a voice tells the measure."""
    assert measure.tolerance is not None
    plain, inch = number(measure.tolerance, voice), f" {inch_word(voice.language)}"
    finest = fraction(tolerance_in_inches(measure.tolerance))
    return tuple(finest if way.unit == inch else plain for way in told(measure, voice))


def quantity_within(measure: Measure, tolerance: Measure, voice: Voice) -> str:
    """A measure with how far the work may be off: ``220 ± 2 mm``."""
    return _joined((measure, tolerance), " ± ", voice)


def product(measures: Iterable[Measure], voice: Voice) -> str:
    """Two or three lengths of one thing: ``1155 × 270 mm``."""
    return _joined(list(measures), " × ", voice)


def _joined(measures: Sequence[Measure], joint: str, voice: Voice) -> str:
    ways = zip(*told_together(measures, voice), strict=True)
    return beside([joint.join(each.numbers for each in way) + way[-1].unit for way in ways])


def out_of_drawing(text: str, measure: Measure, voice: Voice) -> str:
    """What stands in a drawing as it is said: with its unit, and fractions on the line."""
    if INCH_SIGN in text:
        return on_the_line(text).replace(INCH_SIGN, f" {inch_word(voice.language)}")
    return with_unit(text, measure.unit)


def in_drawing(shown: float, inches: Fraction | None, voice: Voice) -> str:
    """A length in a drawing: millimetres without a unit, or inches with their sign where they come first.

    One of them alone: a drawing has no room for both, and the words beside it have both.
    """
    if voice.units == "inch" and inches is not None:
        return small_fraction(inches) + INCH_SIGN
    return number(shown, voice)


def share(value: float, voice: Voice) -> str:
    """A share of one as the language writes it in hundredths: ``0.2%``, ``0,2 %``."""
    from babel.numbers import format_percent, parse_pattern

    locale = locale_of(voice.language)
    # The language's own sign, and space before it; its whole numbers would lose the two decimals.
    pattern = str(locale.percent_formats[None].pattern).replace("#,##0", _DIGITS)
    return format_percent(value, format=parse_pattern(pattern), locale=locale)


def listed(parts: Iterable[str], voice: Voice) -> str:
    """``283, 567 and 850`` as the language joins a list."""
    from babel.lists import format_list

    return format_list(list(parts), locale=locale_of(voice.language))


def money(amount: float, currency: str, voice: Voice) -> str:
    """An amount with its currency (ISO 4217), as the language writes it: ``€24.46``, ``24,46 €``."""
    from babel.numbers import format_currency

    return format_currency(amount, currency, locale=locale_of(voice.language))


def two_of(language: str) -> str:
    """What stands between two things in a language, with its spaces: `` and ``."""
    return str(locale_of(language).list_patterns["standard"]["2"]).replace("{0}", "").replace("{1}", "")


def held(text: str) -> str:
    """A text in which no line ends."""
    return text.replace(" ", "\u00a0")


def numbers_of(steps: Iterable[int]) -> str:
    """Numbers of steps in a table, ``3, 5, 12``, in the order given."""
    return ", ".join(map(str, steps))


def sentence_case(text: str) -> str:
    """A text with its first letter large, the others as the language has them."""
    return text[:1].upper() + text[1:]


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
