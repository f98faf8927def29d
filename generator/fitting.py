"""A document in the form that is wished for, or in the nearest that it has room in, with a note of that."""

from __future__ import annotations

from dataclasses import dataclass, replace

from generator.base.edition import Edition, Form
from generator.base.errors import FigureError, NoRoomError, NoRoomForRecipeError, ProofError, RimfoldError
from generator.base.message import NOTHING, Message, message
from generator.pipeline import Drawn, print_document, traced
from generator.plan.work import Work
from generator.press.press import Pressed
from generator.press.proof import lacks_room
from generator.sheets.document import Kind, document_kind, kind_for
from generator.sheets.forms import form_of, how, nearer, nearer_at_full_scale


@dataclass(frozen=True)
class Fitted:
    """A document in the form that it has room for."""

    pressed: Pressed
    form: Form
    note: Message = NOTHING
    """That it is not the form that was wished for, and why."""


def print_fitting(kind: str, drawn: Drawn) -> Fitted:
    """A document in the form wished for, or, where it has no room in that, in the nearest that it fits.

    In another form than the usual, a figure or a page that lacks room counts too. Raises what
    ``print_document`` raises; NoRoomError where it has no room at all.
    """
    known = kind_for(kind, drawn.work.size)
    wished: NoRoomError | FigureError | ProofError
    try:
        return Fitted(print_document(kind, drawn), form_of(known, drawn.form), drawn.instead)
    except (NoRoomError, FigureError, ProofError) as error:
        if not _for_want_of_room(error, known, drawn.form):
            raise
        wished, tried = error, {form_of(known, drawn.form)}
    for instead in nearer(known, drawn.form):
        form = form_of(known, instead)
        if form in tried:
            continue
        tried.add(form)
        try:
            pressed = print_document(kind, _again(drawn, instead))
        except (NoRoomError, FigureError, ProofError) as error:
            if not _for_want_of_room(error, known, instead):
                raise
            continue
        return Fitted(pressed, form, _instead(_why(known, wished, drawn), form, drawn.form))
    raise wished


def _for_want_of_room(error: RimfoldError, kind: Kind, form: Form) -> bool:
    """Whether smaller print or other paper would help: what has no room in the usual form either is wrong."""
    if isinstance(error, NoRoomError):
        return True
    usual = not form.large and form_of(kind, form).paper in kind.papers[:1]
    return not usual and (
        isinstance(error, FigureError) or (isinstance(error, ProofError) and lacks_room(error))
    )


def _why(kind: Kind, error: NoRoomError | FigureError | ProofError, drawn: Drawn) -> Message:
    """The beginning of a note: what had no room."""
    if isinstance(error, NoRoomForRecipeError):
        return error.faults[0].wrong
    return error.wrong if isinstance(error, NoRoomError) else _short(kind, drawn)


def _short(kind: Kind, drawn: Drawn) -> Message:
    """That a document had no room in the form that was wished for."""
    return message(
        "the {kind} of {shade} has too little room on {form}",
        kind=kind.called,
        shade=drawn.work.size.called,
        form=how(form_of(kind, drawn.form), drawn.form),
    )


def _instead(why: Message, form: Form, wished: Form) -> Message:
    """That a document is printed in another form than the one that was wished for."""
    return message("{why}; printed on {form}", why=why, form=how(form, wished))


def trace(work: Work, edition: Edition) -> Drawn:
    """Draw the full-scale pattern of a work, in smaller print or on larger paper where a name has no room.

    Raises FigureError where none of these has room either.
    """
    try:
        return traced(work, edition)
    except FigureError as error:
        wished = error
    kind = document_kind("pattern")
    for form in nearer_at_full_scale(kind, edition.form):
        try:
            drawn = traced(work, replace(edition, form=form))
        except FigureError:
            continue
        why = _short(kind, replace(drawn, form=edition.form))
        return replace(drawn, instead=_instead(why, form_of(kind, form), edition.form))
    raise wished


def _again(drawn: Drawn, form: Form) -> Drawn:
    """The same in another form; a pattern is drawn for its lettering. Raises FigureError."""
    if drawn.pattern is None:
        return replace(drawn, form=form)
    return traced(drawn.work, Edition(drawn.words.voice, form))
