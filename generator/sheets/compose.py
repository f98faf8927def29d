"""From a subject to one document of HTML."""

from __future__ import annotations

from generator.sheets.context import blocks, context, numbers, wording
from generator.sheets.document import Document, Subject, document_kind
from generator.sheets.own import own_blocks, own_numbers
from generator.sheets.packing import FLOWING, Layout
from generator.sheets.render import render


def compose(kind: str, subject: Subject, layout: Layout = FLOWING) -> Document:
    """One document in the language of the subject's words.

    Compose it without a layout, let the press place its blocks, pack them with ``packing.arrange``, and
    compose it again with that layout. Raises UsageError for an unknown kind, WordingError for a sentence and
    FigureError for a figure that is missing.
    """
    template = document_kind(kind)
    if template.outlook and subject.outlook is None:
        raise ValueError(f"a {kind} is composed of a subject with its outlook")
    if template.full_scale and subject.pattern is None:
        raise ValueError(f"a {kind} is composed of a subject with its pattern")
    if template.scope == "recipe" and not subject.batch:
        raise ValueError(f"a {kind} is composed of all sizes of a recipe")
    words = wording(subject)
    views = context(template, subject, words, layout)
    own = own_blocks(template, subject)
    return Document(
        kind=kind,
        html=render(template.template, views),
        title=views["page"].title,
        language=words.language,
        numbers=numbers(subject, words, template.most_pages).union(own_numbers(template, subject, words)),
        blocks=blocks(subject) if own is None else own,
        rooms=template.rooms,
        most_pages=template.most_pages,
    )
