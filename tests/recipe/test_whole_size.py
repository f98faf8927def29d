"""A size is put together from parts that were read, and is what its model would make of them."""

from __future__ import annotations

from pathlib import Path

import pytest

from generator.measured import outlines
from generator.recipe.models import SizeRecipe
from generator.recipe.read import read_recipe

SAMPLES = sorted((Path(__file__).parents[2] / "recipes").glob("*.yaml"))


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_a_size_as_it_is_put_together_is_what_its_model_reads(path: Path) -> None:
    for size in read_recipe(path, outlines()).sizes:
        held = {name: getattr(size, name) for name in SizeRecipe.model_fields}
        again = SizeRecipe(**held)
        for name, value in held.items():
            read = getattr(again, name)
            assert (read, type(read)) == (value, type(value)), name
        assert {type(value) for value in size.dimensions.values()} == {float}
        assert set(size.model_fields_set) <= set(SizeRecipe.model_fields)
