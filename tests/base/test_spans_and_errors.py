"""Places in files, faults, and the closest known name."""

from __future__ import annotations

import pickle

import pytest

from generator.base.errors import (
    CuttingError,
    Fault,
    InputError,
    NoRoomForRecipeError,
    RecipeError,
    RimfoldError,
    Warning_,
    nearest,
)
from generator.base.message import as_written
from generator.base.spans import Span


def faulty(span: Span, wrong: str, expected: str, fix: str) -> Fault:
    return Fault(span, as_written(wrong), as_written(expected), as_written(fix))


def test_a_span_reads_as_editors_write_a_place() -> None:
    assert str(Span("recipes/a.yaml", 4, 9)) == "recipes/a.yaml:4:9"


def test_spans_stand_in_reading_order() -> None:
    spans = [Span("a", 2, 1), Span("a", 1, 10), Span("a", 1, 9)]
    assert [str(span) for span in sorted(spans, key=lambda span: span.order)] == ["a:1:9", "a:1:10", "a:2:1"]


def test_a_fault_says_place_mistake_expectation_and_remedy() -> None:
    fault = faulty(Span("a.yaml", 4, 9), "“15” has no unit", "a length with its unit", "write 15 mm")
    assert str(fault) == "a.yaml:4:9: “15” has no unit; expected a length with its unit; write 15 mm"


def test_a_warning_carries_the_word() -> None:
    assert str(Warning_(Span("a.yaml", 1, 2), as_written("not used"))) == "a.yaml:1:2: warning: not used"


def test_an_input_error_tells_its_faults_in_file_order_and_exits_with_2() -> None:
    late, early = (faulty(Span("a", line, 1), f"line {line}", "x", "y") for line in (9, 2))
    error = RecipeError([late, early])
    assert [fault.span.line for fault in error.faults] == [2, 9]
    assert str(error).splitlines() == [str(early), str(late)]
    assert isinstance(error, InputError)
    assert error.exit_code == 2


@pytest.mark.parametrize(
    "error",
    [
        NoRoomForRecipeError([faulty(Span("pier.yaml", 3, 1), "no room", "room", "ask for A4")]),
        CuttingError(as_written("a panel of 90 cm"), as_written("one of at most 60 cm")),
    ],
)
def test_an_error_comes_back_from_another_process_as_it_was(error: RimfoldError) -> None:
    back = pickle.loads(pickle.dumps(error))
    assert (type(back), str(back), vars(back)) == (type(error), str(error), vars(error))


@pytest.mark.parametrize(
    ("word", "known", "found"),
    [
        ("diametre", ["diameter", "height"], "diameter"),
        ("Height", ["diameter", "height"], "height"),
        ("slack ends", ["slack_ends", "slack_edges"], "slack_ends"),
        ("kiss-cut", ["kiss_cut"], "kiss_cut"),
        ("one_way", ["any", "one-way"], "one-way"),
        ("zebra", ["diameter", "height"], None),
        ("", ["diameter"], None),
        ("x" * 10_000, ["diameter"], None),
    ],
)
def test_the_closest_known_name_is_found_or_none(word: str, known: list[str], found: str | None) -> None:
    assert nearest(word, known) == found
