"""The proof: a finished file is read back and must pass every check before it is published."""

from __future__ import annotations

import io
from collections.abc import Callable, Iterator
from importlib import import_module
from typing import Any

import pikepdf

from generator.base.errors import ProofError
from generator.base.registry import kinds
from generator.press.reading import sheets
from generator.press.wish import Wish

_CHECKS = "generator.press.checks"
_MOST_FAULTS = 20
"""A page that went wrong goes wrong in many places: nobody reads more than these."""


def prove(pdf: bytes, wish: Wish | None = None) -> None:
    """Check a finished file against ``wish``.

    Raises ProofError, which names the page and the words of every fault.
    """
    refuse_if_any(list(faults(pdf, wish or Wish())))


def faults(pdf: bytes, wish: Wish) -> Iterator[str]:
    """Every fault of a finished file, in plain words, page by page after those of the whole file.

    Raises ProofError if the file cannot be read at all.
    """
    try:
        with pikepdf.open(io.BytesIO(pdf)) as file:
            for find_in_file in _checks("find_in_file"):
                yield from dict.fromkeys(find_in_file(file, wish))
    except pikepdf.PdfError as error:
        raise ProofError(f"the finished file cannot be read: {error}") from error
    for sheet in sheets(pdf):
        for find in _checks("find"):
            yield from (f"page {sheet.number}: {fault}" for fault in find(sheet, wish))


def faults_in_layout(document: Any) -> Iterator[str]:
    """Every fault that shows in the engine's boxes before they are printed."""
    for find_in_layout in _checks("find_in_layout"):
        yield from find_in_layout(document)


def refuse_if_any(found: list[str]) -> None:
    """Raise ProofError if there is a fault."""
    if found:
        rest = len(found) - _MOST_FAULTS
        more = [f"and {rest} more"] if rest > 0 else []
        raise ProofError("the page fails its proof: " + "; ".join([*found[:_MOST_FAULTS], *more]))


def _checks(name: str) -> Iterator[Callable[..., Iterator[str]]]:
    """Every check with a function of that name, found by its file."""
    for path in kinds(_CHECKS).values():
        check = getattr(import_module(path), name, None)
        if check is not None:
            yield check
