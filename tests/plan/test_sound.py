"""Of our own techniques measures are told without a plan: that plan would have no fault to tell."""

from __future__ import annotations

import json
import shutil
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from generator.base.edition import ENGLISH
from generator.base.errors import GeometryError, RimfoldError
from generator.examine import examine
from generator.measured import measured
from generator.measures.build import measure
from generator.measures.measure import Measures
from generator.plan import sound
from generator.plan.build import contradictions, load_technique, plan, plan_for
from generator.plan.facts import domain
from generator.recipe.models import SizeRecipe
from generator.shape.build import build_shade
from generator.sheets.spoken import unspoken
from generator.sheets.wording import load_words
from tests.figures.test_laws import sizes
from tests.plan.samples import ROUND_350
from tests.plan.sound import told

ROOT = Path(__file__).parents[2]
SAMPLES = sorted((ROOT / "recipes").glob("*.yaml"))
OURS = [path.stem for path in sorted(sound.folder().glob("*.yaml"))]


def test_the_list_of_sound_techniques_is_that_of_today() -> None:
    kept = json.loads((sound.folder() / sound.FILE).read_text(encoding="utf-8"))
    assert kept == told(), "look at what changed, then: python -m tests.plan.sound"
    assert OURS == ["rolled-edge", "trimmed-edge"]


@settings(max_examples=60, deadline=None)
@given(data=st.data(), name=st.sampled_from(OURS))
def test_whatever_a_recipe_says_that_meets_what_they_ask_their_plan_holds_and_has_its_words(
    data: st.DataObject, name: str
) -> None:
    technique = load_technique(name)
    facts: dict[str, Any] = {
        key: data.draw(st.sampled_from(values), label=key) for key, values in domain().items()
    }
    if technique.contradictions(facts):
        return
    planned = plan_for(technique, facts, ROUND_350)
    words = load_words(ENGLISH).bound(planned, Measures({}))
    # The values of a shade are not there: they are asked of shades, below.
    assert [fault for fault in unspoken(planned, words) if "needs a value" not in fault.wrong] == []


@settings(max_examples=40, deadline=None)
@given(sizes())
def test_whatever_the_shade_its_measures_are_all_that_the_words_of_its_plan_need(size: SizeRecipe) -> None:
    try:
        measures = measure(size, build_shade(size))
    except GeometryError:
        return
    technique = load_technique(size.technique)
    if contradictions(size, measures, technique):
        return
    planned = plan(size, measures, technique)
    assert unspoken(planned, load_words(ENGLISH).bound(planned, measures)) == ()


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_measures_and_warnings_of_a_sample_are_those_of_the_plan_too(path: Path) -> None:
    alone, whole = measured(path), examine(path)
    assert (alone is None) == bool(whole.recipe.kits or whole.recipe.taught)
    if alone is not None:
        assert [(work.size, dict(work.measures)) for work in alone.works] == [
            (work.size, dict(work.measures)) for work in whole.works
        ]
        assert alone.warnings == whole.warnings


@pytest.mark.parametrize(
    "change",
    [
        ("technique: rolled-edge", "technique: trimmed-edge"),
        ("diameter: 60 mm", "diameter: 190 mm"),
        ("sizes:", "panel: {margin: 0 mm}\nsizes:"),
        ("height: 220 mm", "height: 3 mm"),
        ("sizes:", "covering: {width: 20 cm}\nsizes:"),
        ("technique: rolled-edge", "technique: no-such-edge"),
        ("sizes:", "times: no-such-times\nsizes:"),
    ],
)
def test_what_is_wrong_with_a_recipe_is_told_alike(change: tuple[str, str], tmp_path: Path) -> None:
    text = (
        "rimfold: 1\ntitle: Quay drum\noutline: circle\ntechnique: rolled-edge\n"
        "lamp: {diameter: 60 mm, kind: LED, watts: 6}\nsizes: {20: {diameter: 200 mm, height: 220 mm}}\n"
    )
    recipe = tmp_path / "quay.yaml"
    assert change[0] in text
    recipe.write_text(text.replace(*change), encoding="utf-8")

    def faults(look: Any) -> str:
        try:
            look(recipe)
        except RimfoldError as error:
            return f"{type(error).__name__} {error}"
        return ""

    found = faults(examine)
    assert found
    assert faults(lambda path: measured(path) or examine(path)) == found


def test_a_changed_technique_or_sentence_is_judged_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shutil.copytree(ROOT / "recipes", tmp_path / "recipes")
    english = tmp_path / "templates" / "wording" / "en"
    shutil.copytree(ROOT / "templates" / "wording" / "en", english)
    monkeypatch.setattr(sound, "data_folder", lambda name: tmp_path / name)
    assert sound.asks_of("rolled-edge", "") is not None
    assert sound.asks_of("rolled-edge", "none") is not None
    assert sound.asks_of("rolled-edge", "gannetry-steps") is None
    assert sound.asks_of("./own.yaml", "") is None
    way = tmp_path / "recipes" / "techniques" / "rolled-edge.yaml"
    before = way.read_bytes()
    way.write_bytes(before + b"# longer\n")
    assert sound.asks_of("rolled-edge", "") is None
    way.write_bytes(before)
    times = tmp_path / "recipes" / "times" / "rolled-edge.yaml"
    times.write_text("times: 1\n", encoding="utf-8")
    assert sound.asks_of("rolled-edge", "") is None
    assert sound.asks_of("rolled-edge", "none") is not None
    times.unlink()
    (english / "own.po").write_text('msgid ""\nmsgstr ""\n', encoding="utf-8")
    assert sound.asks_of("rolled-edge", "") is None


@pytest.mark.parametrize("broken", ["", "[]", "{}", '{"techniques": {"rolled-edge": 3}}', "\x00"])
def test_a_list_that_cannot_be_read_says_nothing_is_sound(
    broken: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shutil.copytree(ROOT / "recipes", tmp_path / "recipes")
    (tmp_path / "recipes" / "techniques" / sound.FILE).write_text(broken, encoding="utf-8")
    monkeypatch.setattr(sound, "data_folder", lambda name: tmp_path / name)
    assert sound.asks_of("rolled-edge", "") is None
