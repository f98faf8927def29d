"""What the things for one shade cost: the buying list of a class of one, less what serves the next shade."""

from __future__ import annotations

from pathlib import Path

from generator.lesson.buying import buying
from generator.lesson.prices import load_prices
from generator.lesson.roster import Guest, roster
from generator.plan.work import Work
from generator.recipe.taught_class import TaughtClass

ALONE = {
    "people": "1",
    "start": "10:00",
    "length": "12 h",
    "tables": [{"length": "200 cm", "depth": "80 cm"}],
    "break": {"minutes": "0 min", "after": "tape"},
    "skill": "first-time",
    "cloth": "in-class",
    "seed": "0",
    "stock": "class",
}
"""A class in which nobody waits, and of which only the buying list is asked."""


def cost_of(work: Work, folder: Path) -> tuple[float, str]:
    """Money for all that one shade uses up, in whole packs where packs are not kept, and its currency.

    Prices are those of the list that the recipe's class names, beside it in ``folder``, or of the house.
    Raises ClassError where the list cannot be used, or a panel, cloth or tape does not come out of it.
    """
    size = work.size
    named = size.taught.stock if size.taught else ALONE["stock"]
    prices = load_prices(str(named), folder, size.span("class.stock"))
    alone = roster(TaughtClass.model_validate(ALONE), [Guest(1, None, work)], prices, {})
    bought = buying(alone, offcuts=False)
    return bought.goods.value - bought.kept.value, prices.currency
