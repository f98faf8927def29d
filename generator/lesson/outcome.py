"""What a class comes to: its end, who waits how long for what, what would help, when to begin at latest."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from generator.base.errors import ClassError, Fault
from generator.base.message import Message, joined, message, plural
from generator.base.units import round_up
from generator.lesson.bound import lower_bound
from generator.lesson.model import STATION
from generator.lesson.roster import Roster, clock
from generator.lesson.route import ADULT
from generator.lesson.runs import Outlook, outlook
from generator.lesson.setup import Setup
from generator.lesson.ways import RUNS, Way, ways_out

AIM = 5.0
"""Nobody should wait longer than this for a shared tool, minutes (an aim of the house, not a promise)."""
NO_DELAY = 1e-9
"""So few minutes over are none."""
LEAST_TOLD = 3
"""So many ways out are named where a class cannot end in time."""


@dataclass(frozen=True, slots=True)
class Loan:
    """A tool to borrow so that nobody waits longer than the aim."""

    tool: str
    have: int
    want: int
    wait: float
    """The longest wait with what there is, minutes."""
    then: float
    """The longest wait with as many as wanted."""
    saves: float
    """By how many minutes the last person finishes sooner in eight classes of ten; may be none."""


@dataclass(frozen=True)
class Outcome:
    """A class, simulated. Minutes from its beginning."""

    roster: Roster
    setup: Setup
    outlook: Outlook
    bound: float
    """Nobody can end the class before this, with everybody at the planned minutes."""
    ways: tuple[Way, ...]
    """Single changes that help, the one that saves most first."""
    loans: tuple[Loan, ...]

    @property
    def over(self) -> float:
        """Minutes by which eight classes of ten need more than there are; 0 or less: it ends in time."""
        return minutes_over(self.roster, self.outlook)

    @property
    def latest_start(self) -> float:
        """Minutes after midnight at which it may begin and still end in time, in eight classes of ten."""
        return self.roster.taught.start - self.over

    @property
    def in_time(self) -> bool:
        """Whether eight classes of ten end in time."""
        return self.over <= NO_DELAY


def minutes_over(roster: Roster, ahead: Outlook) -> float:
    """Minutes by which eight classes of ten need more than there are; ``NO_DELAY`` or less: none."""
    return ahead.last_p80 - roster.room


def outcome(roster: Roster) -> Outcome:
    """Simulate a class and look for better ones."""
    setup, seed = roster.setup, roster.taught.seed
    lesson = setup.lesson
    ahead = outlook(lesson, seed)
    loans = tuple(_loans(setup, seed, ahead))
    return Outcome(roster, setup, ahead, lower_bound(lesson), ways_out(setup, seed), loans)


def _loans(setup: Setup, seed: int, before: Outlook) -> list[Loan]:
    """For each tool that somebody waits too long for, the fewest that bring the wait down to the aim."""
    found = []
    for tool, have in setup.tools.items():
        wait = before.waits.get(tool, 0.0)
        if wait <= AIM or tool == ADULT:
            continue
        for want in range(have + 1, len(setup.members) + 1):
            after = outlook(replace(setup, tools={**setup.tools, tool: want}).lesson, seed)
            then = after.waits.get(tool, 0.0)
            if then <= AIM or want == len(setup.members):
                found.append(Loan(tool, have, want, wait, then, before.last_p80 - after.last_p80))
                break
    return found


def told(way: Way, roster: Roster) -> Message:
    """A change in words, for the terminal and for messages."""
    if way.what == ADULT:
        return message("one more adult for blades and the iron ({count})", count=roster.taught.adults + 1)
    if way.kind == "tool":
        name = roster.called.get(way.what, way.what.replace("-", " "))
        return message("one more {name} ({count})", name=name, count=roster.tools[way.what] + 1)
    return {
        "swap": message(
            "halve the class: one half tapes rings while the other laminates ({text})", text="swap: true"
        ),
        "station": message("one more place at a table ({count})", count=roster.stations + 1),
        "pre-cut": message("cut the cloth before the class ({text})", text="cloth: pre-cut"),
        "pause": message("put the break after the stage {stage}", stage=way.what),
        "no-pause": message("no break"),
        "stagger": message("let people begin five minutes apart"),
    }[way.kind]


def refuse_late(found: Outcome) -> None:
    """Raise ClassError for a class that cannot end in time, with the three cheapest ways out."""
    if found.in_time:
        return
    roster = found.roster
    first = roster.guests[0].work.size
    longest = max(found.outlook.waits.items(), key=lambda item: item[1], default=("", 0.0))
    people, stations = len(roster.guests), roster.stations
    end = "{:02d}:{:02d}".format(*clock(roster.taught.start + roster.room))
    late = "{:02d}:{:02d}".format(*clock(roster.taught.start + found.outlook.last_p80))
    wrong = message(
        "the class does not end in time: the last of {people} is done at {late}, in eight classes of ten",
        people=people,
        late=late,
    )
    if people > stations and longest[0] == STATION:
        wrong = message(
            "there are more people than places in the time: {people} share {stations}, and the "
            "last is done at {late}, in eight classes of ten",
            people=people,
            stations=stations,
            late=late,
        )
    expected = message(
        "an end by {end}, which leaves {minutes} min to clear up", end=end, minutes=f"{roster.clear_up:.0f}"
    )
    fix = message("three ways out: {ways}", ways=joined(three_ways(found), "; "))
    raise ClassError([Fault(first.span("class.length"), wrong, expected, fix)])


def three_ways(found: Outcome) -> tuple[Message, ...]:
    """The cheapest changes, those that are enough alone first; then a longer class, then fewer people."""
    roster = found.roster
    enough = [way for way in found.ways if way.saves >= found.over]
    partly = [way for way in found.ways if way.saves < found.over]
    ways = sorted(enough, key=lambda way: (way.cost, -way.saves)) + partly
    lines = [
        message("{way} saves {minutes} min", way=told(way, roster), minutes=f"{way.saves:.0f}")
        for way in ways
    ]
    more = round_up(found.over, AIM)
    length = roster.taught.length + more
    whole = f"{length // 60:.0f} h {length % 60:.0f} min" if length % 60 else f"{length // 60:.0f} h"
    longer = message("a class of {length}, {minutes} min longer", length=whole, minutes=f"{more:.0f}")
    fewer = _fewer(found)
    last = [
        longer,
        *(
            [plural("no more than {count} people", "no more than {count} person", count=fewer)]
            if fewer
            else []
        ),
    ]
    # Of what does not do alone no more than leaves room for what does.
    room = max(1, LEAST_TOLD - len(last)) if not enough else LEAST_TOLD
    return tuple([*lines[:room], *last][:LEAST_TOLD])


def _fewer(found: Outcome) -> int | None:
    """The most people of the list, from its beginning, who end in time; None: not even one."""
    low, high = 0, len(found.setup.members)
    while high - low > 1:
        middle = (low + high) // 2
        tried = replace(found.setup, members=found.setup.members[:middle])
        late = outlook(tried.lesson, found.roster.taught.seed, RUNS).last_p80 > found.roster.room
        low, high = (low, middle) if late else (middle, high)
    return low or None


def waits_told(found: Outcome) -> Sequence[tuple[str, float]]:
    """The longest wait for each shared tool and for a place, by the recipe's names, minutes."""
    waits, called = found.outlook.waits, found.roster.called
    names = [(tool, called[tool]) for tool in found.roster.tools]
    if waits.get(ADULT, 0.0):
        names.append((ADULT, "the adult"))
    if waits.get(STATION, 0.0):
        names.append((STATION, "place at a table"))
    return [(name, waits.get(key, 0.0)) for key, name in names]
