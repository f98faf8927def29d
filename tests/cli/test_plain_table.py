"""Tables off a terminal are those that rich prints, to the sign; what is not plain is left to rich."""

from __future__ import annotations

import io

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich import box
from rich.cells import cell_len
from rich.console import Console
from rich.table import Table
from rich.text import Text

from generator.cli.plain_table import plain_line, plain_table

SIGNS = "ab1. -(),ßé×±²°π√−–“”⅛"
WORDS = st.lists(st.text(SIGNS.replace(" ", ""), min_size=1, max_size=12), max_size=14).map(" ".join)


def by_rich(heads: list[str], rows: list[list[str]], right: list[str], width: int) -> str:
    """The same table drawn by the library, on no terminal."""
    file = io.StringIO()
    console = Console(file=file, width=width, highlight=False, markup=False, emoji=False)
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False)
    for head in heads:
        table.add_column(head, justify="right" if head in right else "left", no_wrap=head in right)
    for row in rows:
        table.add_row(*(Text(cell) for cell in row))
    console.print(table)
    return file.getvalue()


@given(data=st.data(), columns=st.integers(1, 6), width=st.integers(30, 170))
def test_whatever_stands_in_a_table_rich_draws_it_so(data: st.DataObject, columns: int, width: int) -> None:
    heads = data.draw(
        st.lists(st.text("abcde, ", min_size=1, max_size=9), min_size=columns, max_size=columns, unique=True)
    )
    rows = data.draw(st.lists(st.lists(WORDS, min_size=columns, max_size=columns), min_size=1, max_size=8))
    right = data.draw(st.lists(st.sampled_from(heads), max_size=2))
    drawn = plain_table(heads, rows, right, width)
    if drawn is not None:
        assert drawn == by_rich(heads, rows, right, width)


def test_a_table_of_measures_is_plain_and_broken_as_rich_breaks_it() -> None:
    heads = ["measure", "value", "formula", "source"]
    rows = [
        ["Perimeter of the rings", "1099.56 mm", "π × 350", "Euclid's circle, as everybody knows it " * 3],
        ["Snips", "24", "2 × (3 + 9) " * 8, "common practice, no source"],
    ]
    drawn = plain_table(heads, rows, ["value"], 120)
    assert drawn is not None
    assert drawn.count("\n") > 6
    assert drawn == by_rich(heads, rows, ["value"], 120)


@pytest.mark.parametrize(
    "cell", ["布の幅", "a\tb", "two\nlines", "e\u0301", "🙂", "soft\u00adhyphen", "no\u00a0break"]
)
def test_what_is_not_plain_is_left_to_rich(cell: str) -> None:
    assert plain_table(["one"], [[cell]], []) is None
    assert not plain_line(cell)


def test_a_word_that_is_wider_than_its_column_is_left_to_rich() -> None:
    assert plain_table(["one", "two"], [["a" * 40, "b" * 40]], [], 60) is None


def test_every_sign_that_counts_as_plain_is_one_cell_wide() -> None:
    plain = [chr(code) for code in range(0x2300) if plain_line(chr(code))]
    assert len(plain) > 400
    assert [sign for sign in plain if cell_len(sign) != 1] == []
