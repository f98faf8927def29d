"""The list of prices of a class: what is bought in which packs, rolls and reels, and what it costs."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from generator.base.errors import ClassError, Fault
from generator.base.message import message
from generator.base.spans import Span
from generator.plan.fields import Faults, Fields, open_list
from generator.plan.stock import Form, form_of
from generator.recipe import nodes
from generator.recipe.beside import find_file
from generator.recipe.lengths import length
from generator.recipe.source import Source, read_source
from generator.recipe.values import Reader, ValueFault, count, money

THINGS_LIMIT = 100
"""How many things a list may have."""
MOST_IN_A_PACK = 1000
_PERCENT = re.compile(r"(\d{1,2}(?:\.\d)?)\s*%")
_STEP = length()
_PIECES = count(1, MOST_IN_A_PACK)
_SPARES = count(0, 50)
_FORMS = ("roll", "sheet", "reel")


@dataclass(frozen=True, slots=True)
class Price:
    """How one thing is bought."""

    thing: str
    price: float
    """Of a pack, roll, sheet or reel; of cloth of a metre."""
    pack: int = 1
    """Pieces in a pack."""
    serves: int | None = None
    """Shades that a pack is enough for, where nobody counts pieces."""
    form: Form | None = None
    """A roll, a sheet or a reel."""
    step: float | None = None
    """Sold by the metre, in steps of so many mm."""
    spare: int = 0
    """So many pieces more than are needed."""
    spare_each: int | None = None
    """One piece more for so many people, begun ones too."""
    over: float = 0.0
    """So much more of a length, as a share."""
    keeps: bool = False
    """What is left over serves the next class."""

    def spares(self, people: int) -> int:
        """Pieces over for so many people."""
        return self.spare + (-(-people // self.spare_each) if self.spare_each else 0)


@dataclass(frozen=True)
class PriceList:
    """A checked list."""

    file: str
    digest: str
    """SHA-256 of the file, hex."""
    currency: str
    things: Mapping[str, Price]


def load_prices(name: str, beside: Path, asked: Span) -> PriceList:
    """Read and check a list of prices.

    ``name`` is a name in ``recipes/stock`` or the path of a ``.yaml`` file relative to the folder ``beside``;
    ``asked`` is the place that asks for it. Raises ClassError with all faults of the file.
    """
    path = find_file(name, "stock", message("list of prices"), beside, asked)
    if isinstance(path, Fault):
        raise ClassError([path])
    return read_prices(path)


def read_prices(path: Path) -> PriceList:
    """Read one file. Raises ClassError with all its faults."""
    return _list_of(read_source(path, message("a list of prices")))


@lru_cache(maxsize=16)
def _list_of(source: Source) -> PriceList:
    # Kept by what the file holds: the page asks for a cost with every change.
    what = message("a list of prices")
    read = nodes.document_of(source, what)
    document, top = open_list(read, what, "prices", "recipes/stock/class.yaml", ClassError)
    faults = top.faults
    currency = (top.text("currency") or "").strip()
    if not 1 <= len(currency) <= 5:
        faults.add(
            top.span,
            message("the currency is not stated"),
            message("its sign or letters"),
            message("add {text}", text="currency: EUR"),
        )
    things = _things(top, faults)
    top.finish()
    if faults.found:
        raise ClassError(faults.found)
    return PriceList(document.file, document.digest, currency, {each.thing: each for each in things})


def _things(top: Fields, faults: Faults) -> list[Price]:
    node = top.node("things")
    if isinstance(node, nodes.Hole):
        return []
    if not isinstance(node, nodes.Sequence):
        faults.add(
            top.span,
            message("things is not a list"),
            message("a list of things"),
            message("put a dash before each thing"),
        )
        return []
    if len(node.items) > THINGS_LIMIT:
        extra = node.items[THINGS_LIMIT].span
        faults.add(
            extra,
            message("there are too many things"),
            message("at most {most}", most=THINGS_LIMIT),
            message("leave some out"),
        )
    found: dict[str, Price] = {}
    for item in node.items[:THINGS_LIMIT]:
        one = _thing(item, faults)
        if one is not None and one.thing in found:
            wrong = message("“{name}” stands in the list twice", name=one.thing)
            faults.add(item.span, wrong, message("each thing once"), message("remove one of the two"))
        elif one is not None:
            found[one.thing] = one
    return list(found.values())


def _thing(node: nodes.Node, faults: Faults) -> Price | None:
    fields = Fields(node, message("a thing"), faults)
    name = fields.name("thing")
    if name is None:
        if isinstance(node, nodes.Mapping):
            fields.missing("thing")
        return None
    fields.what = message("the thing {name}", name=name)
    price = _read(fields, "price", money)
    if price is None and "price" not in fields.entries:
        fields.missing("price")
    forms = [form for key in _FORMS if (form := form_of(fields, key, faults)) is not None]
    step = _read(fields, "metres", _STEP)
    serves = _read(fields, "serves", _PIECES)
    pack = _read(fields, "pack", _PIECES)
    if sum(each is not None for each in (*forms, step, serves, pack)) > 1:
        wrong = message("{name} is bought in two forms", name=name)
        expected = message("one of pack, serves, roll, sheet, reel, metres")
        faults.add(node.span, wrong, expected, message("keep the one that you buy by"))
    spare, each = _spare(fields, faults)
    found = Price(
        thing=name,
        price=price or 0.0,
        pack=pack or 1,
        serves=serves,
        form=forms[0] if forms else None,
        step=step,
        spare=spare,
        spare_each=each,
        over=_share(fields, faults),
        keeps=fields.flag("keeps"),
    )
    fields.finish()
    return found


def _spare(fields: Fields, faults: Faults) -> tuple[int, int | None]:
    node = fields.node("spare")
    if not isinstance(node, nodes.Mapping):
        return int(_read(fields, "spare", _SPARES) or 0), None
    inner = Fields(node, message("spare of {what}", what=fields.what), faults)
    each = _read(inner, "each", _PIECES)
    inner.finish()
    if each is None:
        inner.missing("each")
    return 0, each


def _share(fields: Fields, faults: Faults) -> float:
    text = fields.text("over")
    if text is None:
        return 0.0
    match = _PERCENT.fullmatch(text)
    if match is None:
        span = fields.entries["over"].node.span
        faults.add(
            span,
            message("“{text}” cannot be a share", text=text[:40]),
            message("a share in percent, such as 10 %"),
            message("write it so"),
        )
        return 0.0
    return float(match[1]) / 100


def _read(fields: Fields, key: str, reader: Reader) -> Any:
    text = fields.text(key)
    if text is None:
        return None
    try:
        return reader(text)
    except ValueFault as fault:
        fields.faults.add(fields.entries[key].node.span, fault.wrong, fault.expected, fault.fix)
        return None
