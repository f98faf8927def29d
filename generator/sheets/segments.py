"""Pieces of a sentence, and lengths as such pieces: in one unit, or in two."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from generator.base.edition import Voice
from generator.measures.measure import Measure
from generator.sheets.formatting import Told, told_together

JOINTS = (" × ", " ± ", " + ")
"""Between two numbers that must stay on one line."""


@dataclass(frozen=True, slots=True)
class Segment:
    """A piece of a sentence: literal text, or a value that was filled in."""

    text: str
    name: str | None = None
    """The placeholder's name; None for literal text."""
    measure: str | None = None
    """The measure that the number comes from, if it comes from one."""
    keep: bool = False
    """No line break before it: it belongs to the number before, as in ``1155 × 270 mm``."""
    aside: bool = False
    """It says in another unit what stands before it."""


Sentence = tuple[Segment, ...]


def together(parts: Sequence[tuple[str, Measure]], voice: Voice, lead: str = "") -> Iterator[Segment]:
    """Lengths that share the unit behind the last, each with the text before it; the other unit in brackets.

    ``lead`` is the sign before the first, ``Ø ``, which stands within the brackets too.
    """
    ways = list(zip(*told_together([measure for _, measure in parts], voice), strict=True))
    for second, way in enumerate(ways):
        pieces = list(_one_way(way, parts, second=bool(second)))
        yield from in_brackets(pieces, lead) if second else pieces


def in_brackets(pieces: Iterable[Segment], lead: str = "") -> list[Segment]:
    """What says in another unit what stands before it; a line may end before the bracket."""
    return [Segment(" "), Segment(f"({lead}", aside=True), *pieces, Segment(")", keep=True, aside=True)]


def aside(texts: Iterable[str], measure: str) -> Iterator[Segment]:
    """A measure's text in another unit, if there is one."""
    for text in texts:
        yield from in_brackets([Segment(text, measure, measure, keep=True, aside=True)])


def _one_way(way: Sequence[Told], parts: Sequence[tuple[str, Measure]], *, second: bool) -> Iterator[Segment]:
    for index, (each, (before, measure)) in enumerate(zip(way, parts, strict=True)):
        if index:
            yield Segment(before, keep=before in JOINTS, aside=second)
        text = each.numbers + (each.unit if index == len(parts) - 1 else "")
        keep = second if not index else before in JOINTS
        yield Segment(text, measure.id, measure.id, keep=keep, aside=second)


def figures_of(measures: Iterable[Measure], voice: Voice, joint: str = " × ") -> Sentence:
    """One to three lengths of one thing, ``1155 × 270 mm``, each traced to its measure, on one line."""
    parts = [(joint, measure) for measure in measures]
    pieces = list(together(parts, voice))
    return tuple(
        piece if piece.text == " " or piece.text == "(" or not index else replace(piece, keep=True)
        for index, piece in enumerate(pieces)
    )


def kept_together(pieces: list[Segment]) -> Iterator[Segment]:
    """Mark what must stay on one line with the number before it."""
    held = False
    for index, piece in enumerate(pieces):
        following = pieces[index + 1] if index + 1 < len(pieces) else None
        joint = (
            piece.text in JOINTS
            and index > 0
            and pieces[index - 1].measure is not None
            and following is not None
            and following.measure is not None
        )
        yield replace(piece, keep=True) if joint or held else piece
        held = joint


def after_colon(sentence: Sentence, voice: Voice) -> Sentence:
    """The same behind a colon: its first word stands small. German keeps its letter, and PVC does."""
    if voice.language == "de" or not sentence or sentence[0].name is not None:
        return sentence
    first = sentence[0].text
    if not first[1:2].islower():
        return sentence
    return (replace(sentence[0], text=first[:1].lower() + first[1:]), *sentence[1:])
