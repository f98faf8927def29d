"""Cards that no page would hold: a lower picture, the first that is low enough; else the card on two pages.

Each way is measured on the page before it is taken. Of a card on two pages each holds the title, the
cautions, the picture and some of the instructions, so that a caution stands before what it guards and a
picture beside its words on both.
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass

from generator.figures.model import Figure
from generator.plan.model import Step
from generator.sheets.cards import card_id, more_id, text_of
from generator.sheets.compose import compose
from generator.sheets.context import wording
from generator.sheets.document import Document, Kind, Subject, kind_for
from generator.sheets.packing import FLOWING, Layout, too_high
from generator.sheets.wording import Catalogue

Redraw = Callable[[Mapping[str, str]], Subject]
"""The subject with the figures of some cards drawn for other places: card and name of the place."""
Measure = Callable[[Document, Subject, Collection[str]], Mapping[str, float]]
"""How high some blocks of a document are, mm, by id."""


@dataclass(frozen=True)
class Settled:
    """What becomes of the cards that were too high; heights of all blocks then, mm."""

    heights: Mapping[str, float]
    redrawn: Mapping[str, str]
    """Cards with the name of the place that their figure is drawn for."""
    turned: Mapping[str, int]
    """Cards that stand on two pages, with how many of their instructions stand on the first."""


def settle(
    document: Document, subject: Subject, heights: Mapping[str, float], redraw: Redraw, measure: Measure
) -> Settled:
    """Lower pictures for the cards of a document that are too high, as its kind allows.

    ``heights`` are those of the document as it was composed without a layout, mm. A card that is too high in
    any way keeps its own. Raises what ``compose`` and ``redraw`` raise.
    """
    return _Settling(document, subject, dict(heights), redraw, measure).done()


class _Settling:
    def __init__(
        self,
        document: Document,
        subject: Subject,
        heights: dict[str, float],
        redraw: Redraw,
        measure: Measure,
    ) -> None:
        self.document, self.subject, self.heights = document, subject, heights
        self.redraw, self.measure = redraw, measure
        self.words = wording(subject)
        self.kind: Kind = kind_for(document.kind, subject.size, subject.form)
        self.steps = {card_id(step): step for step in subject.plan.steps}
        self.seen: dict[str, tuple[Figure, float]] = {}
        """Of cards that are still too high the figure that was tried last, and by how much they are, mm."""
        self.redrawn: dict[str, str] = {}
        self.turned: dict[str, int] = {}

    def done(self) -> Settled:
        """Every way in turn, as long as cards are left that are too high."""
        for place in self.kind.lower:
            self._lower(place)
        if self.kind.turns:
            for place in ("", *self.kind.lower):
                self._turn(place)
        return Settled(self.heights, self.redrawn, self.turned)

    def _left(self) -> Collection[str]:
        return too_high(self.document.blocks, self.heights, self.document.rooms, self.steps)

    def _lower(self, place: str) -> None:
        """The figures of the cards that are left, in another place."""
        left = self._left()
        shown = self.redraw(dict.fromkeys(left, place)) if left else self.subject
        able = {card: (card,) for card in left if self._may_fit(card, shown)}
        for card in self._try(shown, able, FLOWING):
            self.redrawn[card] = place

    def _may_fit(self, card: str, shown: Subject) -> bool:
        """Whether a card can be low enough: a picture of the same width saves no more than its height."""
        figure = shown.figure_of(self.steps[card])
        before, over = self.seen.get(card, (None, 0.0))
        return before is None or figure.width != before.width or before.height - figure.height >= over

    def _turn(self, place: str) -> None:
        """The cards that are left on two pages, with their figures in another place, or in the usual one."""
        halves = {card: _first_half(self.words, self.steps[card]) for card in self._left()}
        halves = {card: count for card, count in halves.items() if count}
        shown = self.redraw(dict.fromkeys(halves, place)) if halves and place else self.subject
        parts = {card: (card, more_id(self.steps[card])) for card in halves}
        for card in self._try(shown, parts, Layout(turned=halves)):
            self.turned[card] = halves[card]
            if place:
                self.redrawn[card] = place

    def _try(self, shown: Subject, parts: Mapping[str, Sequence[str]], layout: Layout) -> list[str]:
        """The cards that no longer are too high when composed so; ``parts`` are the blocks of each."""
        names = [name for each in parts.values() for name in each]
        if not names:
            return []
        found = self.measure(compose(self.document.kind, shown, layout), shown, names)
        tried = self.heights | {name: found[name] for name in names}
        over = too_high(self.document.blocks, tried, self.document.rooms, names)
        self.seen |= {card: (shown.figure_of(self.steps[card]), over[card]) for card in parts if card in over}
        fitting = [card for card, each in parts.items() if over.keys().isdisjoint(each)]
        self.heights |= {name: found[name] for card in fitting for name in parts[card]}
        return fitting


def _first_half(words: Catalogue, step: Step) -> int:
    """How many instructions of a step stand on the first of two pages, so that both have about as much to
    say; 0 for a step with one alone."""
    lengths = [len(text_of(each)) for each in words.instructions(step.task.key)]
    counts = range(1, len(lengths))
    return min(counts, key=lambda count: abs(sum(lengths[:count]) - sum(lengths[count:])), default=0)
