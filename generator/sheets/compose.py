"""From a subject to one document of HTML."""

from __future__ import annotations

from generator.sheets.context import blocks, context, numbers, wording
from generator.sheets.document import Document, Subject, document_kind
from generator.sheets.packing import FLOWING, Layout
from generator.sheets.render import render


def compose(kind: str, subject: Subject, layout: Layout = FLOWING) -> Document:
    """One document in the language of the subject's words.

    Compose it without a layout, let the press place its blocks, pack them with ``packing.arrange``, and
    compose it again with that layout. Raises UsageError for an unknown kind, WordingError for a sentence and
    FigureError for a figure that is missing; ValueError for a subject that lacks what the kind tells of.
    """
    template = document_kind(kind)
    if template.outlook and subject.outlook is None:
        raise ValueError(f"a {kind} is composed of a subject with its outlook")
    if template.full_scale and subject.pattern is None:
        raise ValueError(f"a {kind} is composed of a subject with its pattern")
    words = wording(subject)
    views = context(template, subject, words, layout)
    return Document(
        kind=kind,
        html=render(template.template, views),
        title=views["page"].title,
        language=words.language,
        numbers=numbers(subject, words, template.most_pages),
        blocks=blocks(subject),
        rooms=template.rooms,
        most_pages=template.most_pages,
    )
