"""What the cards for the wall say: words that hold for several sizes, and a table where numbers differ.

A number that every size shares stands in its sentence. Where sizes differ, a letter stands in its place, and
the table below has that letter. Sizes of which the work is told in other words have cards of their own.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from generator.base.edition import Voice
from generator.figures.model import WALL, Figure, Slot
from generator.figures.wall_figures import differs, wall_figure
from generator.plan.model import Step
from generator.plan.work import Work
from generator.sheets.called import label_of
from generator.sheets.cards import Caution, caution
from generator.sheets.segments import figures_of
from generator.sheets.wording import Catalogue, Sentence, load_words

LETTERS = "PQRSTUVW"
"""Signs in the place of numbers: none that a picture uses."""
LETTER = "letter"
"""What such a sign is marked as in a sentence."""


@dataclass(frozen=True, slots=True)
class Row:
    """A measure that differs from size to size."""

    letter: str
    label: str
    values: tuple[Sentence, ...]
    """One for each size."""


@dataclass(frozen=True, slots=True)
class WallCard:
    """One card."""

    id: str
    number: str
    """The step's number; empty where it is another in some sizes."""
    title: Sentence
    cautions: tuple[Caution, ...]
    figure: Figure
    lines: tuple[Sentence, ...]
    check: Sentence
    sizes: tuple[str, ...]
    drawn_for: str
    """The size that the picture shows, where there are several."""
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class Telling:
    """What is said of one step in one size."""

    title: Sentence
    lines: tuple[Sentence, ...]
    check: Sentence
    cautions: tuple[str, ...]

    @property
    def form(self) -> object:
        """The same without the numbers of the size."""
        said = (self.title, *self.lines, self.check)
        return tuple(tuple(piece.measure or piece.text for piece in each) for each in said), self.cautions


def wall_steps(work: Work) -> tuple[Step, ...]:
    """The steps of which a card hangs on the wall."""
    return tuple(step for step in work.plan.steps if step.task.wall)


def words_of(work: Work, voice: Voice) -> Catalogue:
    """The words of one size."""
    return load_words(voice).bound(work.plan, work.measures)


def telling(step: Step, words: Catalogue) -> Telling:
    """What a card says of a step. Raises WordingError for a sentence that is missing."""
    key = step.task.key
    return Telling(
        words.rich(f"{key}.title"), words.brief(key), words.rich(f"{key}.check"), step.task.cautions
    )


def groups(works: Sequence[Work], voice: Voice) -> tuple[tuple[Work, ...], ...]:
    """Sizes that share their cards, in order."""
    found: dict[object, list[Work]] = {}
    for work in works:
        words = words_of(work, voice)
        form = tuple((step.id, telling(step, words).form) for step in wall_steps(work))
        found.setdefault(form, []).append(work)
    return tuple(tuple(members) for members in found.values())


def figure_name(group: int, step: Step) -> str:
    """Id of a card and of its picture."""
    return f"wall-{group}-{step.id}"


def wall_figures(works: Sequence[Work], voice: Voice, slot: Slot = WALL) -> tuple[Figure, ...]:
    """A picture for each card: sizes that share their words share it. Raises FigureError."""
    return tuple(
        wall_figure(group, step, words_of(group[0], voice), figure_name(number, step), slot)
        for number, group in enumerate(groups(works, voice))
        for step in wall_steps(group[0])
    )


def wall_cards(works: Sequence[Work], voice: Voice, drawings: Mapping[str, Figure]) -> tuple[WallCard, ...]:
    """Every card. Raises KeyError for a picture that is missing."""
    return tuple(
        _card(group, step, voice, drawings[figure_name(number, step)])
        for number, group in enumerate(groups(works, voice))
        for step in wall_steps(group[0])
    )


def _card(group: Sequence[Work], step: Step, voice: Voice, figure: Figure) -> WallCard:
    words = words_of(group[0], voice)
    told = telling(step, words)
    said = (*told.lines, told.check)
    differing = dict.fromkeys(
        piece.measure for each in said for piece in each if piece.measure and differs(group, piece.measure)
    )
    letters = dict(zip(differing, LETTERS, strict=False))
    numbers = {work.plan.numbers[step.id] for work in group}
    several = len(group) > 1
    return WallCard(
        id=figure.id,
        number=str(step.number) if len(numbers) == 1 else "",
        title=told.title,
        cautions=tuple(caution(words, name) for name in told.cautions),
        figure=figure,
        lines=tuple(_lettered(each, letters) for each in told.lines),
        check=_lettered(told.check, letters),
        sizes=tuple(work.size.name for work in group) if several else (),
        drawn_for=group[0].size.name if several else "",
        rows=tuple(_rows(group, letters, words)),
    )


def _lettered(sentence: Sentence, letters: Mapping[str, str]) -> Sentence:
    return tuple(
        replace(piece, text=letters[piece.measure], name=LETTER, measure=LETTER)
        if piece.measure is not None and piece.measure in letters
        else piece
        for piece in sentence
    )


def _rows(group: Sequence[Work], letters: Mapping[str, str], words: Catalogue) -> Iterator[Row]:
    for measure, letter in letters.items():
        label = label_of(group[0].measures[measure], words)
        values = (figures_of([work.measures[measure]], words.voice) for work in group)
        yield Row(letter, label, tuple(values))
