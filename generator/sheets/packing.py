"""Where pages end: from the heights of a document's blocks to page breaks, notes and air.

Pure arithmetic on heights in mm. The document is laid out once without breaks, its blocks are measured,
then packed here and laid out again.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import NamedTuple, Protocol

FULL_ENOUGH = 0.6
"""A page may be ended early only when it is at least this full (our own threshold)."""
NOTES_FROM = 60.0
"""More empty paper than this at the foot of a page is ruled for notes, mm (our own threshold)."""
SPARE = 0.6
"""Kept empty at each foot, mm: the engine rounds heights."""
MOST_AIR = 9.0
"""Most air put above one block to spread a short page, mm."""
NOTES_GAP = 6.0
"""Empty paper between the last block and its notes, mm."""
NOTES_MOST = 110.0
"""Most paper ruled on one page, mm."""
NOTES_AIR = 4.0
"""Most air put above one block of a page with notes, mm."""


@dataclass(frozen=True, slots=True)
class Block:
    """One thing that stands whole on a page, and the rules for its place."""

    id: str
    joined: bool = False
    """Stays on the page of the block before it: a card below its stage's heading."""
    chain: str = ""
    """Blocks of one chain follow each other without a wait: on one page if they fit on one."""
    gate: bool = False
    """Its chain begins here, with a stop, and stays together before anything else is weighed."""
    wish: bool = False
    """A page should start here, if the page before is full enough."""
    airy: bool = True
    """Air may be put above it."""
    optional: bool = False
    """Left out where it does not fit on the page of the block before it."""
    spare: bool = False
    """Optional as soon as the document would have more pages than it should."""


@dataclass(frozen=True, slots=True)
class Sized:
    """A block and its height on the page, mm."""

    block: Block
    height: float


class Measured(Protocol):
    """What the press tells of an element with an id."""

    @property
    def id(self) -> str:
        """The element's id."""
        ...

    @property
    def height(self) -> float:
        """Its height on the page, mm."""
        ...


@dataclass(frozen=True, slots=True)
class Part:
    """An element and its height on the page, mm."""

    id: str
    height: float


@dataclass(frozen=True)
class Layout:
    """How the pages of a document end.

    ``breaks`` are ids of blocks that start a page. ``notes`` gives the height of ruled notes after a block,
    ``air`` extra empty paper above one, both in mm. ``pages`` lists the blocks of each page, ``dropped`` the
    optional blocks that found no room, ``low`` the cards whose figure is to be drawn for a lower place,
    ``redrawn`` cards with the name of the place that theirs is drawn for, ``parts`` the layouts of a document
    that holds several others, ``over`` the blocks that are higher than their page, and by how much, mm,
    ``turned`` the cards that stand on two pages, and how many of their instructions stand on the first.
    """

    breaks: frozenset[str] = frozenset()
    notes: Mapping[str, float] = field(default_factory=dict)
    air: Mapping[str, float] = field(default_factory=dict)
    pages: tuple[tuple[str, ...], ...] = ()
    dropped: frozenset[str] = frozenset()
    low: frozenset[str] = frozenset()
    redrawn: Mapping[str, str] = field(default_factory=dict)
    parts: tuple[Layout, ...] = ()
    over: Mapping[str, float] = field(default_factory=dict)
    turned: Mapping[str, int] = field(default_factory=dict)

    def page_of(self, block: str) -> int | None:
        """The number of the page that a block was packed on, from 1; None where nothing was packed."""
        return next((number for number, page in enumerate(self.pages, 1) if block in page), None)


FLOWING = Layout()
"""No break but where a page is full: what a first, measuring layout uses."""

Page = tuple[Sized, ...]


def arrange(rules: Sequence[Block], placed: Iterable[Measured], room: Rooms, most_pages: int) -> Layout:
    """The layout of a document from its rules and from what the press measured.

    An element that the engine cut over two pages counts with the sum of its parts. A rule whose element is
    not on any page is left out. Blocks that can be spared go where there would be more than ``most_pages``.
    """
    heights = summed(placed)
    blocks = [Sized(rule, heights[rule.id]) for rule in rules if rule.id in heights]
    whole = pack(blocks, room)
    if len(whole.pages) <= most_pages:
        return whole
    spared = [
        replace(sized, block=replace(sized.block, optional=True)) if sized.block.spare else sized
        for sized in blocks
    ]
    return min(whole, pack(spared, room), key=lambda layout: len(layout.pages))


