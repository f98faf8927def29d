"""From a subject to one document of HTML."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable
from dataclasses import replace

from generator.base.errors import NoRoomError
from generator.base.message import Number, message
from generator.figures.model import slot_named
from generator.sheets.cards import card_id
from generator.sheets.context import blocks, context, numbers, wording
from generator.sheets.document import Document, Kind, Subject, kind_for
from generator.sheets.own import own_arrangement, own_blocks, own_numbers
from generator.sheets.packing import FLOWING, Block, Layout, Measured, arrange, lowered
from generator.sheets.render import render
from generator.sheets.style import greyed


def compose(kind: str, subject: Subject, layout: Layout = FLOWING) -> Document:
    """One document in the language of the subject's words.

    Compose it without a layout, let the press place its blocks, pack them with the document's own
    ``arrange``, and compose it again with that layout. Raises UsageError for an unknown kind, WordingError
    for a sentence and FigureError for a figure that is missing; ValueError for a subject that lacks what the
    kind tells of.
    """
    template = kind_for(kind, subject.size, subject.form)
    if template.outlook and subject.outlook is None:
        raise ValueError(f"a {kind} is composed of a subject with its outlook")
    if template.full_scale and subject.pattern is None:
        raise ValueError(f"a {kind} is composed of a subject with its pattern")
    if template.scope == "recipe" and not subject.batch:
        raise ValueError(f"a {kind} is composed of all sizes of a recipe")
    if template.glance and subject.glance is None:
        raise ValueError(f"a {kind} is composed of a subject at a glance")
    words = wording(subject)
    views = context(template, subject, words, layout)
    own = own_blocks(template, subject)
    whole = blocks(subject) if own is None else own
    html = render(template.template, views)
    return Document(
        kind=kind,
        html=greyed(html) if subject.form.grey else html,
        title=views["page"].title,
        language=words.language,
        numbers=numbers(subject, words, template.most_pages).union(own_numbers(template, subject, words)),
        blocks=whole,
        rooms=template.rooms,
        most_pages=template.most_pages,
        arrange=own_arrangement(template, subject) or _one_column(template, whole, subject),
    )


def _one_column(
    kind: Kind, whole: tuple[Block, ...], subject: Subject
) -> Callable[[Iterable[Measured]], Layout]:
    """Blocks below one another, as on a step sheet. Raises NoRoomError for a card that no page holds."""

    def arranged(placed: Iterable[Measured]) -> Layout:
        if not kind.lower:
            return _held(arrange(whole, placed, kind.rooms, kind.most_pages), kind, subject)
        parts, low = lowered(whole, placed, kind.rooms, _gains(kind, subject))
        layout = _held(arrange(whole, parts, kind.rooms, kind.most_pages), kind, subject, low)
        return replace(layout, redrawn=dict.fromkeys(sorted(low), kind.lower))

    return arranged


def _held(layout: Layout, kind: Kind, subject: Subject, low: Collection[str] = ()) -> Layout:
    """The layout, if each card stands whole on a page. What may go on on the next page is not asked.

    Nor is a card of ``low``, if its words alone find room: beside a lower figure they stand in other places,
    and the card is often lower than was reckoned. Whether it stands whole is seen on the finished page, by
    the proof.
    """
    for step in subject.plan.steps:
        over = layout.over.get(card_id(step), 0.0)
        figure = subject.figure_of(step).height if card_id(step) in low else 0.0
        if over > figure:
            raise NoRoomError(
                message(
                    "step {number} in the {kind} of {shade} is {over} higher than a page",
                    number=step.number,
                    kind=kind.called,
                    shade=f"{subject.size.title} {subject.size.name}",
                    over=Number(f"{over:.0f} mm"),
                ),
                message("take smaller print or larger paper, or shorten it if the words are yours"),
            )
    return layout


def _gains(kind: Kind, subject: Subject) -> dict[str, float]:
    """How much lower each card is with its figure in the lower place, mm."""
    usual, low = slot_named(kind.slots[1]), slot_named(kind.lower)
    share = 1.0 - low.enlarged / usual.enlarged
    return {card_id(step): share * subject.figure_of(step).height for step in subject.plan.steps}
