"""Why a step stands where it stands, in plain sentences."""

from __future__ import annotations

from collections.abc import Sequence

from generator.plan.model import Step


def reasons(step: Step, steps: Sequence[Step]) -> tuple[str, ...]:
    """What it needs and from where, what waits for it, what would go wrong earlier or later."""
    return tuple(
        sentence
        for sentence in (
            _needs(step),
            _waits(step),
            _times(step),
            _earlier(step, steps),
            _later(step),
            _at_once(step, steps),
            _undone(step),
            _shared(step, steps),
        )
        if sentence
    )


def listed(parts: Sequence[str]) -> str:
    """``a``, ``a and b``, ``a, b and c``."""
    return parts[0] if len(parts) == 1 else f"{', '.join(parts[:-1])} and {parts[-1]}"


def _needs(step: Step) -> str:
    made = [f"the {need} from step {number}" for need, number in step.from_steps.items()]
    stock = [f"the {need}" for need in step.task.needs if need not in step.from_steps]
    if made and stock:
        return f"It needs {listed(made)}; it also takes {listed(stock)}, there from the start."
    if made:
        return f"It needs {listed(made)}."
    return f"It needs only {listed(stock)}, there from the start." if stock else "It needs no other step."


def _waits(step: Step) -> str:
    parts = [f"{_steps(numbers)} for the {result}" for result, numbers in step.to_steps.items() if numbers]
    return f"These wait for it: {listed(parts)}." if parts else "No other step waits for it."


def _times(step: Step) -> str:
    noun = (step.task.times or "")[:-1]
    return f"It is done {step.times} times, once for each {noun}." if step.times > 1 else ""


def _steps(numbers: Sequence[int]) -> str:
    return f"step{'s' if len(numbers) > 1 else ''} {listed([str(number) for number in numbers])}"


def _earlier(step: Step, steps: Sequence[Step]) -> str:
    if step.from_steps:
        need, number = max(step.from_steps.items(), key=lambda item: item[1])
        return f"Earlier than step {number} there would be no {need} to work with."
    return (
        "It could stand anywhere before the steps that wait for it; its stage puts it here." if steps else ""
    )


def _later(step: Step) -> str:
    first = min(
        ((min(numbers), result) for result, numbers in step.to_steps.items() if numbers), default=None
    )
    if first is None:
        return ""
    return f"Later, step {first[0]} would have to go without the {first[1]}."


def _at_once(step: Step, steps: Sequence[Step]) -> str:
    before = steps[step.number - 2] if step.number > 1 else None
    after = steps[step.number] if step.number < len(steps) else None
    parts = []
    if before is not None and before.task.after == "at-once":
        parts.append(f"It must follow step {before.number} without a wait.")
    if step.task.after == "at-once" and after is not None:
        parts.append(f"Step {after.number} must follow without a wait.")
    if step.task.gate:
        parts.append("It is a stop: check everything before work that cannot wait.")
    if step.rest:
        parts.append(f"After it the work rests for {step.rest:.0f} minutes before it can go on.")
    elif step.task.after == "safe-pause":
        parts.append("After it the work may rest.")
    return " ".join(parts)


def _undone(step: Step) -> str:
    return "It cannot be undone, so it comes as late as it can." if step.task.irreversible else ""


def _shared(step: Step, steps: Sequence[Step]) -> str:
    """What it has in common with the step before, which saves a change."""
    if step.number == 1:
        return ""
    before = steps[step.number - 2].task
    task = step.task
    parts = []
    if task.face is not None and task.face == before.face:
        parts.append("the work lies the same way")
    if task.place is not None and task.place == before.place:
        parts.append("it is done at the same place")
    if task.tools and before.tools and task.tools[0] == before.tools[0]:
        parts.append("it uses the same tool")
    return f"Beside step {step.number - 1} {listed(parts)}." if parts else ""
