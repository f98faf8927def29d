"""What is written for one size: each step's figure and card, nothing old, nothing if a document fails."""

from __future__ import annotations

from functools import cache
from pathlib import Path
from xml.etree import ElementTree

import pytest

from generator.base.assets import data_folder
from generator.base.errors import RimfoldError
from generator.build import make
from generator.examine import examine
from generator.plan.work import Work


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
