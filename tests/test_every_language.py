"""Every document in every shipped language: it is printed, passes its proof, and is free of English."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from functools import cache

import page as checker
import pikepdf
import pypdfium2
import pytest

from generator.base.assets import data_folder, languages
from generator.base.edition import ENGLISH, Edition, Voice
from generator.examine import Examined, examine
from generator.fitting import trace
from generator.pipeline import Drawn, gather, illustrate, outline_of, print_document, sketch
from generator.sheets.document import document_kind, document_kinds

OTHERS = tuple(code for code in languages() if code != ENGLISH.language)
SIZE = "35"
ENGLISH_WORDS = frozenset(("the", "with", "from", "and", "cloth", "seam", "steps", "without", "each"))
"""Common in English, and no words of the other languages."""


@cache
def drum() -> Examined:
    """The one sample that has everything: kits, a class, several sizes."""
    return examine(data_folder("recipes") / "pier-drum.yaml")


@cache
def drawn(language: str, how: str) -> Drawn:
    edition, work = Edition(Voice(language)), drum().work(SIZE)
    assert work is not None
    if how == "recipe":
        return gather(drum().works, edition)
    if how == "class":
        return gather(drum().works, edition, drum().roster)
    return {"glance": sketch, "full": trace, "steps": illustrate}[how](work, edition)


def subject(language: str, kind: str) -> Drawn:
    known = document_kind(kind)
    if known.of_class:
        return drawn(language, "class")
    if known.scope == "recipe":
        return drawn(language, "recipe")
    if not known.steps and not known.full_scale:
        work = drum().work(SIZE)
        assert work is not None
        return outline_of(work, kind, Edition(Voice(language)))
    return drawn(language, "glance" if known.glance else "full" if known.full_scale else "steps")


def of_recipe() -> set[str]:
    """Words that the recipe's own texts hold, in whatever language it is written."""
    size = drum().works[0].size
    texts = [size.title, size.covering.name, *(size.kits.cautions if size.kits else ())]
    texts += [text for text in vars(size.maker).values() if isinstance(text, str)] if size.maker else []
    return {word.lower() for text in texts for word in re.findall(r"[A-Za-z]+", text)}


def tables(file: pikepdf.Pdf) -> Iterator[tuple[str, int, int]]:
    """Of each table the page, and how many of its cells are heads, and how many are not.

    One with more heads than cells is what outloud 0.2.1 calls shredded (TBL-010).
    """
    for item in file.objects:
        if isinstance(item, pikepdf.Dictionary) and item.get("/S") == "/Table":
            kinds = [str(cell.S) for cell in below(item)]
            yield str(item.Pg.objgen), kinds.count("/TH"), kinds.count("/TD")


def below(element: pikepdf.Dictionary) -> Iterator[pikepdf.Dictionary]:
    inside = element.get("/K")
    kids = list(inside) if isinstance(inside, pikepdf.Array) else [inside]
    for kid in kids:
        if isinstance(kid, pikepdf.Dictionary) and "/S" in kid:
            yield kid
            yield from below(kid)


PRINTED = sorted(name for name, kind in document_kinds().items() if kind.press)


@pytest.mark.parametrize("kind", PRINTED)
@pytest.mark.parametrize("language", OTHERS)
def test_a_document_is_printed_in_a_language(language: str, kind: str) -> None:
    """page-validation 0.11.0, profile ``ua1``: machine checks of PDF/UA-1; a person still reads the order."""
    pressed = print_document(kind, subject(language, kind))
    report = checker.validate_pdf_bytes(pressed.pdf, profile="ua1")
    assert [(failure.rule_id, failure.message) for failure in report.failures] == []
    with pikepdf.open(io.BytesIO(pressed.pdf)) as file:
        assert str(file.Root.Lang) == language
        assert [name for name, heads, cells in tables(file) if heads > cells > 0 and heads + cells > 5] == []
    document = pypdfium2.PdfDocument(pressed.pdf)
    text = " ".join(page.get_textpage().get_text_range() for page in document)
    found = {word.lower() for word in re.findall(r"[A-Za-z]+", text)}
    assert found & ENGLISH_WORDS - of_recipe() == set()
