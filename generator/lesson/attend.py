"""What somebody in a class makes: a size of a recipe, with their own cloth and the ages of the class."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from generator.base.errors import ClassError, Fault
from generator.base.message import message
from generator.base.spans import Span
from generator.base.units import quoted
from generator.plan.work import Work
from generator.recipe.models import SizeRecipe
from generator.recipe.taught_class import Attendee, TaughtClass


def chosen_work(works: Sequence[Work], attendee: Attendee, span: Span) -> Work:
    """The size that somebody makes, of those of their recipe. Raises ClassError at ``span``."""
    names = [work.size.name for work in works]
    if attendee.size is None and len(works) == 1:
        return works[0]
    found = next((work for work in works if work.size.name == attendee.size), None)
    if found is not None:
        return found
    who = attendee.name or message("somebody in the class")
    recipe = attendee.recipe or message("this recipe")
    wrong = message("{who} makes no size that is named, which {recipe} does not have", who=who, recipe=recipe)
    if attendee.size:
        wrong = message(
            "{who} makes a size {size}, which {recipe} does not have",
            who=who,
            size=quoted(attendee.size),
            recipe=recipe,
        )
    fix = message("write such as {text}", text=f"size: {names[0]}")
    raise ClassError([Fault(span, wrong, message("one of its sizes: {known}", known=", ".join(names)), fix)])


def as_attended(
    size: SizeRecipe, attendee: Attendee, taught: TaughtClass, here: SizeRecipe, key: str
) -> SizeRecipe:
    """The size as this person makes it; the same object where nothing differs.

    ``here`` is a size of the recipe that has the class, ``key`` this person's dotted key in it: what they say
    of their cloth has its place there.
    """
    changed: dict[str, Any] = {}
    makers = {"ages": taught.ages, "blades": taught.blades} if taught.ages else {"blades": taught.blades}
    stated = {name: value for name, value in makers.items() if value is not None}
    if any(getattr(size.makers, name) != value for name, value in stated.items()):
        changed["makers"] = size.makers.model_copy(update=stated)
    if attendee.cloth is not None:
        own = attendee.cloth.model_dump(exclude={"length", "repeat"}, exclude_none=True)
        # The workroom's pattern is not that of a cloth which somebody brings.
        own["repeat"] = attendee.cloth.repeat
        changed["covering"] = size.covering.model_copy(update=own)
        changed["makers"] = changed.get("makers", size.makers).model_copy(update={"own_cloth": True})
        changed["spans"] = {**_without(size.spans, "covering"), **_moved(here, f"{key}.cloth", "covering")}
    return size.model_copy(update=changed) if changed else size


def _without(spans: Mapping[str, Span], section: str) -> dict[str, Span]:
    return {key: span for key, span in spans.items() if key.partition(".")[0] != section}


def _moved(here: SizeRecipe, old: str, new: str) -> dict[str, Span]:
    """Places below one key, told of another."""
    inside = {
        f"{new}{key.removeprefix(old)}": span for key, span in here.spans.items() if key.startswith(f"{old}.")
    }
    return {new: here.span(old), **inside}
