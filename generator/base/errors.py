"""The one tree of errors, and the fault: a place, what is wrong there, and what to do."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any

from generator.base.message import Message, Number, in_three, in_two, joined, message, under
from generator.base.spans import Span

FAULT_LIMIT = 100
"""How many faults an error tells. Nobody reads more, and many of them follow from a few."""

PAGE_FAULT_LIMIT = 20
"""How many faults of pages an error tells: a page that went wrong goes wrong in many places."""

PART_LIMIT = 400
"""How many characters each part of a message may have. What was written may be longer than anybody reads."""


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that is wrong in an input file, told to the person who wrote it, in one line."""

    span: Span
    wrong: Message
    expected: Message
    fix: Message

    @property
    def said(self) -> Message:
        """What is wrong, what was expected and what to do, without the place."""
        wrong, expected, fix = (
            part.shown_as(in_a_line(part)) for part in (self.wrong, self.expected, self.fix)
        )
        return in_three(wrong, expected, fix)

    @property
    def line(self) -> Message:
        """All of it, with the place."""
        return joined([str(self.span), self.said], ": ")

    def __str__(self) -> str:
        return str(self.line)


@dataclass(frozen=True, slots=True)
class PageFault:
    """One thing that is wrong on a printed page or with a whole file, told in one line."""

    wrong: Message
    """What is wrong, in plain words; with ``text`` it goes on where that ends: ``is cut off``."""
    fix: Message
    """What to do about it."""
    text: str = ""
    """The words on the page that it is about."""
    at: tuple[float, float] | None = None
    """How far it stands from the left and from the upper edge of the page, mm."""
    page: int | None = None
    """Counted from 1; None: the whole file."""
    rule: str = ""
    """Name of the rule that found it."""
    file: str = ""
    """What the document is called."""

    @property
    def line(self) -> Message:
        """All of it, with the place."""
        what = (
            message("the text “{text}” {wrong}", text=self.text, wrong=self.wrong)
            if self.text
            else self.wrong
        )
        said = in_two(what.shown_as(in_a_line(what)), self.fix)
        where: list[str] = [self.file] if self.file else []
        if self.page:
            where.append(message("page {page}", page=self.page))
        if self.at:
            left, top = (Number(f"{far:.0f} mm") for far in self.at)
            where.append(message("{left} from the left, {top} from the top", left=left, top=top))
        return under(joined(where), said) if where else said

    def __str__(self) -> str:
        return str(self.line)


@dataclass(frozen=True, slots=True)
class Warning_:  # noqa: N801 - the plain name is a builtin, and people read the plural "warnings"
    """Something in an input file that is used as it stands, but that its writer should know."""

    span: Span
    text: Message

    @property
    def said(self) -> Message:
        """The warning without its place, called one."""
        return message("warning: {text}", text=self.text.shown_as(in_a_line(self.text)))

    @property
    def line(self) -> Message:
        """All of it, with the place."""
        return joined([str(self.span), self.said], ": ")

    def __str__(self) -> str:
        return str(self.line)


def in_a_line(text: str) -> str:
    """Quoted text may hold line breaks, and have no end."""
    return shortened("".join(sign if sign.isprintable() else " " for sign in text))


def shortened(text: str) -> str:
    """No more of it than anybody reads."""
    return text if len(text) <= PART_LIMIT else text[: PART_LIMIT - 1] + "…"


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known name that a mistyped word most likely means, or None if none is near."""
    names = list(known)
    by_folded = {name.casefold(): name for name in reversed(names)}
    folded = word[:80].casefold().strip().replace(" ", "_")
    for candidate in (folded, folded.replace("-", "_"), folded.replace("_", "-")):
        if candidate in by_folded:
            return by_folded[candidate]
    # Most files have no name that nobody knows.
    from difflib import get_close_matches

    found = get_close_matches(folded, by_folded, n=1, cutoff=0.6)
    return by_folded[found[0]] if found else None


class RimfoldError(Exception):
    """Base of every error that Rimfold raises on purpose. ``exit_code`` is the process's."""

    exit_code = 1

    @property
    def lines(self) -> tuple[str, ...]:
        """What it says, line by line; Messages, where it was raised with one."""
        said = self.args[0] if self.args else ""
        return (said,) if isinstance(said, Message) else tuple(str(self).splitlines())


