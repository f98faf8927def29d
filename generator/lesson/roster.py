"""Who is in a class and makes what, at which tables, with which tools: read, and judged as far as no clock is
needed."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from generator.base.errors import ClassError, CuttingError, Fault, nearest
from generator.base.message import Message, Number, message
from generator.base.spans import Span
from generator.base.units import quoted
from generator.lesson.places import Bench, Placed, bench_of, placed
from generator.lesson.prices import PriceList
from generator.lesson.route import ADULT, WELCOME, Terms
from generator.lesson.setup import Member, Setup
from generator.plan.model import Plan
from generator.plan.work import Work
from generator.recipe.content import content_digest
from generator.recipe.taught_class import OwnCloth, TaughtClass
from generator.shape.say import plain

CLEAR_UP = "clear-up"
"""What stands at the end of a class, among the demonstrations of the recipe."""
USUAL = {WELCOME: 10.0, CLEAR_UP: 10.0}
"""Minutes of both where nobody states them (an estimate of the house)."""


@dataclass(frozen=True)
class Guest:
    """Somebody in the class."""

    number: int
    """Place in the list, from 1."""
    name: str | None
    work: Work
    """What they make, on their own cloth where they bring one."""
    cloth: OwnCloth | None = None
    """The cloth that they bring."""


@dataclass(frozen=True)
class Roster:
    """A class before anything is simulated."""

    guests: tuple[Guest, ...]
    taught: TaughtClass
    prices: PriceList
    tools: Mapping[str, int]
    """Shared tools by their name in the technique."""
    called: Mapping[str, str]
    """The same tools as the recipe calls them."""
    bench: Bench
    tables: tuple[Placed, ...]

    @property
    def stations(self) -> int:
        """How many can work at the tables at once."""
        return sum(kind.places for kind in self.tables)

    @property
    def works(self) -> tuple[Work, ...]:
        """What is made, each size of each recipe once, in the order of the list."""
        found: dict[tuple[str, str], Work] = {}
        for guest in self.guests:
            found.setdefault((guest.work.size.recipe, guest.work.size.name), guest.work)
        return tuple(found.values())

    @property
    def digests(self) -> tuple[str, ...]:
        """SHA-256 of what each person makes, of their techniques and of the prices, hex."""
        sizes = [content_digest(guest.work.size, kits=False, taught=True) for guest in self.guests]
        plans = [*sizes, *(work.plan.digest for work in self.works)]
        return tuple(dict.fromkeys([*plans, self.prices.digest]))

    @property
    def clear_up(self) -> float:
        """Minutes at the end."""
        return self.taught.demonstrations.get(CLEAR_UP, USUAL[CLEAR_UP])

    @property
    def room(self) -> float:
        """Minutes from the beginning to the clearing up."""
        return self.taught.length - self.clear_up

    @property
    def setup(self) -> Setup:
        """The class for the simulation."""
        taught = self.taught
        young = any(step.adult for guest in self.guests for step in guest.work.plan.steps)
        tools = {**self.tools, **({ADULT: taught.adults} if young else {})}
        terms = Terms(
            practised=taught.skill == "practised",
            pre_cut=taught.cloth == "pre-cut",
            shared=frozenset(tools),
            welcome=taught.demonstrations.get(WELCOME, USUAL[WELCOME]),
            pause=taught.rest.minutes,
            pause_after=taught.rest.after,
            swapped=taught.swap,
            shown={name: minutes for name, minutes in taught.demonstrations.items() if name not in USUAL},
        )
        members = tuple(
            Member(guest.name or str(guest.number), guest.work.plan, own_cloth=guest.cloth is not None)
            for guest in self.guests
        )
        return Setup(members, terms, max(1, self.stations), tools)


def roster(
    taught: TaughtClass, guests: Sequence[Guest], prices: PriceList, known: Mapping[str, str]
) -> Roster:
    """The class of a recipe. ``known`` has every name of a tool and the tool.

    Raises ClassError, at the places in the recipe, for tools, stages and demonstrations that are not there,
    tables that are too short, cloth that is too small, and people who cannot be shown the same.
    """
    size = guests[0].work.size
    faults: list[Fault] = []
    tools: dict[str, int] = {}
    called: dict[str, str] = {}
    for name, count in taught.tools.items():
        tool = known.get(name)
        if tool is None or tool in tools:
            faults.append(_no_tool(size.span("class.tools"), name, known, twice=tool is not None))
            continue
        tools[tool], called[tool] = count, name
    plans = [guest.work.plan for guest in guests]
    faults += _unknown(guests[0].work, taught, plans)
    bench = bench_of([guest.work for guest in guests])
    found = Roster(tuple(guests), taught, prices, tools, called, bench, placed(taught.tables, bench))
    if not found.stations:
        wrong = message(
            "no table is long enough: the longest has {longest} mm",
            longest=plain(max(t.length for t in taught.tables)),
        )
        expected = message(
            "tables of at least {length} mm, which this shade takes to laminate and roll",
            length=plain(bench.length),
        )
        fix = message("write longer tables, or push two together and write them as one")
        faults.append(Fault(size.span("class.tables"), wrong, expected, fix))
    faults += [fault for guest in guests for fault in _too_short(guest)]
    if not faults:
        faults += _parted(found)
    if faults:
        raise ClassError(faults)
    return found


def _no_tool(span: Span, name: str, known: Mapping[str, str], *, twice: bool) -> Fault:
    if twice:
        return Fault(
            span,
            message("{name} stands among the tools twice", name=quoted(name)),
            message("each tool once"),
            message("remove one"),
        )
    close = nearest(name, known)
    fix = (
        message("write {text} if you mean that", text=close)
        if close
        else message("write it as the sheets call it")
    )
    return Fault(
        span,
        message("there is no tool {name} in this work", name=quoted(name)),
        message("a tool of the technique"),
        fix,
    )


def _unknown(work: Work, taught: TaughtClass, plans: Sequence[Plan]) -> Iterator[Fault]:
    """Demonstrations and the stage of the break that nobody's work has."""
    shows = {s.task.demonstration.name for plan in plans for s in plan.steps if s.task.demonstration}
    for name in taught.demonstrations:
        if name not in {*shows, *USUAL}:
            yield _none(
                work, f"class.demonstrations.{name}", message("demonstration"), name, {*shows, *USUAL}
            )
    stages = {stage.id for plan in plans for stage in plan.stages}
    if taught.rest.minutes and taught.rest.after not in stages:
        yield _none(work, "class.break.after", message("stage of the work"), taught.rest.after, stages)


