"""Where a plan's minutes come from, and whether its order is proved: what a page says of itself."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from generator.plan.model import Plan
from generator.sheets.wording import Catalogue, Sentence


def times_note(plan: Plan, words: Catalogue) -> Sentence:
    """Whether the minutes are estimates or measured, on how many shades, with which spread."""
    if plan.measured is None:
        return words.rich("minutes.estimate")
    key = "minutes.measured-partly" if plan.estimated else "minutes.measured"
    return words.rich(key, **_measured(plan))


def order_note(plan: Plan, words: Catalogue) -> Sentence | None:
    """That the order is not proved to be the best, with its bound; None where it is."""
    return None if plan.proved else words.rich("order.unproved", **_order(plan))


def numbers(plan: Plan, words: Catalogue) -> frozenset[str]:
    """Texts whose numbers these notes may print."""
    found: set[str] = set()
    if plan.measured is not None:
        found |= {str(value) for value in _measured(plan).values()}
    if not plan.proved:
        found |= order_numbers(plan)
    return frozenset(found)


def order_numbers(plan: Plan) -> frozenset[str]:
    """Texts of the numbers that say how good an order is."""
    return frozenset(str(value) for value in _order(plan).values())


def _measured(plan: Plan) -> dict[str, object]:
    assert plan.measured is not None
    steps = ranges(plan.estimated)
    return {
        "shades": plan.measured.shades,
        "spread": max(1, round(max(plan.measured.spread))),
        "steps": steps,
    }


def _order(plan: Plan) -> dict[str, int]:
    names = ("faces", "places", "tools")
    return dict(zip(names, plan.cost, strict=False)) | {
        f"least_{name}": value for name, value in zip(names, plan.bound, strict=False)
    }


def order_standing(plan: Plan, words: Catalogue) -> Sentence:
    """Whether the order is proved to be the best, in any case."""
    return order_note(plan, words) or words.rich("order.proved", **_order(plan))


def ranges(numbers: Sequence[int]) -> str:
    """``1–3, 5``: numbers that follow one another stand together."""
    runs = [[n for _, n in run] for _, run in groupby(enumerate(numbers), lambda pair: pair[1] - pair[0])]
    return ", ".join(f"{run[0]}–{run[-1]}" if len(run) > 1 else str(run[0]) for run in runs)
