"""The leaflet of a kit in large print: what stands in its one column, in order, and where a page may end."""

from __future__ import annotations

from collections.abc import Iterator

from generator.plan.model import Plan
from generator.sheets.cards import rules as steps
from generator.sheets.narrow import rows
from generator.sheets.packing import Block


def rules(plan: Plan) -> Iterator[Block]:
    """Everything that stands whole, with the rules for where a page may end.

    Lists are broken below any of their rows, so that none is higher than a page in any language.
    """
    yield Block("cover")
    yield Block("strip", airy=False)
    yield Block("need", airy=False)
    yield Block("before")
    yield from rows("contents")
    yield from rows("box", wish=True)
    yield Block("box-missing", airy=False)
    yield from rows("measures")
    yield from rows("also")
    yield Block("marks")
    yield from steps(plan)
    yield Block("checks")
    yield from rows("wrong")
    yield from rows("faults")
    yield Block("closing")
    yield Block("imprint")
