"""The proof: a finished file is read back and must pass every rule before it is published."""

from __future__ import annotations

import io
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from importlib import import_module
from types import ModuleType
from typing import Any

import pikepdf
import pypdfium2

from generator.base.errors import PageFault, ProofError
from generator.base.message import Message, message
from generator.base.registry import kinds
from generator.press.advice import REPORT
from generator.press.geometry import MM_PER_POINT
from generator.press.reading import not_read, sheets
from generator.press.wish import Wish

_CHECKS = "generator.press.checks"


@dataclass(frozen=True, slots=True)
class Proof:
    """What the proof of a file came to."""

    pages: int
    faults: tuple[PageFault, ...]
    rules: tuple[str, ...]
    """Names of the rules that were asked."""
    left_out: dict[str, Message]
    """Those that were not, each with the reason."""
    creator: str = ""
    """The program that the file says it comes from."""


def prove(pdf: bytes, wish: Wish | None = None) -> None:
    """Check a finished file against ``wish``.

    Raises ProofError, which names the page, the place and the words of every fault.
    """
    refuse_if_any(faults(pdf, wish or Wish()))


_ROOM = frozenset(("broken", "clipped", "hidden", "margin", "overflow", "overprint"))
"""Rules that pages break where something has too little room."""


def lacks_room(error: ProofError) -> bool:
    """Whether nothing is wrong with these pages but that there is too little room on them."""
    return all(fault.rule in _ROOM for fault in error.faults)


MOST_PAGES = 1000
"""Pages of a file that is proved by itself. The largest of our own has some fifty."""


def unreadable(pdf: bytes) -> Message | None:
    """Why a file that anybody may have made cannot be proved, as the end of a sentence; None if it can."""
    if not pdf.strip():
        return message("is empty")
    if b"%PDF-" not in pdf[:1024]:
        return message("is no PDF")
    try:
        with pikepdf.open(io.BytesIO(pdf)) as file:
            if file.is_encrypted:
                return message("is encrypted, and cannot be read whole")
            pages = len(file.pages)
        document = pypdfium2.PdfDocument(pdf)
        document.close()
    except pikepdf.PasswordError:
        return message("is encrypted, and cannot be read")
    except (pikepdf.PdfError, pypdfium2.PdfiumError, RuntimeError):
        return message("is damaged: it begins as a PDF, but cannot be read as one")
    if not pages:
        return message("has no page")
    if pages <= MOST_PAGES:
        return None
    return message("has {pages} pages, and up to {most} are proved", pages=pages, most=MOST_PAGES)


def language_of(pdf: bytes) -> str:
    """The language that a file says it is in; nothing if it says none."""
    with pikepdf.open(io.BytesIO(pdf)) as file:
        return str(file.Root.get("/Lang", ""))


def sheet_of(pdf: bytes) -> tuple[float, float]:
    """Width and height of the first page of a file, mm."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        wide, high = document[0].get_size()
        return wide * MM_PER_POINT, high * MM_PER_POINT
    finally:
        document.close()


def prove_alone(pdf: bytes, wish: Wish) -> Proof:
    """Ask every rule that can be asked of a file by itself. Raises ProofError if it cannot be read at all."""
    reasons = {name: _reason(module, wish) for name, module in _rules().items()}
    with pikepdf.open(io.BytesIO(pdf)) as file:
        pages, creator = len(file.pages), str(file.docinfo.get("/Creator", ""))
    return Proof(
        pages,
        tuple(faults(pdf, wish)),
        tuple(name for name, reason in reasons.items() if reason is None),
        {name: reason for name, reason in reasons.items() if reason is not None},
        creator,
    )


def faults(pdf: bytes, wish: Wish) -> Iterator[PageFault]:
    """Every fault of a finished file, page by page after those of the whole file.

    Raises ProofError if the file cannot be read at all.
    """
    try:
        with pikepdf.open(io.BytesIO(pdf)) as file:
            for rule, find_in_file in _checks("find_in_file", wish):
                for fault in dict.fromkeys(find_in_file(file, wish)):
                    yield replace(fault, rule=rule)
    except pikepdf.PdfError as error:
        raise ProofError([PageFault(not_read(error), REPORT)]) from error
    for sheet in sheets(pdf):
        for rule, find in _checks("find", wish):
            for fault in find(sheet, wish):
                yield replace(fault, rule=rule)


def faults_in_layout(document: Any) -> Iterator[PageFault]:
    """Every fault that shows in the engine's boxes before they are printed."""
    for rule, find_in_layout in _checks("find_in_layout", Wish()):
        for fault in find_in_layout(document):
            yield replace(fault, rule=rule)


def refuse_if_any(found: Iterable[PageFault]) -> None:
    """Raise ProofError if there is a fault."""
    told = list(found)
    if told:
        raise ProofError(told)


def _rules() -> dict[str, ModuleType]:
    """Every rule by its name, found by its file."""
    return {name: import_module(path) for name, path in kinds(_CHECKS).items()}


def _reason(rule: ModuleType, wish: Wish) -> Message | None:
    """Why a rule is not asked of a finished file; None if it is."""
    if wish.print_sheets and not getattr(rule, "ON_PRINT_SHEETS", True):
        return message("it is for the file to read")
    if not hasattr(rule, "find") and not hasattr(rule, "find_in_file"):
        return message(
            "it is asked of a page before it is written: the boxes of its texts are not in the file"
        )
    needs: Callable[[Wish], Message | None] = getattr(rule, "needs", lambda wish: None)
    return needs(wish)


def _checks(name: str, wish: Wish) -> Iterator[tuple[str, Callable[..., Iterator[PageFault]]]]:
    """The functions of that name of all rules that hold here, each with its rule's name."""
    for rule, module in _rules().items():
        check = getattr(module, name, None)
        if check is not None and (getattr(module, "ON_PRINT_SHEETS", True) or not wish.print_sheets):
            yield rule, check
