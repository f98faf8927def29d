"""From a subject to one document of HTML."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from generator.base.errors import NoRoomError
from generator.base.message import Number, message
from generator.sheets.cards import card_id, more_id
from generator.sheets.context import blocks, context, numbers, wording
from generator.sheets.document import Document, Kind, Subject, kind_for
from generator.sheets.own import own_arrangement, own_blocks, own_numbers
from generator.sheets.packing import FLOWING, Block, Layout, Measured, arrange
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
        return _held(arrange(whole, placed, kind.rooms, kind.most_pages), kind, subject)

    return arranged


def _held(layout: Layout, kind: Kind, subject: Subject) -> Layout:
    """The layout, if each card stands whole on a page. What may go on on the next page is not asked."""
    for step in subject.plan.steps:
        over = max(layout.over.get(name, 0.0) for name in (card_id(step), more_id(step)))
        if over > 0:
            raise NoRoomError(
                message(
                    "step {number} in the {kind} of {shade} is {over} higher than a page",
                    number=step.number,
                    kind=kind.called,
                    shade=subject.size.called,
                    over=Number(f"{over:.0f} mm"),
                ),
                message("take smaller print or larger paper, or shorten it if the words are yours"),
            )
    return layout
