"""Which form a document gets where another is wished for, and the line that says so."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from generator.base.edition import PRINT_SIZES, Form, PrintSize
from generator.sheets.document import Kind, formed


def form_of(kind: Kind, form: Form) -> Form:
    """The form that a document of this kind gets where this one is wished for.

    Lettering that it is not laid out for becomes the next smaller; then paper that it is not laid out for in
    such lettering becomes the first that it is.
    """
    paper = kind.unasked if kind.unasked and not form.stated else form.paper
    size = max((each for each in kind.print_sizes if _rank(each) <= _rank(form.print_size)), key=_rank)
    sized = replace(form, paper=paper, print_size=size, duplex=form.duplex or kind.duplex)
    papers = formed(kind, sized).papers
    return sized if paper in papers or not papers else replace(sized, paper=papers[0])


def otherwise(kind: Kind, form: Form) -> str:
    """A line for a person where the form is not the one that is wished for; empty where it is."""
    made = form_of(kind, form)
    wished = kind.unasked if kind.unasked and not form.stated else form.paper
    told: list[str] = []
    if made.print_size != form.print_size:
        told.append(f"in {_listed(kind.print_sizes)} print")
    if made.paper != wished:
        told.append(f"for {_listed(formed(kind, made).papers)}{' in large print' if made.large else ''}")
    if not told:
        return ""
    how = f"{made.paper} in {made.print_size} print" if made.large or form.large else made.paper
    return f"{kind.name}: laid out {' and '.join(told)}; printed on {how}"


def _rank(size: PrintSize) -> int:
    return PRINT_SIZES.index(size)


def _listed(names: Sequence[str]) -> str:
    """``A4, A3 and Letter``."""
    *most, last = names
    return f"{', '.join(most)} and {last}" if most else last
