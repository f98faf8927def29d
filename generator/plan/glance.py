"""A plan at a glance, for a page that has no room for a picture a step.

Which steps stand together and which one of them is pictured is a rule over any plan, not a list of tasks:

1. A gate stands alone, between what comes before it and what follows.
2. The stages become ``BOXES`` boxes, two in a row; the rows are shared out by the steps before and after the
   gate. Where there are more stages than boxes, the neighbours with the fewest steps are put into one.
3. A box holds two cells, each some steps in order with one picture: of all places to part them the one that
   shows most (``Task.teaches``), then the one with the most even halves.
4. A cell's picture is that of the step that teaches most, the first of equals.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from generator.plan.model import Mishap, Plan, Step

BOXES, ACROSS = 6, 2
"""Boxes in all, and in a row."""
UNDONE = 3
"""How many mistakes that cannot be mended are told."""
_DIRE = ("never", "at-once", "before")
"""Last moments, the worst first."""


@dataclass(frozen=True)
class Cell:
    """Steps that share a picture."""

    steps: tuple[Step, ...]
    shown: Step
    """The one that is pictured."""


@dataclass(frozen=True)
class Box:
    """One stage or more, in two cells, or in one."""

    stages: tuple[str, ...]
    cells: tuple[Cell, ...]

    @property
    def steps(self) -> tuple[Step, ...]:
        """All steps of the box, in order."""
        return tuple(step for cell in self.cells for step in cell.steps)


@dataclass(frozen=True)
class Glance:
    """A plan at a glance."""

    before: tuple[Box, ...]
    """Before the gate, or all where there is none."""
    gate: Step | None
    after: tuple[Box, ...]
    undone: tuple[Mishap, ...]
    """The mistakes that cannot be mended, at most ``UNDONE``, in the order of their steps."""

    @property
    def boxes(self) -> tuple[Box, ...]:
        """All boxes in order."""
        return (*self.before, *self.after)

    @property
    def pictured(self) -> tuple[Step, ...]:
        """Every step that has a picture, in order, the gate too."""
        shown = [cell.shown for box in self.boxes for cell in box.cells]
        return tuple(sorted([*shown, *([self.gate] if self.gate else [])], key=lambda step: step.number))


Run = tuple[str, tuple[Step, ...]]
"""A stage, or the part of it on one side of the gate, by its name."""


def glance(plan: Plan) -> Glance:
    """Boxes, cells, the gate and the mistakes that cannot be mended."""
    gate = next((step for step in plan.steps if step.task.gate), None)
    first = gate.number if gate else len(plan.steps) + 1
    before = list(_runs(plan, range(1, first)))
    after = list(_runs(plan, range(first + 1, len(plan.steps) + 1)))
    room = _boxes_before(sum(len(steps) for _, steps in before), sum(len(steps) for _, steps in after))
    return Glance(
        tuple(map(_box, _merged(before, room))),
        gate,
        tuple(map(_box, _merged(after, BOXES - room))),
        _undone(plan),
    )


def _runs(plan: Plan, numbers: range) -> Iterator[Run]:
    """Stages with their steps among ``numbers``."""
    for stage in plan.stages:
        steps = tuple(step for step in stage.steps if step.number in numbers)
        if steps:
            yield stage.id, steps


def _boxes_before(before: int, after: int) -> int:
    """Boxes for the steps before the gate: whole rows, and at least one row on a side that has steps."""
    if not before or not after:
        return BOXES if before else 0
    rows = BOXES // ACROSS
    return ACROSS * min(max(round(rows * before / (before + after)), 1), rows - 1)


def _merged(runs: Sequence[Run], most: int) -> list[list[Run]]:
    """Neighbours put together, the fewest steps first, until there are at most ``most``."""
    boxes = [[run] for run in runs]
    while len(boxes) > most:
        sizes = [sum(len(steps) for _, steps in box) for box in boxes]
        place = min(range(len(boxes) - 1), key=lambda i: (sizes[i] + sizes[i + 1], i))
        boxes[place : place + 2] = [boxes[place] + boxes[place + 1]]
    return boxes


def _box(runs: Sequence[Run]) -> Box:
    steps = tuple(step for _, several in runs for step in several)
    halves = [(steps[:place], steps[place:]) for place in range(1, len(steps))]
    if not halves:
        parted: tuple[tuple[Step, ...], ...] = (steps,)
    else:
        parted = min(halves, key=lambda h: (-sum(map(_most, h)), abs(len(h[0]) - len(h[1])), len(h[0])))
    names = tuple(dict.fromkeys(name for name, _ in runs))
    return Box(names, tuple(Cell(half, _shown(half)) for half in parted))


def _most(steps: Sequence[Step]) -> int:
    return max(step.task.teaches for step in steps)


def _shown(steps: Sequence[Step]) -> Step:
    """Of equals ``max`` keeps the first."""
    return max(steps, key=lambda step: step.task.teaches)


def _undone(plan: Plan) -> tuple[Mishap, ...]:
    """The worst mistake of each step that cannot be undone; of all, those that are mended worst, then latest.

    The later it happens, the more work is lost with it.
    """
    irreversible = {step.number for step in plan.steps if step.task.irreversible}
    worst: dict[int, Mishap] = {}
    for mishap in plan.mishaps:
        if mishap.step in irreversible and mishap.until in _DIRE:
            known = worst.get(mishap.step)
            if known is None or _DIRE.index(mishap.until) < _DIRE.index(known.until):
                worst[mishap.step] = mishap
    ranked = sorted(worst.values(), key=lambda mishap: (_DIRE.index(mishap.until), -mishap.step))
    return tuple(sorted(ranked[:UNDONE], key=lambda mishap: mishap.step))
