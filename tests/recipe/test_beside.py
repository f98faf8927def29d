"""Files that a recipe names: a technique, a form of times."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.base.errors import Fault, RecipeError
from generator.base.message import message
from generator.base.spans import Span
from generator.recipe.beside import find_file
from generator.recipe.read import read_recipe
from generator.shape.build import outline_keys

HERE = Span("shade.yaml", 3, 12)
RECIPE = """rimfold: 1
title: Test
technique: {}
outline: circle
lamp: {{diameter: 60 mm, kind: LED, watts: 5}}
sizes: {{25: {{diameter: 250 mm, height: 180 mm}}}}
"""


def written(tmp_path: Path, technique: str) -> Path:
    path = tmp_path / "shade.yaml"
    path.write_text(RECIPE.format(technique), encoding="utf-8")
    return path


@pytest.mark.parametrize("technique", ["rolled-edge", "./my-way.yaml", "./ways/my-way.yaml"])
def test_a_technique_is_a_name_or_a_path_beside_the_recipe(technique: str, tmp_path: Path) -> None:
    recipe = read_recipe(written(tmp_path, technique), outline_keys())
    assert [size.technique for size in recipe.sizes] == [technique]
    assert recipe.sizes[0].span("technique") == Span(str(tmp_path / "shade.yaml"), 3, 12)


@pytest.mark.parametrize(
    ("technique", "said"),
    [
        ("/etc/my-way.yaml", "is not beside the recipe"),
        ("C:/my-way.yaml", "is not beside the recipe"),
        ("../my-way.yaml", "leaves the recipe's folder"),
        ("./ways/../../my-way.yaml", "leaves the recipe's folder"),
        ("./.hidden.yaml", "is no name of a technique"),
        ("my-way.yaml", "write ./my-way.yaml"),
        ("./my-way.txt", "is no name of a technique"),
    ],
)
def test_a_path_out_of_the_recipes_folder_is_refused_at_its_place(
    technique: str, said: str, tmp_path: Path
) -> None:
    with pytest.raises(RecipeError, match=said) as caught:
        read_recipe(written(tmp_path, technique), outline_keys())
    assert [(fault.span.line, fault.span.column) for fault in caught.value.faults] == [(3, 12)]


def test_a_file_that_is_not_there_is_told_with_the_closest_one_beside_the_recipe(tmp_path: Path) -> None:
    (tmp_path / "my-way.yaml").touch()
    found = find_file("./my-wya.yaml", "techniques", message("technique"), tmp_path, HERE)
    assert isinstance(found, Fault)
    assert found.span == HERE
    assert "did you mean ./my-way.yaml?" in str(found)


def test_an_unknown_name_is_told_with_the_closest_known(tmp_path: Path) -> None:
    found = find_file("rolled-egde", "techniques", message("technique"), tmp_path, HERE)
    assert isinstance(found, Fault)
    assert "did you mean rolled-edge?" in str(found)


def test_a_link_that_leads_out_of_the_folder_is_refused(tmp_path: Path) -> None:
    inside = tmp_path / "inside"
    inside.mkdir()
    (tmp_path / "way.yaml").touch()
    (inside / "way.yaml").symlink_to(tmp_path / "way.yaml")
    found = find_file("./way.yaml", "techniques", message("technique"), inside, HERE)
    assert isinstance(found, Fault)
    assert "leads out of the recipe's folder" in found.wrong


def test_a_file_below_the_recipes_folder_is_found(tmp_path: Path) -> None:
    (tmp_path / "ways").mkdir()
    (tmp_path / "ways" / "way.yaml").touch()
    found = find_file("./ways/way.yaml", "techniques", message("technique"), tmp_path, HERE)
    assert found == tmp_path / "ways/way.yaml"
