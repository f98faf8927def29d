"""Every bad recipe names its own faults; exactly these come out, in their order and at their places."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.base.errors import RecipeError
from tests.recipe.expected import differences, expected_faults
from tests.recipe.reading import BAD, ROOT, read_file


def test_there_are_many_bad_recipes() -> None:
    assert len(BAD) >= 30


@pytest.mark.parametrize("path", BAD, ids=lambda path: path.stem)
def test_exactly_the_announced_faults_come_out(path: Path) -> None:
    expected = expected_faults(path)
    assert expected
    with pytest.raises(RecipeError) as caught:
        read_file(path)
    assert differences(expected, caught.value.faults) == []


@pytest.mark.parametrize("path", BAD, ids=lambda path: path.stem)
def test_every_fault_says_place_mistake_expectation_and_remedy_in_one_line(path: Path) -> None:
    with pytest.raises(RecipeError) as caught:
        read_file(path)
    for fault in caught.value.faults:
        text = str(fault)
        assert text.startswith(f"{path}:{fault.span.line}:{fault.span.column}: ")
        assert "\n" not in text
        assert fault.wrong.strip()
        assert fault.expected.strip()
        assert fault.fix.strip()
        for technical in ("Traceback", "pydantic", "yaml.", "NoneType", "dict", "scalar", "mapping"):
            assert technical not in f"{fault.wrong} {fault.expected} {fault.fix}"


def test_the_cutter_in_a_childs_hand_is_refused() -> None:
    path = ROOT / "tests" / "recipe" / "refused" / "pebble-15.yaml"
    with pytest.raises(RecipeError) as caught:
        read_file(path)
    assert differences(expected_faults(path), caught.value.faults) == []
    assert caught.value.exit_code == 2


@pytest.mark.parametrize("name", ["skiff-oval", "gull-square"])
def test_a_shade_that_only_geometry_refuses_reads_clean(name: str) -> None:
    recipe = read_file(ROOT / "tests" / "recipe" / "refused" / f"{name}.yaml")
    assert len(recipe.sizes) == 1
    assert recipe.warnings == ()
