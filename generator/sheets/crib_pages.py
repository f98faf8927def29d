"""The crib sheet in large print: what stands in its one column, in order, and where a page may end."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from generator.plan.glance import Box, Cell, Glance
from generator.plan.model import Plan
from generator.sheets.cards import chains_of
from generator.sheets.narrow import rows
from generator.sheets.packing import Block

STOP = "stop"


def box_id(box: Box) -> str:
    """Id of the heading of a box."""
    return f"box-{'-'.join(box.stages)}"


def cell_id(cell: Cell) -> str:
    """Id of some steps with their picture."""
    return f"picture-{cell.shown.id}"


def rules(plan: Plan, glance: Glance) -> Iterator[Block]:
    """Everything that stands whole, with the rules for where a page may end.

    Work that the stop begins stays together, and so does other work that cannot wait, as far as a page
    holds it.
    """
    chains = chains_of(plan)
    yield Block("cover")
    yield Block("five", airy=False)
    yield Block("tools")
    for each in range(1, len({name for step in plan.steps for name in step.task.cautions}) + 1):
        yield Block(f"hazards-{each}", airy=each == 1, chain="hazards")
    yield Block("key")
    for box in glance.before:
        yield from _box(box, chains)
    if glance.gate:
        yield Block(STOP, chain=chains.get(glance.gate.number, ""), gate=True, wish=True)
    for box in glance.after:
        yield from _box(box, chains)
    yield from rows("losses")
    yield Block("lines")
    yield Block("lamp", joined=True)


def _box(box: Box, chains: Mapping[int, str]) -> Iterator[Block]:
    """A heading, and the cells below it; the first never stands without its heading."""
    yield Block(box_id(box))
    for place, cell in enumerate(box.cells):
        linked = [chains[step.number] for step in cell.steps if step.number in chains]
        yield Block(cell_id(cell), joined=place == 0, airy=place > 0, chain=linked[0] if linked else "")
