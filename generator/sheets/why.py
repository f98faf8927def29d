"""The reasons for a step's place in a language's sentences, for pages and for the terminal."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from generator.plan.model import Link, Reason, Step
from generator.sheets.called import result
from generator.sheets.formatting import listed
from generator.sheets.wording import Catalogue


def why(step: Step, words: Catalogue) -> tuple[str, ...]:
    """Every reason of a step, a sentence each, in the order of its reasons."""
    return tuple(phrase(reason, words) for reason in step.why)


def phrase(reason: Reason, words: Catalogue) -> str:
    """One reason as a sentence. Raises WordingError if there are no words for its kind."""
    if reason.kind == "needs":
        return _needs(reason, words)
    if reason.kind == "waits":
        things = [
            words.say("why.for", steps=_steps(link.steps, words), thing=result(link.result, words))
            for link in reason.links
        ]
        return (
            words.say("why.waits", things=_list(things, words)) if things else words.say("why.waits-nobody")
        )
    if reason.kind == "beside":
        same = _list((words.say(f"why.same-{name}") for name in reason.same), words)
        return words.say("why.beside", number=reason.step, what=same)
    if reason.links:
        (link,) = reason.links
        return words.say(f"why.{reason.kind}", number=link.steps[0], thing=result(link.result, words))
    return words.say(f"why.{reason.kind}", number=reason.step, minutes=reason.minutes, count=reason.count)


def _needs(reason: Reason, words: Catalogue) -> str:
    made = _list((_from(link, words) for link in reason.links), words)
    stock = _list((words.say("why.thing", thing=result(name, words)) for name in reason.stock), words)
    if made and stock:
        return words.say("why.needs-and-stock", things=made, stock=stock)
    if made:
        return words.say("why.needs", things=made)
    return words.say("why.needs-stock", stock=stock) if stock else words.say("why.needs-nothing")


def _from(link: Link, words: Catalogue) -> str:
    return words.say("why.from", thing=result(link.result, words), steps=_steps(link.steps, words))


def _steps(numbers: Sequence[int], words: Catalogue) -> str:
    if len(numbers) == 1:
        return words.say("why.step", number=numbers[0])
    return words.say("why.steps", numbers=_list(map(str, numbers), words))


def _list(parts: Iterable[str], words: Catalogue) -> str:
    return listed(parts, words.voice)