def summed(placed: Iterable[Measured]) -> dict[str, float]:
    """How high each element is, mm; one that was cut over two pages counts with the sum of its parts."""
    heights: dict[str, float] = {}
    for part in placed:
        heights[part.id] = heights.get(part.id, 0.0) + part.height
    return heights


def too_high(
    rules: Sequence[Block], heights: Mapping[str, float], room: Rooms, cards: Container[str]
) -> dict[str, float]:
    """The cards that no page holds together with what is joined to them, and by how much, mm."""
    found = {}
    for unit in _units([Sized(rule, heights[rule.id]) for rule in rules if rule.id in heights]):
        over = _height(unit) - (room.other - SPARE)
        able = [sized.block.id for sized in unit if sized.block.id in cards]
        if over > 0 and able:
            found[able[0]] = over
    return found


@dataclass(frozen=True, slots=True)
class Rooms:
    """Height for blocks on the first page and on every other, mm."""

    first: float
    other: float

    def of(self, page: int) -> float:
        """Height of the page with this number, counted from 0."""
        return self.first if page == 0 else self.other


def pack(blocks: Sequence[Sized], room: Rooms) -> Layout:
    """Break the blocks into pages.

    A page ends where the next unit does not fit, before a gate, or where at least ``FULL_ENOUGH`` of the
    paper is used. Among all such ways the best is taken, weighed in the order of ``Cost``: paragraphs are
    broken into lines in this manner (Knuth and Plass 1981, *Breaking paragraphs into lines*, from memory).
    """
    units = list(_units(blocks))
    usable = Rooms(room.first - SPARE, room.other - SPARE)
    best = _best(units, usable, _gated(units, usable.other))
    return _layout(blocks, best, usable)


Unit = tuple[Sized, ...]
"""A heading with its card, or a card alone: never parted."""


class Cost(NamedTuple):
    """What is bad about a way to break pages, worst first; costs of pages add up."""

    parted: int = 0
    """Turns within work that a gate begins and that one page could hold, counted as in ``gated``. First of
    all: work that no page holds is turned in any case, and no other is to be turned for its sake."""
    gated: int = 0
    """Turns within work that a gate begins; a turn right after the gate counts half of any other."""
    pages: int = 0
    chained: int = 0
    """Turns within other work that cannot wait."""
    wishes: int = 0
    """Wishes that were not kept, and pages ended early where nobody wished it."""
    dropped: int = 0
    """Optional blocks left out."""
    empty: float = 0.0
    """Sum of the squares of the share of each page that stays empty."""

    def plus(self, other: Cost) -> Cost:
        """Sum, part by part."""
        return Cost(
            self.parted + other.parted,
            self.gated + other.gated,
            self.pages + other.pages,
            self.chained + other.chained,
            self.wishes + other.wishes,
            self.dropped + other.dropped,
            self.empty + other.empty,
        )


def _gated(units: Sequence[Unit], room: float) -> dict[str, bool]:
    """The chains that a gate begins: whether one page holds all of each, with the heading above it."""
    heights: dict[str, float] = {}
    begun: set[str] = set()
    for unit in units:
        for chain in {sized.block.chain for sized in unit if sized.block.chain}:
            heights[chain] = heights.get(chain, 0.0) + _height(unit)
        begun.update(sized.block.chain for sized in unit if sized.block.gate and sized.block.chain)
    return {chain: heights[chain] <= room for chain in begun}


