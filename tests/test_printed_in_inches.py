"""Printed in inches, documents pass the proof; a metric length stands in brackets behind its inches."""

from __future__ import annotations

import re

import pypdfium2
import pytest

from generator.base.assets import data_folder
from generator.base.edition import Edition, Form, Units, Voice
from generator.examine import examine
from generator.pipeline import gather, illustrate, print_document

METRIC = re.compile(r"[^.;]*?\b\d[\d.]* (?:mm|cm|m)\b")
BY_THE_MILLIMETRE = ("thickness", "Thickness")
"""Wire, sheets and tape are traded by their thickness in millimetres."""


def pages(pdf: bytes) -> list[str]:
    """The words of each page on one line, without what stands in brackets."""
    document = pypdfium2.PdfDocument(pdf)
    texts = (" ".join(page.get_textpage().get_text_range().split()) for page in document)
    return [re.sub(r"\([^()]*\)", "", text) for text in texts]


def metric_alone(pdf: bytes) -> list[str]:
    found = [match[0] for text in pages(pdf) for match in METRIC.finditer(text)]
    return [text for text in found if not any(word in text for word in BY_THE_MILLIMETRE)]


@pytest.mark.parametrize("units", ["inch", "both"])
def test_a_class_pack_tells_room_purchases_and_rolls_in_inches(units: Units) -> None:
    known = examine(data_folder("recipes") / "pier-drum.yaml")
    pdf = print_document("class-pack", gather(known.works, Edition(Voice("en", units)), known.roster)).pdf
    if units == "inch":
        assert metric_alone(pdf) == []
    said = " ".join(" ".join(pages(pdf)).split())
    # Tables of 2000 and 800 mm: 78.74 and 31.50 in. Rolls of 10 m: 32.81 ft. A drawing has one unit alone.
    assert ("78¾″" in said) is (units == "inch")
    assert ("31½″" in said) is (units == "inch")
    assert ("32¾ ft" in said) is (units == "inch")


@pytest.mark.parametrize("size", ["large", "larger"])
def test_a_step_sheet_on_letter_in_large_print_and_in_inches_passes_its_proof(size: str) -> None:
    work = examine(data_folder("recipes") / "pier-drum.yaml").work("35")
    assert work is not None
    form = Form("Letter", "large" if size == "large" else "larger", stated=True)
    pdf = print_document("step-sheet", illustrate(work, Edition(Voice("en", "inch"), form))).pdf
    assert metric_alone(pdf) == []
