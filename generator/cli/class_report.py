"""A class on the terminal: when it ends, what people wait for, what would help, what to buy."""

from __future__ import annotations

import json
import textwrap
from typing import TYPE_CHECKING, Any

import click

from generator.base.errors import UsageError
from generator.base.message import message
from generator.cli.tables import print_table
from generator.lesson.buying import Buying, Item, buying
from generator.lesson.outcome import Outcome, outcome, refuse_late, told, waits_told
from generator.lesson.roster import Roster, clock
from generator.lesson.ways import LEAST

if TYPE_CHECKING:
    from generator.examine import Examined

WIDTH = 96


def show_class(examined: Examined, *, as_json: bool) -> int:
    """Print a recipe's class as tables, or as one JSON object.

    Raises UsageError for a recipe without a class, ClassError for a class that cannot end in time.
    """
    roster = examined.roster
    if roster is None:
        path = examined.recipe.path
        fix = 'class: {people: 8, start: "10:00", length: 4 h, tables: [{length: 180 cm, depth: 75 cm}]}'
        raise UsageError(message("{path} has no class", path=str(path)), message("write {text}", text=fix))
    found = outcome(roster)
    refuse_late(found)
    bought = buying(roster)
    if as_json:
        click.echo(json.dumps(class_json(found, bought), indent=2, ensure_ascii=False))
    else:
        _tables(found, bought)
    return 0


def class_json(found: Outcome, bought: Buying) -> dict[str, Any]:
    """Minutes from the beginning of the class; money in the currency of the list of prices."""
    ahead = found.outlook
    return {
        "median_minutes": round(ahead.median, 3),
        "p80_minutes": round(ahead.p80, 3),
        "last_minutes": round(ahead.last, 3),
        "deterministic_minutes": round(ahead.deterministic.last, 3),
        "lower_bound_minutes": round(found.bound, 3),
        "waits": {name: round(minutes, 3) for name, minutes in waits_told(found)},
        "stations": found.roster.stations,
        "ways_out": [
            {"change": told(way, found.roster), "minutes_saved": round(way.saves, 3)} for way in found.ways
        ],
        "buy": [_item_json(item) for item in bought.items],
        "cost_per_head": bought.head.value,
    }


def _item_json(item: Item) -> dict[str, Any]:
    return {
        "item": item.key,
        "needed": item.needed.value,
        "packs": item.packs.value,
        "left_over": item.left.value,
        "cost": item.cost.value,
    }


def _tables(found: Outcome, bought: Buying) -> None:
    roster, ahead = found.roster, found.outlook
    size = roster.guests[0].work.size
    title = f"{size.title}: a class of {len(roster.guests)}, {roster.stations} places at the tables"
    begin = roster.taught.start
    rows = [
        (what, f"{round(minutes, 2):.1f}", _time(begin + minutes))
        for what, minutes in (
            ("half of all people are done", ahead.median),
            ("eight in ten are done", ahead.p80),
            ("the last is done, usually", ahead.last),
            ("the last is done, in eight classes of ten", ahead.last_p80),
            ("everybody at the planned minutes", ahead.deterministic.last),
            ("never before", found.bound),
        )
    ]
    print_table(title, ("", "min", "clock"), rows, right=("min", "clock"))
    _say(f"It begins at {_time(begin)}, and at {_time(found.latest_start)} at the latest.")
    waits = [(name, f"{minutes:.1f}", _loan(found, name)) for name, minutes in waits_told(found)]
    if waits:
        print_table("The longest wait", ("for", "min", "borrow"), waits, right=("min",))
    ways = [(told(way, roster), f"{way.saves:.1f}") for way in found.ways]
    if ways:
        print_table("What would save time", ("change", "min saved"), ways, right=("min saved",))
    else:
        _say("No single change saves time.")
    _buy(roster, bought)


def _loan(found: Outcome, name: str) -> str:
    for loan in found.loans:
        if found.roster.called[loan.tool] == name:
            sooner = f", the end {loan.saves:.1f} min sooner" if loan.saves >= LEAST else ""
            return f"{loan.want - loan.have} more: then {loan.then:.1f} min{sooner}"
    return ""


def _buy(roster: Roster, bought: Buying) -> None:
    rows = [
        (
            item.key.replace("-", " "),
            f"{item.needed.value:g}{_unit(item.needed.unit)}",
            _to_buy(item),
            f"{item.left.value:g}{_unit(item.left.unit)}",
            f"{item.cost.value:.2f}",
        )
        for item in bought.items
    ]
    currency = roster.prices.currency
    heads = ("buy", "needed", "to buy", "left over", f"cost, {currency}")
    print_table("What to buy", heads, rows, right=heads[1:])
    costs = f"{bought.goods.value:.2f} bought, {bought.kept.value:.2f} of it kept for the next class"
    whole = f"{costs}, room {bought.room.value:.2f}, tutor {bought.tutor.value:.2f}"
    _say(f"{whole}: {bought.head.value:.2f} {currency} a head.")
    if bought.even is not None:
        _say(f"It pays for itself from {bought.even.value:.0f} people on.")
    elif bought.fee is not None:
        _say("At this fee no number of people pays for it: the material alone costs more.")
    if bought.unpriced:
        _say(f"Not counted here, or without a price: {', '.join(bought.unpriced).replace('-', ' ')}.")


_NOUNS = {"pack": "pack", "serves": "pack", "roll": "roll", "sheet": "sheet", "reel": "reel"}


def _to_buy(item: Item) -> str:
    noun, count = _NOUNS.get(item.form, ""), item.packs.value
    several = "s" if noun and count != 1 else ""
    return f"{count:g}{_unit(item.packs.unit)} {noun}{several}".rstrip()


def _unit(unit: str) -> str:
    return " m" if unit == "m" else ""


def _time(minutes: float) -> str:
    return "{:02d}:{:02d}".format(*clock(minutes))


def _say(line: str) -> None:
    click.echo(textwrap.fill(line, WIDTH))
