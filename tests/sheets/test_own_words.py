"""A tutor's copy of a technique: kept tasks keep their words, new and changed ones bring their own."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.base.assets import data_folder
from generator.base.edition import ORDINARY
from generator.base.errors import RimfoldError, TechniqueError
from generator.examine import examine
from generator.pipeline import illustrate
from generator.plan.work import Work
from generator.sheets.compose import compose
from tests.sheets.subjects import Texts, subject_of

ROLLED = data_folder("recipes") / "techniques" / "rolled-edge.yaml"
RECIPE = """rimfold: 1
title: Own way
technique: ./my-way.yaml
outline: circle
lamp: {diameter: 60 mm, kind: LED, watts: 5}
sizes: {25: {diameter: 250 mm, height: 180 mm}}
"""
DUST = """
  - id: dust
    stage: finish
    needs: [hidden plain margin, hidden fitter margin]
    gives: [clean shade]
    minutes: {first_time: "2", practised: "1"}
    tools: [soft-brush]
    figure: inspect
    place: bench
    mend_until: any-time
    words:
      title: Dust the shade
      do: [Brush the cloth from top to bottom., Look at it by daylight.]
      check: No fluff shows within {motif_clear} of a rim.
      mistake: Fluff left
      rescue: brush it again
      see: Fluff on the cloth
"""
BRUSH = 'words: {tool.soft-brush: soft brush, layout.soft-brush: "Soft brush, clean"}\n'


def own_way(tmp_path: Path, *changes: tuple[str, str], more: str = "") -> Work:
    text = ROLLED.read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new, 1)
    (tmp_path / "my-way.yaml").write_text(text + more, encoding="utf-8")
    (tmp_path / "shade.yaml").write_text(RECIPE, encoding="utf-8")
    return examine(tmp_path / "shade.yaml").works[0]


WITH_DUST = (
    ("  - tucking-tool\n", "  - tucking-tool\n  - soft-brush\n"),
    ("    needs:\n      - hidden plain margin\n      - hidden fitter margin\n",
     "    needs:\n      - clean shade\n      - hidden plain margin\n      - hidden fitter margin\n"),
    ("technique: 1\n", f"technique: 1\n{BRUSH}"),
)  # fmt: skip


def test_a_copy_prints_with_the_words_of_the_tasks_that_it_kept(tmp_path: Path) -> None:
    work = own_way(
        tmp_path, ('minutes: {first_time: "3", practised: "1"}', 'minutes: {first_time: "7", practised: "1"}')
    )
    assert work.plan.technique == "my-way"
    assert work.plan.steps[0].minutes.first_time == 7
    page = Texts(compose("step-sheet", subject_of(work)).html).text
    assert "Dock the rings" in page
    assert "Set both seam marks exactly on the start edge." in page


def test_a_new_task_prints_with_the_words_that_stand_in_the_technique(tmp_path: Path) -> None:
    work = own_way(tmp_path, *WITH_DUST, more=DUST)
    assert [step.id for step in work.plan.steps][-2:] == ["dust", "inspect"]
    page = Texts(compose("step-sheet", subject_of(work)).html).text
    assert "Dust the shade" in page
    assert "Brush the cloth from top to bottom." in page
    assert "No fluff shows within 10 mm of a rim." in page
    assert "Soft brush, clean" in page


def test_changed_words_take_the_place_of_all_of_the_catalogues_words(tmp_path: Path) -> None:
    work = own_way(
        tmp_path,
        ("  - id: dock\n", "  - id: dock\n    words: {do: [Set the marks down., Press.], title: Set down}\n"),
    )
    page = Texts(compose("step-sheet", subject_of(work)).html).text
    assert "Set down" in page
    assert "Set the marks down." in page
    assert "Dock the rings" not in page
    assert "Stand each wire on the PVC" not in page
    assert "Both seam marks are flush with the start edge." in page


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ("motif_clear", "motif_claer", r"my-way.yaml:\d+:\d+: .*\{motif_claer\}"),
        ("    words:\n      title: Dust the shade\n", "    words:\n", "no sentence “rolled-edge.dust.title”"),
        ("title: Dust the shade", "titel: Dust the shade", "did you mean title"),
        ("Fluff left", "3 bits left", "a number stands in the words"),
        ("mistake: Fluff left", "mistake@hme: Fluff left", "no condition “hme”.*did you mean “hem”"),
        ("figure: inspect", "figure: inspct", "did you mean inspect"),
        (", Look at it by daylight.", "", "fewer than 2 instructions"),
    ],
)
def test_words_that_are_missing_or_wrong_are_told_before_anything_is_drawn(
    old: str, new: str, said: str, tmp_path: Path
) -> None:
    with pytest.raises(TechniqueError, match=said):
        own_way(tmp_path, *WITH_DUST, more=DUST.replace(old, new))


def test_a_copy_that_gives_up_its_words_is_told_which_line_to_keep(tmp_path: Path) -> None:
    with pytest.raises(TechniqueError, match="keep the line wording:"):
        own_way(tmp_path, ("wording: rolled-edge\n", ""))


def test_a_changed_technique_changes_the_edition(tmp_path: Path) -> None:
    first = illustrate(own_way(tmp_path), ORDINARY).digest(kits=False)
    second = illustrate(own_way(tmp_path, ("# finish\n", "# the end\n")), ORDINARY).digest(kits=False)
    assert first != second


def test_faults_of_a_technique_are_an_error_of_input() -> None:
    assert issubclass(TechniqueError, RimfoldError)
    assert TechniqueError.exit_code == 2
