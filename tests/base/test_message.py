"""A sentence is the English text, and remembers what it was made of."""

from __future__ import annotations

import pickle

import pytest

from generator.base.errors import (
    PAGE_FAULT_LIMIT,
    CuttingError,
    Fault,
    NoRoomError,
    PageFault,
    ProofError,
    RecipeError,
    UsageError,
    Warning_,
)
from generator.base.message import (
    Message,
    as_written,
    catalogued,
    either,
    in_three,
    joined,
    message,
    plural,
    together,
)
from generator.base.spans import Span


def test_a_message_is_the_english_text_and_keeps_template_and_values() -> None:
    said = message("{part} is {width} wide", part="the panel", width="12 mm")
    assert said == "the panel is 12 mm wide"
    assert said.template == "{part} is {width} wide"
    assert said.values == {"part": "the panel", "width": "12 mm"}


def test_what_stands_in_a_value_is_never_a_placeholder() -> None:
    odd = "{width} %s %(width)s {0} {{ \\g<1>"
    assert message("{part} is {width} wide", part=odd, width="12 mm") == f"{odd} is 12 mm wide"


def test_a_value_that_is_not_given_is_no_sentence() -> None:
    with pytest.raises(KeyError):
        message("{part} is {width} wide", part="the panel")


@pytest.mark.parametrize(("count", "said"), [(0, "0 rings"), (1, "one ring"), (2, "2 rings")])
def test_a_number_decides_between_two_sentences(count: int, said: str) -> None:
    made = plural("{count} rings", "one ring", count=count)
    assert made == said
    assert made.template == "{count} rings"


def test_names_are_joined_as_english_joins_them() -> None:
    assert [either(names) for names in (["a"], ["a", "b"], ["a", "b", "c"])] == ["a", "a or b", "a, b or c"]
    assert [together(names) for names in (["a"], ["a", "b"], ["a", "b", "c"])] == [
        "a",
        "a and b",
        "a and b and c",
    ]
    assert joined(str(number) for number in range(30)) == ", ".join(map(str, range(30)))
    assert len(joined(map(str, range(800))).values) == 800


def test_a_value_can_be_put_in_the_place_of_another() -> None:
    said = message("{text} is not a length, {text}", text="5").about("-5", "5")
    assert said == "-5 is not a length, -5"
    assert said.template == "{text} is not a length, {text}"


def test_a_message_comes_back_from_another_process_as_it_was() -> None:
    inner = message("half the {what}", what="height")
    for said in (
        message("more than {of}", of=inner),
        plural("{count} rings", "one ring", count=1),
        joined([inner, "plain"]),
        as_written("{left} as it is"),
    ):
        back = pickle.loads(pickle.dumps(said))
        assert (type(back), back, back.template, dict(back.values), back.one, back.joins) == (
            type(said),
            said,
            said.template,
            dict(said.values),
            said.one,
            said.joins,
        )


def test_faults_and_errors_lose_no_template_on_their_way() -> None:
    fault = Fault(
        Span("a.yaml", 2, 3),
        message("{text} is zero", text="“0\nmm”"),
        message("a length above zero"),
        message("write the length that you measured"),
    )
    assert str(fault) == (
        "a.yaml:2:3: “0 mm” is zero; expected a length above zero; write the length that you measured"
    )
    assert fault.said.template == in_three(fault.wrong, fault.expected, fault.fix).template
    assert RecipeError([fault]).lines == (fault.line,)
    assert pickle.loads(pickle.dumps(RecipeError([fault]))).lines == (fault.line,)
    cut = CuttingError(message("a piece is too long"), message("at least {least} mm", least="5"))
    assert str(cut) == "a piece is too long; expected at least 5 mm"
    assert cut.lines == ("a piece is too long; expected at least 5 mm",)
    warned = Warning_(Span("a.yaml", 2, 3), message("look"))
    assert (str(warned), warned.said) == ("a.yaml:2:3: warning: look", "warning: look")


def test_a_name_is_as_people_type_it_and_keeps_its_key() -> None:
    name = catalogued("kind.crib-sheet", "crib-sheet")
    again = pickle.loads(pickle.dumps(message("no {kind}", kind=name)))
    assert again == "no crib-sheet"
    assert again.values["kind"].key == "kind.crib-sheet"


def test_an_error_says_what_is_wrong_and_what_to_do_and_travels() -> None:
    error = pickle.loads(pickle.dumps(UsageError(message("{a} is there", a="x"), message("leave it"))))
    assert type(error) is UsageError
    assert str(error) == "x is there; leave it"
    assert error.lines == ("x is there; leave it",)
    assert (error.wrong, error.fix) == ("x is there", "leave it")
    assert isinstance(error.lines[0], Message)
    alone = pickle.loads(pickle.dumps(NoRoomError(message("it is too high"))))
    assert (str(alone), alone.wrong, alone.fix) == ("it is too high", "it is too high", None)


def test_every_part_of_a_fault_on_a_page_is_a_sentence() -> None:
    cut = PageFault(message("is cut off"), message("shorten it"), "Pier\ndrum", (12.4, 8.0), 3, file="a.pdf")
    assert cut.line == (
        "a.pdf, page 3, 12 mm from the left, 8 mm from the top: the text “Pier drum” is cut off; shorten it"
    )
    assert PageFault(message("it is not tagged"), message("report it")).line == "it is not tagged; report it"
    error = pickle.loads(pickle.dumps(ProofError([cut] * (PAGE_FAULT_LIMIT + 2))))
    assert all(isinstance(line, Message) for line in error.lines)
    assert error.lines[-1] == "and 2 more"
    assert str(error) == "\n".join(error.lines)
    assert len(error.lines) == PAGE_FAULT_LIMIT + 1
