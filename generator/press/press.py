"""The room's one way through: HTML and figures in, a proved PDF out."""

from __future__ import annotations

import io
from collections.abc import Mapping
from dataclasses import dataclass

import pikepdf

from generator.base.collecting import collected_later
from generator.press import engine, proof
from generator.press.gang import gang
from generator.press.imposition import impose
from generator.press.layout import lay_out
from generator.press.wish import Wish


@dataclass(frozen=True, slots=True)
class Pressed:
    """A document that passed its proof."""

    pdf: bytes
    pages: int


def press(html: str, figures: Mapping[str, str] | None = None, wish: Wish | None = None) -> Pressed:
    """Lay out, print and prove one document.

    ``figures`` holds SVG texts by id; ``<img src="figure:dock" alt="…">`` shows the one named ``dock``.
    Raises PressError if the engine complains, ProofError if a page fails its proof.
    """
    shown = dict(figures or {})
    with collected_later():
        document = lay_out(html, shown)
        found = list(proof.faults_in_layout(document))
        asked = wish or Wish()
        pdf = engine.write(document, html, shown, unscaled=asked.bar is not None)
        found.extend(proof.faults(pdf, asked))
    proof.refuse_if_any(found)
    return Pressed(pdf, len(document.pages))


def print_file(document: Pressed, scheme: str, paper: str = "A4") -> Pressed:
    """The file for a printer of a document that passed its proof: its pages as they are, on sheets to fold.

    Raises UsageError for an unknown fold, PressError for pages that it does not take.
    """
    sheets = impose(document.pdf, scheme, paper=paper)
    with pikepdf.open(io.BytesIO(sheets)) as file:
        return Pressed(sheets, len(file.pages))


def label_sheets(label: Pressed, count: int, paper: str = "A4") -> Pressed:
    """As many of a label that passed its proof as there are boxes, on sheets to cut.

    Raises PressError for a label that no sheet holds.
    """
    sheets = gang(label.pdf, count, paper)
    with pikepdf.open(io.BytesIO(sheets)) as file:
        return Pressed(sheets, len(file.pages))
