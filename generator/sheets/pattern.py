"""The full-scale pattern as a template shows it: a first page, then tile after tile."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from generator.figures.model import Figure
from generator.figures.pattern.model import BAND, FOOT, HEAD, SIDE, Pattern
from generator.sheets.document import Subject
from generator.sheets.wording import Catalogue, Sentence

WHOLE_BAND = 20.0
"""Paper below the one-sheet pattern for the bar and its words, mm."""
WHOLE_LEAST = 190.0
"""Least width of the one sheet, mm: the bar and its words need it."""
WHOLE_EDGE = 6.0
"""Free paper round the one sheet, mm."""


@dataclass(frozen=True, slots=True)
class Leaf:
    """One page."""

    title: str
    what: Sentence
    landscape: bool
    figure: Figure


@dataclass(frozen=True, slots=True)
class Sample:
    """A kind of line and what to do with it."""

    figure: Figure
    means: Sentence


@dataclass(frozen=True, slots=True)
class PatternView:
    """What the pattern's templates name. Lengths in mm."""

    paper: tuple[float, float]
    """Width and height, upright."""
    edges: Mapping[str, float]
    """Free paper at the sides, above and below, and the height of the band with the bar."""
    leaves: tuple[Leaf, ...]
    map: Figure
    bar: Figure
    measured: str
    """The sentence's key that says what to measure."""
    samples: tuple[Sample, ...]
    join: tuple[Sentence, ...]
    pieces: tuple[Sentence, ...]
    whole: Figure
    sheet: tuple[float, float]
    """Width and height of the one sheet."""


def view(subject: Subject, pattern: Pattern, words: Catalogue) -> PatternView:
    """All that the pages of a pattern show."""
    whole = pattern.whole
    return PatternView(
        paper=(pattern.paper.width, pattern.paper.height),
        edges={"side": SIDE, "head": HEAD, "edge": WHOLE_EDGE, "foot": FOOT, "band": pattern.band},
        leaves=tuple(_leaves(pattern, words)),
        map=pattern.map,
        bar=pattern.bar,
        measured=f"pattern.bar.measure{_bars(pattern)}",
        samples=tuple(Sample(figure, words.rich(key)) for key, figure in pattern.samples),
        join=(
            words.rich(f"pattern.join.1{_bars(pattern)}"),
            *(words.rich(f"pattern.join.{number}") for number in range(2, 5)),
        ),
        pieces=tuple(words.rich(key) for key in _pieces(subject, pattern)),
        whole=whole,
        sheet=(
            max(whole.width + 2 * WHOLE_EDGE, WHOLE_LEAST),
            whole.height + WHOLE_BAND + (pattern.band - BAND) + WHOLE_EDGE + FOOT,
        ),
    )


def _bars(pattern: Pattern) -> str:
    """What a key of a sentence about the bar ends in."""
    return ".inches" if pattern.inch_bar else ""


def _leaves(pattern: Pattern, words: Catalogue) -> Iterator[Leaf]:
    for leaf in pattern.leaves:
        what = words.rich(leaf.title)
        title = words.say("pattern.tile.title", tile=leaf.name) if leaf.name else words.say(leaf.title)
        landscape = leaf.page.width > leaf.page.height
        yield Leaf(title, what if leaf.name else (), landscape, leaf.figure)


def _pieces(subject: Subject, pattern: Pattern) -> Iterator[str]:
    yield "pattern.piece.proof"
    if not subject.shade.tapered:
        yield "pattern.piece.proof.2"
    yield "pattern.piece.paper"
    if "snip" in pattern.small:
        yield "pattern.piece.snip"
    if "notch-gauge" in pattern.small:
        yield "pattern.piece.notch"
    yield "pattern.piece.viewfinder"
    yield "pattern.piece.flags"


def numbers(pattern: Pattern) -> frozenset[str]:
    """Names of tiles: their columns are counted."""
    return pattern.names


def views(subject: Subject, words: Catalogue) -> dict[str, Any]:
    """What a pattern's template names beside the head of the page."""
    assert subject.pattern is not None
    return {"pattern": view(subject, subject.pattern, words)}
