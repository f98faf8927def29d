"""Why a step stands where it stands, without words: the sheets phrase each reason in a language."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.plan.model import Link, Reason, Step


def reasons(step: Step, steps: Sequence[Step]) -> tuple[Reason, ...]:
    """What it needs and from where, what waits for it, what would go wrong earlier or later."""
    return tuple(
        reason
        for some in (
            _needs(step),
            _waits(step),
            _times(step),
            _earlier(step),
            _later(step),
            _at_once(step, steps),
            _undone(step),
            _beside(step, steps),
        )
        for reason in some
    )


def _needs(step: Step) -> Iterator[Reason]:
    made = tuple(Link(need, (number,)) for need, number in step.from_steps.items())
    stock = tuple(need for need in step.task.needs if need not in step.from_steps)
    yield Reason("needs", links=made, stock=stock)


def _waits(step: Step) -> Iterator[Reason]:
    yield Reason(
        "waits", links=tuple(Link(result, numbers) for result, numbers in step.to_steps.items() if numbers)
    )


def _times(step: Step) -> Iterator[Reason]:
    if step.times > 1:
        yield Reason("times-struts" if step.task.times == "struts" else "times-panels", count=step.times)


def _earlier(step: Step) -> Iterator[Reason]:
    if not step.from_steps:
        yield Reason("free")
        return
    need, number = max(step.from_steps.items(), key=lambda item: item[1])
    yield Reason("earlier", links=(Link(need, (number,)),))


def _later(step: Step) -> Iterator[Reason]:
    first = min(
        ((min(numbers), result) for result, numbers in step.to_steps.items() if numbers), default=None
    )
    if first is not None:
        yield Reason("later", links=(Link(first[1], (first[0],)),))


def _at_once(step: Step, steps: Sequence[Step]) -> Iterator[Reason]:
    before = steps[step.number - 2] if step.number > 1 else None
    after = steps[step.number] if step.number < len(steps) else None
    if before is not None and before.task.after == "at-once":
        yield Reason("follows", step=before.number)
    if step.task.after == "at-once" and after is not None:
        yield Reason("followed", step=after.number)
    if step.task.gate:
        yield Reason("gate")
    if step.rest:
        yield Reason("rests", minutes=round(step.rest))
    elif step.task.after == "safe-pause":
        yield Reason("pause")


def _undone(step: Step) -> Iterator[Reason]:
    if step.task.irreversible:
        yield Reason("undone")


def _beside(step: Step, steps: Sequence[Step]) -> Iterator[Reason]:
    """What it has in common with the step before, which saves a change."""
    if step.number == 1:
        return
    before, task = steps[step.number - 2].task, step.task
    held = {
        "face": task.face is not None and task.face == before.face,
        "place": task.place is not None and task.place == before.place,
        "tool": bool(task.tools and before.tools) and task.tools[:1] == before.tools[:1],
    }
    if any(held.values()):
        yield Reason("beside", step=step.number - 1, same=tuple(name for name, same in held.items() if same))
