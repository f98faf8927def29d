"""What is written for one size: each step's figure and card, nothing old, nothing if a document fails."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from xml.etree import ElementTree

import pytest

from generator.base.assets import data_folder
from generator.base.errors import RimfoldError
from generator.build import document_kinds, make
from generator.examine import examine
from generator.plan.work import Work
from generator.record.verify import verify


@cache
def work() -> Work:
    return examine(data_folder("recipes") / "bell-hex.yaml").works[0]


def test_each_step_has_a_figure_and_a_card_and_old_ones_go(tmp_path: Path) -> None:
    folder = tmp_path / "bell-hex" / "28"
    for place in ("figures", "cards"):
        (folder / place).mkdir(parents=True)
        (folder / place / "31-of-an-earlier-plan.en.svg").write_text("old", encoding="utf-8")
        (folder / place / "my-own.svg").write_text("kept", encoding="utf-8")
    made = make(work(), (), tmp_path)
    names = {f"{step.number:02d}-{step.id}.en.svg" for step in work().plan.steps}
    assert made.steps == len(names)
    for written in (made.figures, made.cards):
        assert {path.name for path in written.iterdir()} == names | {"my-own.svg"}
        for name in names:
            assert ElementTree.parse(written / name).getroot().get("data-step") == str(int(name[:2]))


def test_nothing_is_written_where_a_document_cannot_be_made(tmp_path: Path) -> None:
    with pytest.raises(RimfoldError):
        make(work(), ("no-such-document",), tmp_path)
    assert list(tmp_path.iterdir()) == []


def test_the_text_edition_is_a_page_of_the_web_and_a_plain_text_and_both_are_in_the_manifest(
    tmp_path: Path,
) -> None:
    made = make(work(), ("steps-text",), tmp_path)
    folder = tmp_path / "bell-hex" / "28"
    html, text = folder / "steps-text.en.html", folder / "steps-text.en.txt"
    assert made.texts == (html, text)
    assert made.documents == ()
    assert made.listed == (str(html), str(text))
    assert list(folder.glob("*.pdf")) == []
    title = ElementTree.fromstring(html.read_text(encoding="utf-8")).findtext("body/header/h1")
    assert title == "Bell hexagon 28"
    assert f"\n{title}\n{'=' * len(title)}\n" in text.read_text(encoding="utf-8")
    (found,) = verify(tmp_path)
    assert found.good


def test_the_text_edition_is_made_only_if_it_is_asked_for() -> None:
    assert "steps-text" not in document_kinds(())
    assert document_kinds(("steps-text",)) == ("steps-text",)
