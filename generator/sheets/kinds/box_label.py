"""The label of a box and the strip for its side: what is inside, for which lamp, and what it still needs."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from generator.figures.lettering import text_width
from generator.sheets.cards import plan_minutes, text_of
from generator.sheets.context import kit_link, subline
from generator.sheets.document import Subject
from generator.sheets.formatting import duration
from generator.sheets.packing import Block
from generator.sheets.square_code import square_code
from generator.sheets.wording import Catalogue, Segment, Sentence

MM_PER_PT = 25.4 / 72
_DIAMETER = "Ø "


@dataclass(frozen=True, slots=True)
class Room:
    """What names may fill on a label, and how large their type is wished and at least, pt."""

    left: float
    """Width of the label's left side, mm; what stands in it is measured before it is set."""
    strip: float
    strip_height: float
    """Room for the words on the strip, mm."""
    end: float
    """Room for the size's name on the strip, mm."""
    code: float
    """Wished width of the square code with its border, mm."""
    maker: tuple[float, float]
    title: tuple[float, ...]
    """The last one may break."""
    size: tuple[float, float]
    use: tuple[float, float]
    """Below a title of one line, and of more."""
    side: tuple[float, float]
    side_title: tuple[float, float]
    side_small: tuple[float, float]
    """Maker, and what the shade is, on the strip."""
    side_lines: tuple[float, float, float]
    """Heights of their lines there and of the edition's, mm."""


USUAL = Room(
    left=56.0,
    strip=94.0,
    strip_height=18.4,
    end=40.0,
    code=22.0,
    maker=(10.0, 8.5),
    title=(20.0, 17.0, 14.0, 11.0),
    size=(64.0, 14.0),
    use=(11.0, 9.5),
    side=(40.0, 9.0),
    side_title=(14.0, 9.0),
    side_small=(8.0, 9.0),
    side_lines=(3.6, 3.9, 3.6),
)
LARGE = Room(
    left=66.0,
    strip=118.0,
    strip_height=42.0,
    end=50.0,
    code=26.0,
    maker=(18.0, 18.0),
    title=(30.0, 26.0, 22.0, 18.0),
    size=(72.0, 22.0),
    use=(18.0, 18.0),
    side=(60.0, 18.0),
    side_title=(26.0, 18.0),
    side_small=(18.0, 18.0),
    side_lines=(7.8, 7.8, 6.2),
)
"""In large print nothing but the edition is under 18 points, and a label fills a sheet."""


@dataclass(frozen=True, slots=True)
class Row:
    """A line of the label."""

    name: str
    value: Sentence
    blank: bool = False
    """Something is to be written behind it by hand."""


@dataclass(frozen=True, slots=True)
class Sizes:
    """Sizes of type that depend on how long a name is, pt."""

    maker: float
    title: float
    size: float
    use: float
    side: float
    """The size's name on the strip."""
    side_title: float
    side_small: tuple[float, float]
    side_maker: bool
    """Whether the strip has room for the maker, and for what the shade is."""
    side_use: bool


def views(subject: Subject, words: Catalogue) -> Mapping[str, Any]:
    """What the label's template names."""
    size = subject.size
    sentence = _whole(subline(subject.size, words, words.say(f"lid.use.{size.use}")))
    return {
        "name": size.title,
        "size": size.name,
        "lot": size.kits.lot if size.kits else None,
        "sentence": sentence,
        "rows": tuple(_rows(subject, words)),
        "code": square_code(kit_link(size), words, _room(subject).code),
        "caution": tuple(words.rich(f"lid.caution.{part}") for part in ("hazard", "avoid")),
        "sizes": _sizes(subject, text_of(sentence), _room(subject)),
    }


def blocks(subject: Subject) -> tuple[Block, ...]:
    """None: a label is one page."""
    return ()


def fitted(text: str, wish: float, least: float, room: float) -> float:
    """Size of bold type for a text to stand on one line of ``room`` mm, pt; at ``least`` it may break."""
    width = text_width(text, wish * MM_PER_PT, 700)
    return max(least, min(wish, int(2 * wish * room / width) / 2 if width else wish))


