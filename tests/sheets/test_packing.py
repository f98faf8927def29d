"""Laws of the packing: whatever the heights, nothing is lost, parted or crowded."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from generator.sheets.packing import (
    FULL_ENOUGH,
    NOTES_FROM,
    NOTES_GAP,
    SPARE,
    Block,
    Layout,
    Rooms,
    Sized,
    arrange,
    pack,
)

ROOMS = Rooms(270.0, 266.0)
FULL = ROOMS.other - SPARE


def usable(page: int) -> float:
    return ROOMS.of(page) - SPARE


@st.composite
def documents(draw: st.DrawFn) -> list[Sized]:
    """Stages of cards; within a stage some cards follow each other at once, perhaps from a gate on."""
    blocks: list[Sized] = []
    for stage in range(draw(st.integers(1, 5))):
        heading = Block(f"stage-{stage}", wish=draw(st.booleans()))
        blocks.append(Sized(heading, draw(st.floats(5, 15))))
        count = draw(st.integers(1, 5))
        first = draw(st.integers(0, count))
        gated = draw(st.booleans())
        for card in range(count):
            chain = f"chain-{stage}" if card >= first and count - first > 1 else ""
            block = Block(
                f"step-{stage}-{card}",
                joined=card == 0,
                chain=chain,
                gate=bool(chain) and gated and card == first,
                wish=card > 0 and draw(st.booleans()),
                airy=card > 0,
            )
            blocks.append(Sized(block, draw(st.floats(30, 120))))
        if draw(st.booleans()):
            blocks.append(Sized(Block(f"box-{stage}", optional=True), draw(st.floats(10, 60))))
    return blocks


def height_of(blocks: list[Sized], names: tuple[str, ...]) -> float:
    heights = {sized.block.id: sized.height for sized in blocks}
    return sum(heights[name] for name in names)


def firm(blocks: list[Sized]) -> list[str]:
    return [sized.block.id for sized in blocks if not sized.block.optional]


@given(documents())
def test_no_card_is_lost_and_the_order_is_kept(blocks: list[Sized]) -> None:
    layout = pack(blocks, ROOMS)
    printed = [name for page in layout.pages for name in page]
    assert [name for name in printed if name not in layout.dropped] == printed
    assert printed == [sized.block.id for sized in blocks if sized.block.id not in layout.dropped]
    assert layout.dropped <= {sized.block.id for sized in blocks if sized.block.optional}


@given(documents())
def test_no_page_is_higher_than_its_paper(blocks: list[Sized]) -> None:
    for number, page in enumerate(pack(blocks, ROOMS).pages):
        assert height_of(blocks, page) <= usable(number) + 1e-6


@given(documents())
def test_a_heading_stays_with_its_card(blocks: list[Sized]) -> None:
    joined = {sized.block.id for sized in blocks if sized.block.joined}
    assert not joined & {page[0] for page in pack(blocks, ROOMS).pages}


@given(documents())
def test_work_from_a_gate_on_is_on_one_page_if_it_fits(blocks: list[Sized]) -> None:
    layout = pack(blocks, ROOMS)
    for gate in (sized.block for sized in blocks if sized.block.gate):
        members = [position for position, sized in enumerate(blocks) if sized.block.chain == gate.chain]
        first = members[0] - 1 if blocks[members[0]].block.joined else members[0]
        whole = tuple(sized.block.id for sized in blocks[first : members[-1] + 1])
        if height_of(blocks, whole) <= FULL:
            assert any(set(whole) <= set(page) for page in layout.pages)


@given(documents())
def test_a_page_ends_early_only_when_it_is_full_enough_or_before_a_gate(blocks: list[Sized]) -> None:
    layout = pack(blocks, ROOMS)
    order = firm(blocks)
    by_name = {sized.block.id: sized for sized in blocks}
    for number, (page, _) in enumerate(pairwise(layout.pages)):
        last = next(name for name in reversed(page) if name in order)
        after = order.index(last) + 1
        following = [order[after]]
        while after + 1 < len(order) and by_name[order[after + 1]].block.joined:
            after += 1
            following.append(order[after])
        used = height_of(blocks, page)
        natural = used + height_of(blocks, tuple(following)) > usable(number)
        gate = any(by_name[name].block.gate for name in following)
        assert natural or gate or used >= FULL_ENOUGH * usable(number) - 1e-9


@given(documents())
def test_no_pages_could_be_saved_by_filling_them_in_turn(blocks: list[Sized]) -> None:
    """Filling each page as far as it goes takes the fewest pages, where no gate holds it up."""
    assume(not any(sized.block.gate for sized in blocks))
    pages, used = 1, 0.0
    units: list[float] = []
    for sized in blocks:
        if sized.block.optional:
            continue
        if sized.block.joined:
            units[-1] += sized.height
        else:
            units.append(sized.height)
    for unit in units:
        if used and used + unit > usable(pages - 1):
            pages, used = pages + 1, 0.0
        used += unit
    assert len(pack(blocks, ROOMS).pages) == pages


@given(documents())
def test_notes_stand_only_where_much_paper_is_empty_and_they_fit(blocks: list[Sized]) -> None:
    layout = pack(blocks, ROOMS)
    for number, page in enumerate(layout.pages):
        empty = usable(number) - height_of(blocks, page)
        noted = [name for name in page if name in layout.notes]
        assert noted == ([page[-1]] if empty > NOTES_FROM else [])
        air = sum(layout.air.get(name, 0.0) for name in page)
        assert air + sum(layout.notes[name] + NOTES_GAP for name in noted) <= max(empty, 0.0) + 1e-6


@given(documents())
def test_air_is_never_put_at_the_top_of_a_page_or_under_a_heading(blocks: list[Sized]) -> None:
    layout = pack(blocks, ROOMS)
    airless = {sized.block.id for sized in blocks if not sized.block.airy} | {
        page[0] for page in layout.pages
    }
    assert not airless & layout.air.keys()


@given(documents())
def test_the_same_heights_are_always_packed_the_same(blocks: list[Sized]) -> None:
    assert pack(blocks, ROOMS) == pack(list(blocks), ROOMS)


def sized(name: str, height: float, **rules: object) -> Sized:
    return Sized(Block(name, **rules), height)  # type: ignore[arg-type]


def test_a_wish_is_kept_when_the_page_before_is_full_enough() -> None:
    blocks = [sized("a", 170), sized("b", 60, wish=True), sized("c", 60)]
    assert pack(blocks, ROOMS).pages == (("a",), ("b", "c"))


def test_a_wish_is_not_kept_when_it_would_leave_a_page_rather_empty() -> None:
    blocks = [sized("a", 100), sized("b", 60, wish=True), sized("c", 60)]
    assert pack(blocks, ROOMS).pages == (("a", "b", "c"),)


def test_a_wish_is_not_worth_one_more_page() -> None:
    blocks = [sized("a", 170), sized("b", 80, wish=True), sized("c", 190), sized("d", 60)]
    assert pack(blocks, ROOMS).pages == (("a", "b"), ("c", "d"))


def test_a_chain_too_high_for_one_page_is_turned_right_after_its_gate() -> None:
    chain = [
        sized("gate", 80, chain="roll", gate=True),
        *(sized(f"c{n}", 80, chain="roll") for n in range(3)),
    ]
    assert pack([sized("a", 120), *chain], ROOMS).pages == (("a", "gate"), ("c0", "c1", "c2"))


def test_work_that_no_page_holds_does_not_part_the_gated_work_before_it() -> None:
    """What a gate begins may be turned right behind it. Here that would take a page that is full enough, and
    that page would take cards away from the work before, which one page holds."""
    blocks = [sized("a", 70)]
    blocks += [sized("gate-1", 92, chain="one", gate=True)]
    blocks += [sized("one-1", 30, chain="one"), sized("one-2", 78, chain="one")]
    blocks += [sized("gate-2", 66, chain="two", gate=True)]
    blocks += [sized(f"two-{n}", height, chain="two") for n, height in enumerate((30, 50, 120), 1)]
    assert height_of(blocks, ("gate-1", "one-1", "one-2")) <= FULL
    assert height_of(blocks, ("gate-2", "two-1", "two-2", "two-3")) > FULL
    pages = pack(blocks, ROOMS).pages
    assert {"gate-1", "one-1", "one-2"} <= set(next(page for page in pages if "gate-1" in page))


def test_a_card_higher_than_a_page_stands_alone() -> None:
    layout = pack([sized("a", 100), sized("huge", 400), sized("b", 50)], ROOMS)
    assert layout.pages == (("a",), ("huge",), ("b",))
    assert layout.over == pytest.approx({"huge": 400 - ROOMS.other})


def test_an_optional_box_goes_where_it_would_turn_the_page() -> None:
    blocks = [sized("a", 200), sized("box", 80, optional=True), sized("b", 60)]
    layout = pack(blocks, ROOMS)
    assert layout.pages == (("a", "b"),)
    assert layout.dropped == {"box"}


def test_nothing_to_pack_gives_no_pages() -> None:
    assert pack([], ROOMS) == Layout()


@dataclass(frozen=True)
class Part:
    id: str
    height: float


def test_parts_of_a_block_on_two_pages_count_together() -> None:
    rules = [Block("a"), Block("b"), Block("not-there")]
    layout = arrange(rules, [Part("a", 200), Part("a", 50), Part("other", 9), Part("b", 100)], ROOMS, 11)
    assert layout.pages == (("a",), ("b",))


def test_a_block_that_can_be_spared_goes_only_where_pages_would_be_too_many() -> None:
    rules = [Block("a"), Block("table", spare=True), Block("end")]
    parts = [Part("a", 150), Part("table", 100), Part("end", 100)]
    assert arrange(rules, parts, ROOMS, 2).pages == (("a", "table"), ("end",))
    assert arrange(rules, parts, ROOMS, 1).pages == (("a", "end"),)
    assert arrange(rules, parts, ROOMS, 1).dropped == {"table"}
