"""``rimfold new`` as a conversation: plain questions, each answer judged by the recipe's own readers."""

from __future__ import annotations

import textwrap
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from pathlib import Path

import click

from generator.base.errors import InputError, UsageError, nearest
from generator.base.message import either, joined, message
from generator.cli.overview import WIDTH, changed_numbers, reasons, show
from generator.cli.speech import said
from generator.examine import Examined, examine, outlines
from generator.recipe.draft import Draft
from generator.recipe.ring_size import example, ring_size, size_name, usual
from generator.recipe.values import ValueFault

UNKNOWN = "-"
"""The answer of one who does not know yet."""


@dataclass(frozen=True)
class Question:
    """One question, the answer that stands if Enter is pressed, and what an answer does to the recipe.

    ``put`` may raise ValueFault; what it leaves good is judged by the recipe's readers.
    """

    ask: str
    default: str
    put: Callable[[Draft, str], Draft]


def converse(path: Path) -> Draft:
    """Ask until every answer is good. Raises UsageError for a path that no recipe can have, click.Abort."""
    draft = Draft(stated={"lamp": None})
    try:
        examined = examine(path, draft.text())
    except InputError as error:
        raise UsageError(joined(reasons(error), "\n")) from error
    click.echo("Enter takes the answer in brackets. Say lengths with their unit: 280 mm, 28 cm, 11 3/4 in.")
    for make in _questions():
        question = make(draft)
        if question is None:
            continue
        draft, now = _asked(question, draft, path)
        _tell(changed_numbers(examined.works[0], now.works[0]))
        examined = now
    click.echo()
    show(examined.works[0])
    for warning in examined.warnings:
        click.echo(said(warning.said), err=True)
    return draft


def _asked(question: Question, draft: Draft, path: Path) -> tuple[Draft, Examined]:
    """The draft with a good answer."""
    while True:
        answer: str = click.prompt(question.ask, default=question.default)
        try:
            tried = question.put(draft, answer.strip())
            return tried, examine(path, tried.text())
        except ValueFault as fault:
            _tell([said(fault.said)])
        except InputError as error:
            _tell([said(reason) for reason in reasons(error)])


def _tell(lines: tuple[str, ...] | list[str]) -> None:
    for line in lines:
        click.echo(textwrap.fill(line, WIDTH, initial_indent="  ", subsequent_indent="  "))


def _questions() -> Iterator[Callable[[Draft], Question | None]]:
    """In the order of asking. Each looks at what is said by then; None: it need not be asked."""
    yield _shape
    yield _size
    yield from (_optional(key) for key in dict.fromkeys(k for o in outlines().values() for k in o.optional))
    yield _height
    yield _stated("use", "Does it hang from a flex, or stand on a base? pendant or table")
    yield _stated("ring.struts", "How many arms has the fitter ring, the one with the lamp-holder?")
    yield _stated("covering.name", "What is the cloth called?")
    yield _stated("covering.width", "How wide is the cloth, without its woven edges?")
    yield _stated("covering.direction", "May it be turned (any), or has its print an up (one-way)?")
    yield _stated("covering.frays", "Does its cut edge lose threads? little or much")
    yield _stated("panel.kiss_cut", "Does the panel come scored along its margins? true or false")
    yield _lamp
    yield _watts
    yield _stated("makers.hand", "Which hand holds the tool? right or left")
    yield _title


def _shape(draft: Draft) -> Question:
    known = outlines()

    def put(before: Draft, answer: str) -> Draft:
        answer = answer.lower()
        if answer not in known:
            close = nearest(answer, known)
            fix = message("write {text}", text=close) if close else message("write one of them")
            raise ValueFault(
                message(
                    "{text} is not known for {key}",
                    text=message("“{text}”", text=answer),
                    key=message("“{text}”", text="outline"),
                ),
                either([*known]),
                fix,
            )
        if answer == before.outline:
            return before
        dimensions = usual(known[answer])
        name = size_name(dimensions, known[answer])
        return replace(before, outline=answer, dimensions=dimensions, name=name)

    return Question(f"What shape are the rings? {', '.join(known)}", draft.outline, put)


def _size(draft: Draft) -> Question:
    keys = outlines()[draft.outline]
    measures = " x ".join(key.replace("_", " ") for key in keys.counts + keys.lengths)

    def put(before: Draft, answer: str) -> Draft:
        found = {**before.dimensions, **ring_size(answer, before.outline, keys)}
        ordered = {key: found[key] for key in keys.all if key in found}
        return replace(before, dimensions=ordered, name=size_name(ordered, keys))

    ask = f"How large is a ring, outside its wire? {measures}, such as {example(keys)}"
    return Question(ask, size_name(draft.dimensions, keys), put)


def _optional(key: str) -> Callable[[Draft], Question | None]:
    name = key.replace("_", " ")

    def make(draft: Draft) -> Question | None:
        if key not in outlines()[draft.outline].optional:
            return None
        return Question(
            f"What is its {name}?",
            draft.dimensions[key],
            lambda before, answer: replace(before, dimensions={**before.dimensions, key: answer}),
        )

    return make


def _height(draft: Draft) -> Question:
    ask = "How high is the finished shade?"
    return Question(ask, draft.height, lambda before, answer: replace(before, height=answer))


def _stated(key: str, ask: str) -> Callable[[Draft], Question]:
    """A question whose usual answer is what the recipe says by itself."""
    return lambda draft: Question(ask, draft.value(key), lambda before, answer: before.saying({key: answer}))


def _lamp(draft: Draft) -> Question:
    def put(before: Draft, answer: str) -> Draft:
        if answer == UNKNOWN:
            return before
        stated = {key: value for key, value in before.stated.items() if key != "lamp"}
        return replace(before, stated={**stated, "lamp.diameter": answer, "lamp.watts": None})

    ask = f"How wide is the lamp (the bulb) at its widest? {UNKNOWN} if you do not know yet"
    return Question(ask, Draft().value("lamp.diameter"), put)


def _watts(draft: Draft) -> Question | None:
    if "lamp.diameter" not in draft.stated:
        return None

    def put(before: Draft, answer: str) -> Draft:
        return before if answer == UNKNOWN else before.saying({"lamp.watts": answer})

    return Question(f"What wattage is marked on it? {UNKNOWN} if you do not know yet", UNKNOWN, put)


def _title(draft: Draft) -> Question:
    default = Draft().title if draft.outline == Draft().outline else f"My first {draft.outline}"
    return Question("What shall the shade be called?", default, lambda d, answer: replace(d, title=answer))
