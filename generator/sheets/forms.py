"""Which form a document gets where another is wished for, and the line that says so."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from generator.base.edition import PAPERS, PRINT_SIZES, Form, PaperName, PrintSize
from generator.base.message import Message, joined, message, together, under
from generator.sheets.document import Kind, formed

_SIZES: dict[PrintSize, Message] = {
    "normal": message("normal"),
    "large": message("large"),
    "larger": message("larger"),
}


def form_of(kind: Kind, form: Form) -> Form:
    """The form that a document of this kind gets where this one is wished for.

    Lettering that it is not laid out for becomes the next smaller; then paper that it is not laid out for in
    such lettering becomes the first that it is.
    """
    wished = replace(form, paper=_paper(kind, form), duplex=form.duplex or kind.duplex)
    able = formed(kind, wished).print_sizes
    size = max((each for each in able if _rank(each) <= _rank(form.print_size)), key=_rank)
    sized = replace(wished, print_size=size)
    papers = formed(kind, sized).papers
    return sized if sized.paper in papers or not papers else replace(sized, paper=papers[0])


def nearer(kind: Kind, form: Form) -> Iterator[Form]:
    """What a document may have instead where it has no room in this form: smaller lettering, then the paper
    that it is laid out for in the first place."""
    for size in reversed(PRINT_SIZES[: _rank(form.print_size)]):
        yield replace(form, print_size=size)
    if kind.papers:
        yield replace(form, print_size="normal", paper=kind.papers[0])


def larger(kind: Kind, form: Form) -> Iterator[Form]:
    """The same on each larger paper that a document is laid out for, the usual one first."""
    for paper in kind.papers:
        sheet = PAPERS.get(paper)
        if (
            sheet
            and sheet != form.sheet
            and sheet.width >= form.sheet.width
            and sheet.height >= form.sheet.height
        ):
            yield replace(form, paper=sheet.name)


def nearer_at_full_scale(kind: Kind, form: Form) -> Iterator[Form]:
    """What a full-scale drawing may have instead: smaller lettering, then larger paper."""
    for size in reversed(PRINT_SIZES[: _rank(form.print_size)]):
        yield replace(form, print_size=size)
    yield from larger(kind, replace(form, print_size="normal"))


def otherwise(kind: Kind, form: Form) -> Message:
    """A line for a person where the form is not the one that is wished for; empty where it is, or where
    nothing is printed."""
    if not kind.press:
        return joined(())
    made = form_of(kind, form)
    told: list[Message] = []
    flat = formed(kind, made).template != kind.template
    if flat:
        told.append(message("to be folded in normal print"))
    if made.print_size != form.print_size:
        sizes = [_SIZES[size] for size in formed(kind, made).print_sizes]
        told.append(message("in {sizes} print", sizes=_listed(sizes)))
    if made.paper != _paper(kind, form):
        papers = _listed(formed(kind, made).papers)
        told.append(
            message("for {papers} in large print", papers=papers)
            if made.large
            else message("for {papers}", papers=papers)
        )
    if not told:
        return joined(())
    values = {"ways": together(told), "form": how(made, form)}
    line = (
        message("laid out {ways}; printed flat on {form}", **values)
        if flat
        else message("laid out {ways}; printed on {form}", **values)
    )
    return under(kind.called, line)


def how(made: Form, wished: Form) -> Message:
    """A form in words, with its lettering where that is or was to be large."""
    if made.large or wished.large:
        return message("{paper} in {size} print", paper=made.paper, size=_SIZES[made.print_size])
    return joined([made.paper])


def _paper(kind: Kind, form: Form) -> PaperName:
    """The paper that is wished for, or that the document has where nobody asks."""
    return kind.unasked if kind.unasked and not form.stated else form.paper


def _rank(size: PrintSize) -> int:
    return PRINT_SIZES.index(size)


def _listed(names: Sequence[str]) -> Message:
    """``A4, A3 and Letter``."""
    return together([joined(names[:-1]), names[-1]] if len(names) > 1 else names)
