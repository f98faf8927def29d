"""Each step's card as a drawing of its own, with the words and numbers of the sheet."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from generator.figures.paragraph import Run, Runs, plain
from generator.figures.step_card import CardText, Mark, draw_card
from generator.sheets.cards import Card, Caution, stages, text_of
from generator.sheets.context import wording
from generator.sheets.document import Subject
from generator.sheets.front import ELSEWHERE, measure_row
from generator.sheets.wording import Catalogue, Segment, Sentence


@dataclass(frozen=True, slots=True)
class StepCard:
    """One card. ``svg`` stands alone."""

    id: str
    """The task's name."""
    number: int
    svg: str


def step_cards(subject: Subject) -> tuple[StepCard, ...]:
    """A card a step, in order. Raises WordingError and FigureError as the sheet does."""
    words = wording(subject)
    cards = [card for stage in stages(subject, words) for card in stage.cards]
    return tuple(
        StepCard(card.figure.id, card.number, draw_card(_text(subject, words, card), card.figure))
        for card in cards
    )


def _text(subject: Subject, words: Catalogue, card: Card) -> CardText:
    size = subject.size
    take = [plain(f"{words.say('card.take')} {card.take}")] if card.take else []
    take += [runs(card.pair)] if card.pair else []
    mistake = (*card.mistake, Segment(f" {words.say('card.arrow')} "), *card.rescue)
    return CardText(
        owner=f"{size.recipe}-{size.name}-{card.figure.id}",
        number=card.number,
        title=text_of(card.title),
        marks=tuple(Mark(tag.text, tag.look) for tag in card.tags),
        minutes=card.minutes,
        cautions=tuple(_caution(caution) for caution in card.cautions),
        take=tuple(take),
        instructions=tuple(runs(sentence) for sentence in card.instructions),
        values=tuple(_values(subject, words, card)),
        check=runs(card.check),
        mistake=runs(mistake),
        pause=words.say("card.pause") if card.pause else "",
        gate=card.gate,
        foot=(words.say("title"), words.say("running.edition")),
        spoken=(words.say("card.caution"), words.say("card.check"), words.say("card.mistake")),
        language=words.language,
    )


def runs(sentence: Sentence) -> Runs:
    """A sentence with its measures bold and whole, as a page shows them."""
    return tuple(_run(segment) for segment in sentence)


def _run(segment: Segment) -> Run:
    number = segment.name is not None and any(sign.isdigit() for sign in segment.text)
    whole = segment.keep or segment.measure is not None or number
    return Run(segment.text, 700 if segment.measure is not None else 400, whole)


def _caution(caution: Caution) -> Runs:
    rest = (Segment(" "), *caution.consequence, Segment(" "), *caution.avoid)
    return (Run(text_of(caution.hazard), 700), *runs(rest))


def _values(subject: Subject, words: Catalogue, card: Card) -> Iterator[tuple[str, str]]:
    """Every measure of the step, as the words and then the figure name it, once."""
    said = [segment.measure for sentence in (*card.instructions, card.check) for segment in sentence]
    for name in dict.fromkeys(name for name in (*said, *card.figure.measures) if name):
        if name in ELSEWHERE:
            continue
        row = measure_row(subject.measures[name], words)
        yield row.label, text_of(row.value)