def _best(units: Sequence[Unit], room: Rooms, gated: Mapping[str, bool]) -> list[Page]:
    """Pages of least cost, the earliest found where costs are equal."""
    ends: list[tuple[Cost, list[Page]] | None] = [(Cost(), [])] + [None] * len(units)
    for start in range(len(units)):
        reached = ends[start]
        if reached is None:
            continue
        cost, pages = reached
        for end, page in _pages_from(units, start, room.first if not pages else room.other):
            left_out = sum(map(len, units[start:end])) - len(page)
            height = room.first if not pages else room.other
            total = cost.plus(_cost(page, _following(units, end), left_out, height, gated))
            known = ends[end]
            if known is None or total < known[0]:
                ends[end] = (total, [*pages, page] if page else pages)
    last = ends[-1]
    assert last is not None  # a page that takes one unit may always end
    return last[1]


def _pages_from(units: Sequence[Unit], start: int, room: float) -> Iterator[tuple[int, Page]]:
    """Pages that begin with a unit: the number of the unit after them, and what stands on them."""
    pages: list[Page] = [()]
    for end in range(start + 1, len(units) + 1):
        unit = units[end - 1]
        # The first unit stands on the page whether it fits or not.
        longer = [page + unit for page in pages if not page or _height(page) + _height(unit) <= room]
        pages = [*(page for page in longer if page != unit), *pages] if unit[0].block.optional else longer
        if not pages:
            return
        for page in pages:
            if end == len(units) or (page and _may_end(page, _following(units, end), room)):
                yield end, page


def _following(units: Sequence[Unit], end: int) -> Unit:
    """The next unit that is not optional; empty if there is none."""
    return next((unit for unit in units[end:] if not unit[0].block.optional), ())


def _may_end(page: Page, following: Unit, room: float) -> bool:
    used = _height(page)
    gate = any(sized.block.gate for sized in following)
    return not following or gate or used >= FULL_ENOUGH * room or used + _height(following) > room


def _cost(page: Page, after: Unit, left_out: int, room: float, gated: Mapping[str, bool]) -> Cost:
    """What one page costs: its end, the wishes within it, and what stays empty."""
    inside = [sized.block for sized in page]
    unkept = sum(block.wish for block in inside[1:])
    used = _height(page)
    if not after:
        return Cost(pages=1, wishes=unkept, dropped=left_out, empty=_emptiness(used, room))
    early = used + _height(after) <= room and not after[0].block.wish
    chain = inside[-1].chain
    cut = bool(chain) and chain == after[-1].block.chain
    turned = (1 if inside[-1].gate else 2) if cut and chain in gated else 0
    holds = gated.get(chain, False)
    return Cost(
        parted=turned if holds else 0,
        gated=0 if holds else turned,
        pages=1,
        chained=int(cut and chain not in gated),
        wishes=unkept + int(early),
        dropped=left_out,
        empty=_emptiness(used, room),
    )


def _emptiness(used: float, room: float) -> float:
    return max(0.0, 1 - used / room) ** 2


def _units(blocks: Sequence[Sized]) -> Iterator[Unit]:
    """Each block with those that are joined to it."""
    unit: Unit = ()
    for sized in blocks:
        if unit and not sized.block.joined:
            yield unit
            unit = ()
        unit += (sized,)
    if unit:
        yield unit


def _height(blocks: Iterable[Sized]) -> float:
    return sum(sized.height for sized in blocks)


def _layout(blocks: Sequence[Sized], pages: Sequence[Page], room: Rooms) -> Layout:
    breaks = frozenset(page[0].block.id for page in pages[1:])
    notes: dict[str, float] = {}
    air: dict[str, float] = {}
    over: dict[str, float] = {}
    for number, page in enumerate(pages):
        empty = room.of(number) - _height(page)
        if empty < -SPARE:
            over.update((sized.block.id, -SPARE - empty) for sized in page)
        places = [sized.block.id for sized in page[1:] if sized.block.airy]
        if empty > NOTES_FROM:
            each = min(NOTES_AIR, (empty - NOTES_FROM) / len(places)) if places else 0.0
            notes[page[-1].block.id] = min(NOTES_MOST, empty - each * len(places) - NOTES_GAP)
        else:
            each = min(MOST_AIR, empty / len(places)) if places else 0.0
        air.update((place, each) for place in places if each > 0)
    kept = tuple(tuple(sized.block.id for sized in page) for page in pages)
    dropped = frozenset(sized.block.id for sized in blocks).difference(*kept)
    return Layout(breaks, notes, air, kept, dropped, over=over)
