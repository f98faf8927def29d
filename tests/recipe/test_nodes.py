"""YAML text becomes a located tree of texts; nothing is guessed, made or expanded."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.base.message import message
from generator.recipe.nodes import DEPTH_LIMIT, NODE_LIMIT, Entry, Mapping, Scalar, Sequence, parse_document


def _root(text: str) -> Mapping:
    document = parse_document(text, "f.yaml")
    assert document.faults == ()
    assert isinstance(document.root, Mapping)
    return document.root


def _entry(root: Mapping, key: str) -> Entry:
    entry = root.get(key)
    assert entry is not None
    return entry


@pytest.mark.parametrize(
    "word", ["25", "007", "1_000", "0x1F", "1e3", ".inf", "no", "yes", "on", "2024-01-01", "12:30"]
)
def test_a_value_stays_the_text_that_was_written(word: str) -> None:
    assert _entry(_root(f"key: {word}\n"), "key").node == Scalar(
        word, _entry(_root("key: x"), "key").node.span
    )


@pytest.mark.parametrize("word", ["25", "007", "no", "1.50", "null"])
def test_a_quoted_key_and_value_stay_the_text_that_was_written(word: str) -> None:
    entry = _entry(_root(f"'{word}': '{word}'\n"), word)
    assert isinstance(entry.node, Scalar)
    assert (entry.node.text, entry.node.quoted, entry.node.empty) == (word, True, False)


def test_keys_values_and_lists_know_line_and_column() -> None:
    root = _root("# note\na: 1\nb:\n  c: [x, {d: y}]\n")
    c = _entry(_entry(root, "b").node, "c")  # type: ignore[arg-type]
    assert str(root.span) == "f.yaml:2:1"
    assert str(_entry(root, "a").node.span) == "f.yaml:2:4"
    assert (str(c.key_span), str(c.node.span)) == ("f.yaml:4:3", "f.yaml:4:6")
    assert isinstance(c.node, Sequence)
    assert [str(item.span) for item in c.node.items] == ["f.yaml:4:7", "f.yaml:4:10"]


@pytest.mark.parametrize("ending", ["\n", "\r\n", "\r"])
def test_every_line_ending_counts_as_one_line(ending: str) -> None:
    root = _root(ending.join(["a: 1", "", "b: 2", ""]))
    assert str(_entry(root, "b").node.span) == "f.yaml:3:4"


def test_a_byte_order_mark_moves_no_column() -> None:
    assert str(_root("\ufeffa: 1\n").span) == "f.yaml:1:1"


def test_columns_count_characters_not_bytes() -> None:
    root = _root("{straße: 1, 灯: 2}\n")
    assert [entry.key_span.column for entry in root] == [2, 13]


def test_a_tab_between_words_is_a_space_and_moves_no_column() -> None:
    entry = _entry(_root("a:\tb\t\nc: d\n"), "a")
    assert (entry.node.span.column, entry.node) == (4, Scalar("b", entry.node.span))


@pytest.mark.parametrize("word", ["", "~", "null", "NULL"])
def test_a_value_that_is_not_there_is_empty(word: str) -> None:
    node = _entry(_root(f"a: {word}\n"), "a").node
    assert isinstance(node, Scalar)
    assert node.empty


def test_what_follows_a_hidden_character_is_still_judged() -> None:
    document = parse_document("hei\u200bght: 1\nheight: 2\n", "f")
    assert [str(fault.span) for fault in document.faults] == ["f:1:4", "f:2:1"]
    assert "second time" in document.faults[1].wrong


def test_the_joiners_that_scripts_need_are_kept() -> None:
    entry = _entry(_root("a: \u0646\u200c\u0627 \U0001f468\u200d\U0001f373\n"), "a")
    assert entry.node == Scalar("\u0646\u200c\u0627 \U0001f468\u200d\U0001f373", entry.node.span)


@pytest.mark.parametrize(
    "mark",
    [
        "\x00",
        "\x07",
        "\x1b",
        "\x7f",
        "\x85",
        "\u00ad",
        "\u200b",
        "\u200e",
        "\u202e",
        "\u2028",
        "\u2066",
        "\ufeff",
        "\ufffe",
        "\U000e0041",
    ],
)
def test_a_hidden_character_is_found_at_its_place(mark: str) -> None:
    document = parse_document(f"a: 1\nb: x{mark}y\n", "f")
    assert [str(fault.span) for fault in document.faults] == ["f:2:5"]
    assert f"U+{ord(mark):04X}" in document.faults[0].wrong


@pytest.mark.parametrize("opening", ["[", "{a: ", "- ", "? ", "[{a: "])
def test_nesting_without_end_is_refused_and_costs_no_recursion(opening: str) -> None:
    document = parse_document(opening * 50_000, "f")
    assert document.root is None
    assert [fault.wrong for fault in document.faults] == ["sections stand too deep in one another here"]


def test_the_deepest_nesting_that_is_allowed_is_read() -> None:
    document = parse_document("[" * DEPTH_LIMIT + "]" * DEPTH_LIMIT, "f")
    assert document.faults == ()
    assert isinstance(document.root, Sequence)


def test_a_file_with_too_many_values_is_refused() -> None:
    document = parse_document("[" + "a, " * NODE_LIMIT + "]", "f")
    assert [fault.wrong for fault in document.faults] == ["this file holds too much"]


def test_an_alias_bomb_is_never_expanded() -> None:
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]" for n in range(1, 9)]
    document = parse_document("\n".join(lines), "f")
    assert len(document.faults) == 81
    assert all("cannot begin with" in fault.wrong for fault in document.faults)


def test_no_more_than_a_hundred_faults_are_told() -> None:
    assert len(parse_document("a: 1\n" * 500, "f").faults) == 100


@pytest.mark.parametrize("text", ["", "\n\n", "# only a note\n", "---\n", "~\n"])
def test_a_file_with_nothing_in_it_says_so(text: str) -> None:
    document = parse_document(text, "f", message("a technique"))
    assert document.root is None
    assert [str(fault) for fault in document.faults] == [
        "f:1:1: this file holds nothing; expected a technique; begin from a sample"
    ]


@given(st.text())
def test_any_text_gives_a_tree_or_faults(text: str) -> None:
    document = parse_document(text, "f")
    assert document.root is not None or document.faults
    for fault in document.faults:
        assert fault.span.line >= 1
        assert fault.span.column >= 1
        assert fault.span.line <= text.count("\n") + text.count("\r") + 2


SYNTAX = st.text(st.sampled_from(list("ab: \n-[]{},'\"#&*!|>%@`?\t\\0~<=\r")), max_size=60)


@given(SYNTAX)
def test_any_heap_of_yaml_signs_gives_a_tree_or_faults(text: str) -> None:
    document = parse_document(text, "f")
    assert document.root is not None or document.faults
    assert not any("\n" in str(fault) for fault in document.faults)
