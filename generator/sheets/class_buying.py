"""What a class buys, what is cut before it, and how, as the pack's template shows it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from generator.lesson.buying import Item
from generator.lesson.cut_class import piece_name
from generator.lesson.pack import ClassNumbers
from generator.plan.model import Step
from generator.sheets.cards import Caution, caution
from generator.sheets.cut_cloth import ClothView, cloth_view, ratio
from generator.sheets.cut_rolls import PanelView, panel_view
from generator.sheets.document import Subject
from generator.sheets.formatting import numbers_of, quantity, sentence_case
from generator.sheets.segments import figures_of
from generator.sheets.wording import Catalogue, Sentence

PER_METRE = "/m"
"""Behind the price of what the list of prices has by the metre, whatever lengths are told in."""
CUTTING = ("shears", "rotary-blade")
"""Cautions before cloth and panels are cut."""


@dataclass(frozen=True, slots=True)
class ItemRow:
    """A line of the list."""

    name: str
    detail: str
    needed: Sentence
    buy: Sentence
    left: Sentence
    each: str
    cost: str


@dataclass(frozen=True, slots=True)
class PieceRow:
    """What is cut for a size before the class, or by people on their own."""

    name: str
    count: str
    cloth: Sentence
    panel: Sentence


@dataclass(frozen=True)
class BuyingView:
    """The list with its sums and layouts."""

    currency: str
    rows: tuple[ItemRow, ...]
    sums: tuple[tuple[str, str], ...]
    head: Sentence
    even: Sentence
    unpriced: Sentence
    ahead: Sentence
    """What a tutor does before the class; empty: nothing."""
    ahead_cautions: tuple[Caution, ...]
    """What can hurt in that."""
    pieces: tuple[PieceRow, ...]
    own: Sentence
    """That people bring their cloth; may be empty."""
    cutting_cautions: tuple[Caution, ...]
    cloths: tuple[ClothView, ...]
    panels: tuple[PanelView, ...]


def buying_view(subject: Subject, course: ClassNumbers, words: Catalogue) -> BuyingView:
    """Raises WordingError, FigureError."""
    bought, voice = course.buying, words.voice
    roster = course.roster
    costs = (bought.goods, bought.kept, bought.room, bought.tutor)
    names = ("goods", "kept", "room", "tutor")
    even: Sentence = ()
    if bought.even is not None and bought.fee is not None:
        even = words.rich("class.buy.even", even=bought.even, fee=_money(quantity(bought.fee, voice), course))
    elif bought.fee is not None:
        even = words.rich("class.buy.never", fee=_money(quantity(bought.fee, voice), course))
    ahead = _ahead(course)
    unpriced = [words.say(f"consumable.{thing}") for thing in bought.unpriced]
    head = _money(quantity(bought.head, voice), course)
    named = {piece_name(roster, work): work for work in roster.works}
    own = [guest for guest in roster.guests if guest.cloth is not None]
    return BuyingView(
        currency=roster.prices.currency,
        rows=tuple(_item(item, words) for item in bought.items),
        sums=tuple(
            (words.say(f"class.buy.{name}"), quantity(cost, voice))
            for name, cost in zip(names, costs, strict=True)
        ),
        head=words.rich("class.buy.head", head=head),
        even=even,
        unpriced=words.rich("class.buy.unpriced", things=", ".join(unpriced)) if unpriced else (),
        ahead=words.rich("class.ahead", numbers=numbers_of(step.number for step in ahead)) if ahead else (),
        ahead_cautions=tuple(
            caution(words, name)
            for name in dict.fromkeys(name for step in ahead for name in step.task.cautions)
        ),
        pieces=tuple(_pieces(course, words)),
        own=words.rich("class.own-cloth") if own else (),
        cutting_cautions=tuple(caution(words, name) for name in CUTTING),
        cloths=tuple(cloth_view(subject, each, n, words) for n, each in enumerate(bought.cutting.cloths, 1)),
        panels=tuple(
            panel_view(subject, each, n, words, named) for n, each in enumerate(bought.cutting.panels, 1)
        ),
    )


def layout_numbers(course: ClassNumbers, words: Catalogue) -> Iterable[str]:
    """Scales and numbers of cuts; sizes' names stand among the class's."""
    for cloth in course.buying.cutting.cloths:
        yield from (str(cut.number) for cut in cloth.drawn.cuts)
        yield cloth.plan.name
        yield ratio(cloth.scale, words)
    yield from (ratio(panel.scale, words) for panel in course.buying.cutting.panels)
    yield course.roster.prices.currency
    yield from (item.detail for item in course.buying.items if item.detail)


def _money(amount: str, course: ClassNumbers) -> str:
    return f"{amount} {course.roster.prices.currency}"


def _item(item: Item, words: Catalogue) -> ItemRow:
    voice = words.voice
    things = [_thing(thing, words) for thing in item.things]
    name = things[0] if len(things) == 1 else words.say("class.buy.both", first=things[0], second=things[1])
    buy = words.rich(f"class.form.{item.form}", packs=item.packs)
    return ItemRow(
        name=sentence_case(name),
        detail=item.detail or "",
        needed=figures_of([item.needed], voice),
        buy=buy,
        left=figures_of([item.left], voice),
        each=quantity(item.each, voice) + (PER_METRE if item.form == "metre" else ""),
        cost=quantity(item.cost, voice),
    )


def _thing(thing: str, words: Catalogue) -> str:
    return words.say(f"consumable.{thing}")


def _ahead(course: ClassNumbers) -> tuple[Step, ...]:
    """What a tutor does before the class, by the first person's plan whose cloth the workroom has."""
    for guest in course.roster.guests:
        if course.outcome.setup.terms.pre_cut and guest.cloth is None:
            return tuple(step for step in guest.work.plan.steps if step.task.ahead)
    return ()


def _pieces(course: ClassNumbers, words: Catalogue) -> Iterator[PieceRow]:
    """A row a size: how many make it, its piece of cloth, its panel."""
    for work in course.roster.works:
        measures, voice = work.measures, words.voice
        sides = ("blank_length", "blank_width") if work.shade.tapered else ("panel_length", "panel_height")
        yield PieceRow(
            piece_name(course.roster, work),
            quantity(course.making[(work.size.recipe, work.size.name)], voice),
            figures_of((measures["cloth_length"], measures["cloth_width"]), voice),
            figures_of((measures[side] for side in sides), voice),
        )
