"""What a class buys: pieces, packs, rolls, reels, cloth by the plan of cuts; what is left, what it costs."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from generator.base.edition import USUAL, Form
from generator.base.units import round_up
from generator.cutting.numbers import Book
from generator.cutting.roll_numbers import BatchNumbers, batch_numbers
from generator.lesson.cut_class import (
    CLOTH,
    PANEL,
    REELED,
    Line,
    counted,
    cut_class,
    piece_name,
    pieces_line,
)
from generator.lesson.prices import Price
from generator.lesson.roster import Roster
from generator.measures.inches import METRE, in_steps
from generator.measures.measure import COMMON_PRACTICE, Measure, Measures, Unit
from generator.plan import stock

LIST = "the list of prices"
OF_A_SIZE = ("fitter-ring", "plain-ring")
"""Things of which each size needs its own."""
CENT = 0.01


@dataclass(frozen=True, slots=True)
class Item:
    """A line of the buying list."""

    things: tuple[str, ...]
    """Names in the technique; two where one reel serves both."""
    detail: str | None
    """The size or the cloth, where a thing is bought for each; it stands on the page as it is."""
    needed: Measure
    packs: Measure
    """Packs, rolls or reels; of cloth the metres that are bought."""
    left: Measure
    """What is left over, in the unit of ``needed``."""
    each: Measure
    """Price of one."""
    cost: Measure
    form: str
    """``piece``, ``pack``, ``serves``, ``roll``, ``sheet``, ``reel``, ``metre``."""

    @property
    def key(self) -> str:
        """A name for programs."""
        return " + ".join(self.things) + (f" {self.detail}" if self.detail else "")


@dataclass(frozen=True)
class Buying:
    """The whole list. Money is in the currency of the list of prices."""

    items: tuple[Item, ...]
    unpriced: tuple[str, ...]
    """What the work uses up and the list of prices does not have."""
    cutting: BatchNumbers
    """Cloths, rolls and reels as they are cut."""
    goods: Measure
    """All that is bought."""
    kept: Measure
    """Worth of what serves the next class."""
    room: Measure
    tutor: Measure
    head: Measure
    """Cost of one person."""
    fee: Measure | None
    even: Measure | None
    """From so many people on the class pays for itself; None without a fee, or if no number does."""
    measures: Measures
    """Every number of it by id, those of the cutting plan too."""


def buying(roster: Roster, form: Form = USUAL, *, offcuts: bool = True) -> Buying:
    """The list for a class; in large print what is cut is drawn for pages of that form.

    Without ``offcuts`` the plan does not say what those still make, which takes longest.
    Raises ClassError where a panel, a cloth or a tape does not come out of what the list of prices has.
    """
    return _Shop(roster).bought(form if form.large else USUAL, offcuts=offcuts)


class _Shop:
    """Collects items and their measures."""

    def __init__(self, roster: Roster) -> None:
        self.roster = roster
        self.people = len(roster.guests)
        self.book = Book()
        self.items: list[Item] = []
        self.worth = 0.0

    def bought(self, form: Form, *, offcuts: bool) -> Buying:
        used = dict.fromkeys(thing for guest in self.roster.guests for thing in guest.work.plan.consumables)
        priced = self.roster.prices.things
        cut = cut_class(self.roster, used, offcuts=offcuts)
        for line in cut.lines:
            self._item(line)
        for thing in used:
            price = priced.get(thing)
            if price is not None:
                self._counted(thing, price)
        cutting = batch_numbers(cut.batch, form)
        listed = {thing for item in self.items for thing in item.things}
        own = {CLOTH} if not cut.batch.cloths else set()
        unpriced = tuple(thing for thing in used if thing not in listed | own)
        return self._summed(cutting, unpriced)

    def _counted(self, thing: str, price: Price) -> None:
        """Things that are bought by the piece, by the pack, or by what a pack is enough for."""
        users = [guest for guest in self.roster.guests if thing in guest.work.plan.consumables]
        if thing in (CLOTH, PANEL) or (thing in REELED and isinstance(price.form, stock.Reel)):
            return
        if thing in OF_A_SIZE:
            for work, count in counted(users):
                name = piece_name(self.roster, work)
                self._item(pieces_line((thing,), name, price, count + price.spares(count)))
        elif price.serves is not None:
            needed, packs = len(users), math.ceil(len(users) / price.serves)
            formula = f"{needed} shades, {price.serves} out of one"
            bought = packs * price.serves
            self._item(Line((thing,), None, price, "serves", needed, packs, bought, "one a shade", formula))
        elif price.form is None:
            self._item(pieces_line((thing,), None, price, len(users) + price.spares(len(users))))

    def _item(self, line: Line) -> None:
        things, detail, price, form = line.things, line.detail, line.price, line.form
        needed, packs, bought, left = line.needed, line.packs, line.bought, line.left
        key = f"buy_{len(self.items) + 1}"
        label = f"{' and '.join(things).replace('-', ' ').capitalize()}{f', {detail}' if detail else ''}"
        metres = form in ("metre", "reel")
        unit: Unit = "m" if metres else "count"
        cost = packs * price.price
        book = self.book
        over = bought - needed if left is None else left
        need = round_up(needed, 0.1) if metres else needed
        # Cloth that is bought is what is needed and what is left over, in feet as in metres.
        rest = _feet(packs) - _feet(needed) if form == "metre" else None
        item = Item(
            things,
            detail,
            book.put(
                f"{key}_needed",
                f"{label}: needed",
                needed,
                line.formula,
                LIST,
                unit=unit,
                shown=round(need, 1),
                rounding="up",
                ruler="feet",
            ),
            book.put(
                f"{key}_packs",
                f"{label}: to buy",
                packs,
                line.how,
                LIST,
                unit="m" if form == "metre" else "count",
                shown=round(packs, 2),
                rounding="up",
                ruler="feet",
            ),
            book.put(
                f"{key}_left",
                f"{label}: left over",
                over,
                "what is bought less what is needed",
                LIST,
                unit=unit if left is None else "m",
                shown=round(bought - round(need, 1), 1) if left is None else round(over, 1),
                rounding="down",
                ruler="feet",
                inches=rest or None,
            ),
            self._money(f"{key}_each", f"{label}: price", price.price, "as listed"),
            self._money(f"{key}_cost", f"{label}: cost", cost, "to buy × price"),
            form,
        )
        self.items.append(item)
        if price.keeps:
            self.worth += cost * over / bought if bought else 0.0

    def _summed(self, cutting: BatchNumbers, unpriced: tuple[str, ...]) -> Buying:
        costs, book, people = self.roster.taught.costs, self.book, self.people
        goods = sum(item.cost.value for item in self.items)
        kept = round(self.worth, 2)
        fixed = costs.room + costs.tutor
        head = (goods - kept + fixed) / people
        formula = f"(bought {goods:.2f} − kept {kept:.2f} + room and tutor {fixed:.2f}) / {people} people"
        each = (goods - kept) / people
        even = None
        if costs.fee is not None and costs.fee > each + 1e-9:
            number = max(1, math.ceil(fixed / (costs.fee - each) - 1e-9))
            told = f"room and tutor {fixed:.2f} / (fee {costs.fee:.2f} − material of one {each:.2f})"
            even = book.count("even", "Pays for itself from so many people on", number, told, COMMON_PRACTICE)
        fee = None
        if costs.fee is not None:
            fee = self._money("fee", "Fee", costs.fee, "as the recipe says", "the recipe")
        return Buying(
            tuple(self.items),
            unpriced,
            cutting,
            goods=self._money("goods", "All that is bought", goods, "the costs together"),
            kept=self._money("kept", "Kept for the next class", kept, "left over, by share"),
            room=self._money("room", "Room", costs.room, "as the recipe says", "the recipe"),
            tutor=self._money("tutor", "Tutor", costs.tutor, "as the recipe says", "the recipe"),
            head=book.put(
                "head",
                "Cost of one person",
                head,
                formula,
                COMMON_PRACTICE,
                unit="money",
                shown=round(round_up(head, CENT), 2),
            ),
            fee=fee,
            even=even,
            measures=Measures({**book.measures, **cutting.measures}),
        )

    def _money(self, id_: str, label: str, amount: float, formula: str, source: str = LIST) -> Measure:
        return self.book.put(id_, label, amount, formula, source, unit="money", shown=round(amount, 2))


def _feet(metres: float) -> Fraction:
    return in_steps(metres * METRE, "feet", "up")
