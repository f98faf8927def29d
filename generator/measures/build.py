"""From a recipe and its shade to measures, group after group in the order in which a maker meets them."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from generator.measures.bench import bench_measures
from generator.measures.braid import braid_measures
from generator.measures.cloth import cloth_measures
from generator.measures.inches import closed
from generator.measures.lamp import lamp_measures
from generator.measures.measure import Measure, Measures
from generator.measures.outline import outline_measures
from generator.measures.panel import panel_measures
from generator.measures.pattern import pattern_measures
from generator.measures.practice import practice_measures
from generator.measures.stations import station_measures
from generator.measures.tape import tape_measures
from generator.recipe.models import SizeRecipe
from generator.shape.shade import Shade

Group = Callable[[SizeRecipe, Shade, Measures], Iterator[Measure]]

# A group may use the measures of the groups before it.
GROUPS: tuple[Group, ...] = (
    outline_measures,
    panel_measures,
    cloth_measures,
    pattern_measures,
    tape_measures,
    station_measures,
    bench_measures,
    braid_measures,
    lamp_measures,
)


def measure(size: SizeRecipe, shade: Shade) -> Measures:
    """All measures of one size. Judges nothing: a lamp gap may come out below 0."""
    found: dict[str, Measure] = {}
    for group in GROUPS:
        for one in group(size, shade, Measures(dict(found))):
            assert one.id not in found, f"two measures are called {one.id}"
            found[one.id] = one
    for one in practice_measures(shade):
        found[one.id] = one
    return Measures(closed(found))