def lines(text: str, size: float, weight: int, room: float) -> int:
    """Lines that a text takes in ``room`` mm at ``size`` pt. A word that is wider than that is broken."""
    count, filled = 1, 0.0
    space = text_width(" ", size * MM_PER_PT, weight)
    for word in text.split():
        width = text_width(word, size * MM_PER_PT, weight)
        if filled and filled + space + width > room:
            count, filled = count + 1, 0.0
        filled += width + (space if filled else 0.0)
        while filled > room:
            count, filled = count + 1, filled - room
    return count


def _room(subject: Subject) -> Room:
    return LARGE if subject.form.large else USUAL


def _sizes(subject: Subject, sentence: str, room: Room) -> Sizes:
    """Type as large as wished for names as short as most are; long ones smaller, and the least goes first."""
    size = subject.size
    *wished, least = room.title
    title = next((pt for pt in wished if lines(size.title, pt, 700, room.left) <= 2), least)
    maker = size.maker.name if size.maker else ""
    of_maker, of_use, edition = room.side_lines
    side_title = fitted(size.title, *room.side_title, room.strip)
    titled = lines(size.title, side_title, 700, room.strip) * side_title * 1.22 * MM_PER_PT
    left = room.strip_height - titled - edition
    side_maker = bool(maker) and lines(maker, room.side_small[0], 600, room.strip) == 1 and left >= of_maker
    left -= of_maker if side_maker else 0.0
    return Sizes(
        maker=room.maker[0] if lines(maker, room.maker[0], 600, room.left) == 1 else room.maker[1],
        title=title,
        size=fitted(size.name, *room.size, room.left),
        use=room.use[0] if lines(size.title, title, 700, room.left) == 1 else room.use[1],
        side=fitted(size.name, *room.side, room.end),
        side_title=side_title,
        side_small=room.side_small,
        side_maker=side_maker,
        side_use=lines(sentence, room.side_small[1], 400, room.strip) * of_use <= left,
    )


def _whole(sentence: Sentence) -> Sentence:
    """The same, a diameter sign on one line with its number. A no-break space would break lines early."""
    pieces: list[Segment] = []
    signed = False
    for segment in sentence:
        pieces_of = [replace(segment, keep=segment.keep or signed)]
        signed = segment.measure is None and segment.text.endswith(_DIAMETER)
        if signed and segment.text != _DIAMETER:
            before = segment.text.removesuffix(_DIAMETER)
            pieces_of = [replace(segment, text=before), Segment(_DIAMETER)]
        pieces += pieces_of
    return tuple(pieces)


def _rows(subject: Subject, words: Catalogue) -> Iterator[Row]:
    size, kit, measures = subject.size, subject.kit, subject.measures
    assert kit is not None
    own = "" if "cloth" in kit.needed else ".with-cloth"
    spare = ".spares" if kit.spares.value else ""
    yield Row(words.say("lid.inside"), words.rich(f"lid.inside.value{spare}{own}"))
    if kit.cloth:
        yield Row(words.say("lid.cloth"), words.rich("lid.cloth.value"))
        if words.has("lid.cloth.more"):
            yield Row("", words.rich("lid.cloth.more"))
    hole = "hole" in measures
    fitter = words.rich(f"lid.fitter.{size.fitter_end}{'.hole' if hole else ''}")
    yield Row(words.say("lid.fitter"), fitter, blank=not hole)
    yield Row(words.say("lid.lamp"), _lamp(subject, words))
    minutes = duration(plan_minutes(subject.plan))
    yield Row(words.say("lid.time"), words.rich("strip.time.first", minutes=minutes))


def _lamp(subject: Subject, words: Catalogue) -> Sentence:
    lamp = subject.size.lamp
    if lamp is None:
        return words.rich("lid.lamp.unknown")
    watts = ".watts" if lamp.watts is not None else ""
    return words.rich(f"lid.lamp.value{watts}", kind=lamp.kind)