def _none(work: Work, key: str, noun: Message, name: str, known: Collection[str]) -> Fault:
    close = nearest(name, sorted(known))
    fix = message("write {text} if you mean that", text=close) if close else message("write one of them")
    return Fault(
        work.size.span(key),
        message("there is no {noun} {name}", noun=noun, name=quoted(name)),
        message("one of {names}", names=", ".join(sorted(known))),
        fix,
    )


def _too_short(guest: Guest) -> Iterator[Fault]:
    """A cloth of somebody's own that their piece does not come out of. Its width alone is judged before."""
    if guest.cloth is None or guest.cloth.length is None:
        return
    # Few bring a piece of cloth, and cutting plans take their solver with them.
    from generator.cutting.batch import cloth_piece, may_turn
    from generator.cutting.guillotine import cut_cloth

    size = guest.work.size
    piece = cloth_piece(guest.work, 1)
    try:
        needed = cut_cloth([piece], size.covering.width, may_turn(size)).length
    except CuttingError:
        return
    if needed > guest.cloth.length + 1e-6:
        who = guest.name or message("person {number}", number=guest.number)
        wrong = message(
            "the cloth that {who} brings is too short: {length} mm", who=who, length=plain(guest.cloth.length)
        )
        cut = Number(f"{plain(piece.length)} × {plain(piece.width)} mm")
        expected = message("at least {needed} mm of it, for a piece of {cut}", needed=plain(needed), cut=cut)
        yield Fault(
            size.span("covering.length"),
            wrong,
            expected,
            message("ask for a longer piece, or a smaller size"),
        )


def _parted(found: Roster) -> Iterator[Fault]:
    """People whose work is shown in another order than that of the first: they cannot share a class."""
    members = found.setup.members
    first = members[0].shows(found.setup.terms)
    for guest, member in zip(found.guests, members, strict=True):
        other = member.shows(found.setup.terms)
        if other != first:
            who = guest.name or message("person {number}", number=guest.number)
            wrong = message(
                "{who} must be shown {other}, the first in the list {first}",
                who=who,
                other=", ".join(other),
                first=", ".join(first),
            )
            yield Fault(
                guest.work.size.span("class.people"),
                wrong,
                message("shades that are shown in the same order"),
                message("take another cloth or shade for one of them, or make two classes"),
            )


def clock(minutes: float) -> tuple[int, int]:
    """Hours and minutes of a time of day, whole minutes, rounded down."""
    whole = math.floor(minutes + 1e-9)
    return whole // 60 % 24, whole % 60