class InputError(RimfoldError):
    """A file that a person wrote has faults. Its first hundred are carried, in file order."""

    exit_code = 2

    def __init__(self, faults: Iterable[Fault]) -> None:
        found = sorted(faults, key=lambda fault: fault.span.order)
        self.faults: tuple[Fault, ...] = tuple(found[:FAULT_LIMIT])
        super().__init__("\n".join(str(fault) for fault in self.faults))

    @property
    def lines(self) -> tuple[str, ...]:
        """A line for each fault."""
        return tuple(fault.line for fault in self.faults)

    def __reduce__(self) -> tuple[Any, ...]:
        # An error comes back from another process by what it was made of.
        return (type(self), (self.faults,))


class RecipeError(InputError):
    """A recipe cannot be read: its text, its keys or its values."""


class GeometryError(InputError):
    """A recipe reads clean, but the shade that it describes cannot or must not be made."""


class TechniqueError(InputError):
    """A technique file cannot be used."""


class KitError(InputError):
    """What a recipe says of kits does not fit its list of parts, or that list cannot be used."""


class ClassError(InputError):
    """A class cannot be held as its recipe says, or its list of prices cannot be used."""


class SaidError(RimfoldError):
    """One that is said in a sentence, and so in every language: what is wrong, and mostly what to do."""

    def __init__(self, wrong: Message, fix: Message | None = None) -> None:
        self.wrong, self.fix = wrong, fix
        super().__init__(wrong if fix is None else in_two(wrong, fix))

    def __reduce__(self) -> tuple[Any, ...]:
        return (type(self), (self.wrong, self.fix))


class UsageError(SaidError):
    """The command line asks for something that is not there."""

    exit_code = 2


class ShapeError(RimfoldError):
    """An outline was asked for something that it cannot do. Judged before a person sees it."""


class CuttingError(RimfoldError):
    """A piece does not come out of the cloth, roll or reel that it is to be cut from."""

    exit_code = 2

    def __init__(self, wrong: Message, expected: Message) -> None:
        self.wrong, self.expected = wrong, expected
        super().__init__(message("{wrong}; expected {expected}", wrong=wrong, expected=expected))

    def __reduce__(self) -> tuple[type[CuttingError], tuple[Message, Message]]:
        return (CuttingError, (self.wrong, self.expected))


class FigureError(SaidError):
    """A figure has no room for what it must show."""


class WordingError(RimfoldError):
    """A sentence is missing from the wording catalogues, or lacks a value."""


class PressError(SaidError):
    """The document engine warned or failed."""


class NoRoomError(PressError):
    """A document does not fit on as much paper as it may take."""


class NoRoomForRecipeError(RecipeError, NoRoomError):
    """The same where a recipe asks for what has no room, and could ask for something else: it has a place."""


class ProofError(RimfoldError):
    """A finished page does not pass its proof, and is not published. Its first twenty faults are told."""

    def __init__(self, faults: Iterable[PageFault]) -> None:
        self.faults: tuple[PageFault, ...] = tuple(faults)
        super().__init__("\n".join(self.lines))

    @property
    def lines(self) -> tuple[str, ...]:
        """A line for each fault, and how many more there are."""
        rest = len(self.faults) - PAGE_FAULT_LIMIT
        more = [message("and {rest} more", rest=rest)] if rest > 0 else []
        return (*(fault.line for fault in self.faults[:PAGE_FAULT_LIMIT]), *more)

    def __reduce__(self) -> tuple[type[ProofError], tuple[tuple[PageFault, ...]]]:
        return (ProofError, (self.faults,))

    def in_file(self, name: str) -> ProofError:
        """The same, each fault with the name of the document."""
        return ProofError(replace(fault, file=name) for fault in self.faults)


class WriteError(SaidError):
    """A file could not be put in its place."""


class HandsError(WriteError):
    """Whoever did the work is no longer there: nothing more can be made."""
