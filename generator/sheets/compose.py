"""From a subject to one document of HTML."""

from __future__ import annotations

from collections.abc import Callable, Iterable

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
        arrange=own_arrangement(template, subject) or _one_column(template, whole),
    )


def _one_column(kind: Kind, whole: tuple[Block, ...]) -> Callable[[Iterable[Measured]], Layout]:
    """Blocks below one another, as on a step sheet."""

    def arranged(placed: Iterable[Measured]) -> Layout:
        return arrange(whole, placed, kind.rooms, kind.most_pages)

    return arranged
