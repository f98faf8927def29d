"""A list of parts as it stands in its file: what a kit holds, on which shelf, and how it is bought."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from generator.base.errors import Fault, KitError
from generator.base.message import Message, either, message
from generator.base.spans import Span
from generator.plan.fields import Faults, Fields, open_list
from generator.plan.stock import Form, stock_forms
from generator.recipe import nodes
from generator.recipe.beside import find_file

PARTS_LIMIT = 60
MOST_PIECES = 50
COUNTS = ("panels", "seam_tapes")
"""What counts pieces of a shade: its panels, or the pieces of tape that seam, joints and hem take."""
REELED = ("ring_tape", "seam_tape")
"""Measures of what is cut from a reel."""
_SHELF = re.compile(r"\S(?:.{0,10}\S)?")
_GRAMS = re.compile(r"(\d{1,5}(?:\.\d{1,3})?)\s*g")
_PERCENT = re.compile(r"(\d{1,2}(?:\.\d)?)\s*%")


@dataclass(frozen=True, slots=True)
class Weight:
    """What pieces weigh, in grams."""

    each: float = 0.0
    metre: float = 0.0
    square_metre: float = 0.0
    of: str | None = None
    """What is measured by the metre or the square metre."""


@dataclass(frozen=True, slots=True)
class PartEntry:
    """A part of the list."""

    name: str
    span: Span
    shelf: str | None
    count: int | str
    """Pieces in a kit, or the measure that counts them."""
    length: str | None
    """The measure of a length that is cut from a reel."""
    over: float
    """How much more of it is packed, as a share."""
    weight: Weight | None
    called: str | None
    """Its name where the technique has none."""


@dataclass(frozen=True)
class KitList:
    """A checked list."""

    file: str
    digest: str
    """SHA-256 of the file, hex."""
    parts: tuple[PartEntry, ...]
    packing: tuple[PartEntry, ...]
    stock: Mapping[str, Form]
    """In which form a workshop buys what it cuts, by part."""

    def entry(self, name: str) -> PartEntry | None:
        """The part or the packing of this name."""
        return next((part for part in (*self.parts, *self.packing) if part.name == name), None)


def load_kit(name: str, beside: Path | None = None, asked: Span | None = None) -> KitList:
    """Read and check a list of parts.

    ``name`` is a name in ``recipes/stock`` or the path of a ``.yaml`` file relative to the folder ``beside``;
    ``asked`` is the place that asks for it. Raises KitError with all faults of the file.
    """
    path = find_file(name, "stock", message("list of parts"), beside or Path(), asked or Span(name, 1, 1))
    if isinstance(path, Fault):
        raise KitError([path])
    return read_kit(path)


def read_kit(path: Path) -> KitList:
    """Read one file. Raises KitError with all its faults."""
    document, top = open_list(path, message("a list of parts"), "kit", "recipes/stock/kit.yaml", KitError)
    faults = top.faults
    parts = _parts(top, "parts", faults)
    packing = _parts(top, "packing", faults)
    if not parts and not faults.found:
        top.missing("parts")
    _judge_names([*parts, *packing], packing, faults)
    stock = stock_forms(top.node("stock"), {part.name for part in parts}, faults)
    top.finish()
    if faults.found:
        raise KitError(faults.found)
    return KitList(document.file, document.digest, tuple(parts), tuple(packing), stock)


def _judge_names(every: list[PartEntry], packing: list[PartEntry], faults: Faults) -> None:
    seen: set[str] = set()
    for part in every:
        if part.name in seen:
            wrong = message("“{name}” stands in the list twice", name=part.name)
            faults.add(
                part.span,
                wrong,
                message("each part once"),
                message("remove one of the two, or write a count"),
            )
        seen.add(part.name)
    for part in packing:
        if part.called is None:
            wrong = message("“{name}” is packing and has no name for people", name=part.name)
            faults.add(part.span, wrong, message("the key called"), message("add such as called: Box"))


def _parts(top: Fields, key: str, faults: Faults) -> list[PartEntry]:
    node = top.node(key)
    if node is None or isinstance(node, nodes.Hole):
        return []
    if not isinstance(node, nodes.Sequence):
        faults.add(
            node.span,
            message("{key} is not a list", key=key),
            message("a list of parts"),
            message("put a dash before each part"),
        )
        return []
    if len(node.items) > PARTS_LIMIT:
        extra = node.items[PARTS_LIMIT].span
        faults.add(
            extra,
            message("there are too many parts"),
            message("at most {most}", most=PARTS_LIMIT),
            message("leave some out"),
        )
    read = [_part(item, faults) for item in node.items[:PARTS_LIMIT]]
    return [part for part in read if part is not None]


def _part(node: nodes.Node, faults: Faults) -> PartEntry | None:
    fields = Fields(node, message("a part"), faults)
    name = fields.name("part")
    if name is not None:
        fields.what = message("the part {name}", name=name)
    entry = PartEntry(
        name=name or "",
        span=node.span,
        shelf=_matched(fields, "shelf", _SHELF, message("at most 12 characters, such as A1")),
        count=_count(fields),
        length=fields.choice("length", REELED),
        over=float(
            _matched(
                fields, "over", _PERCENT, message("a share in percent, such as 10 %"), message("a share")
            )
            or 0
        )
        / 100,
        weight=_weight(fields, faults),
        called=_matched(
            fields,
            "called",
            re.compile(r"\S.{0,38}\S"),
            message("one line of at most {most} characters", most=40),
        ),
    )
    fields.finish()
    if name is None and isinstance(node, nodes.Mapping):
        fields.missing("part")
    return entry if name else None


def _matched(
    fields: Fields, key: str, pattern: re.Pattern[str], expected: Message, noun: Message | None = None
) -> str | None:
    """A text of this form, or what its group holds if it has one."""
    text = fields.text(key)
    if text is None:
        return None
    match = pattern.fullmatch(text)
    if match is None:
        span = fields.entries[key].node.span
        fields.faults.add(
            span,
            message("“{text}” cannot be {noun}", text=text[:40], noun=noun or message("the {key}", key=key)),
            expected,
            message("write it so"),
        )
        return None
    found: str = match[match.lastindex or 0]
    return found


def _count(fields: Fields) -> int | str:
    text = fields.text("count", "1") or "1"
    if text in COUNTS:
        return text
    if not text.isdecimal() or not 1 <= int(text) <= MOST_PIECES:
        expected = message(
            "a whole number from 1 to {most}, or {names}", most=MOST_PIECES, names=either([*COUNTS])
        )
        span = fields.entries["count"].node.span
        fields.faults.add(
            span,
            message("“{text}” counts no pieces", text=text[:40]),
            expected,
            message("write such as {text}", text="1"),
        )
        return 1
    return int(text)


def _weight(fields: Fields, faults: Faults) -> Weight | None:
    node = fields.node("weight")
    if node is None:
        return None
    inner = Fields(node, message("weight of {what}", what=fields.what), faults)
    grams = {
        key: float(_matched(inner, key, _GRAMS, message("grams, such as 12 g"), message("a weight")) or 0)
        for key in ("each", "metre", "square_metre")
    }
    of = inner.text("of")
    inner.finish()
    if of is None and (grams["metre"] or grams["square_metre"]):
        inner.missing("of")
    return Weight(**grams, of=of)
