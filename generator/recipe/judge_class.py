"""What is wrong with a recipe's class: missing keys, sizes that are not there, a blade for the young."""

from __future__ import annotations

from collections.abc import Iterator

from pydantic import ValidationError

from generator.base.errors import Fault, nearest
from generator.base.message import message
from generator.base.units import quoted
from generator.recipe.faults import Translator
from generator.recipe.merge import merge, plain
from generator.recipe.models import YOUNG
from generator.recipe.nodes import Entry, Mapping, Node, Scalar, Sequence
from generator.recipe.taught_class import Rest, Table, TaughtClass
from generator.recipe.values import ages

CLASS = "class"
"""The section's key."""


def merged_class(root: Mapping, house: Mapping) -> Entry | None:
    """The section ``class`` of a recipe laid over that of the house; None if the recipe has none."""
    own, below = root.get(CLASS), house.get(CLASS)
    if own is None or below is None:
        return own
    if not (isinstance(own.node, Mapping) and isinstance(below.node, Mapping)):
        return own
    return Entry(own.key, own.key_span, merge(below.node, own.node))


def class_judged(root: Mapping, taught: Entry | None, translator: Translator) -> Iterator[Fault]:
    """Keys that neither recipe nor house states, people's sizes that are not there, and a young learner who
    is given a blade."""
    if taught is None or not isinstance(taught.node, Mapping):
        return
    yield from _missing(taught, translator)
    yield from _sizes_asked(root, taught.node, translator)
    yield from _young_blades(root, taught.node)


def _missing(taught: Entry, translator: Translator) -> Iterator[Fault]:
    node = taught.node
    assert isinstance(node, Mapping)
    for key, info in TaughtClass.model_fields.items():
        dotted = f"{CLASS}.{key}"
        if info.is_required() and node.get(key) is None and dotted not in translator.meant:
            yield Fault(
                taught.key_span,
                message("{section} has no {key}", section=quoted(CLASS), key=key),
                message("the key {key} in it", key=key),
                translator.example(dotted),
            )
    rest, tables = node.get("break"), node.get("tables")
    if rest and isinstance(rest.node, Mapping):
        for key in Rest.model_fields:
            if rest.node.get(key) is None and f"{CLASS}.break.{key}" not in translator.meant:
                yield Fault(
                    rest.key_span,
                    message("{section} has no {key}", section=quoted("break"), key=key),
                    message("the key {key} in it", key=key),
                    message("add {text}", text=key),
                )
    listed = tables.node.items if tables and isinstance(tables.node, Sequence) else ()
    for index, table in enumerate(listed):
        for key, info in Table.model_fields.items() if isinstance(table, Mapping) else ():
            dotted = f"{CLASS}.tables.{index}.{key}"
            if info.is_required() and _lacks(table, key) and dotted not in translator.meant:
                fix = message("add such as {text}", text=f"{key}: {'180 cm' if key == 'length' else '75 cm'}")
                yield Fault(
                    table.span,
                    message("a table has no {key}", key=key),
                    message("the key {key} in it", key=key),
                    fix,
                )


def _lacks(node: Node, key: str) -> bool:
    return isinstance(node, Mapping) and node.get(key) is None


def _sizes_asked(root: Mapping, taught: Mapping, translator: Translator) -> Iterator[Fault]:
    """Sizes that this recipe does not have, or that nobody says where it has several."""
    sizes, people = root.get("sizes"), taught.get("people")
    if not (people and sizes and isinstance(sizes.node, Mapping) and len(sizes.node)):
        return
    known = [size.key for size in sizes.node]
    if isinstance(people.node, Scalar) and len(known) > 1 and not people.node.empty:
        wrong = message("it is not said which size the people of the class make")
        expected = message("a list of people, each with one of the sizes: {known}", known=", ".join(known))
        yield Fault(
            people.node.span,
            wrong,
            expected,
            message("write {text}", text=f"people: [{{name: Ines, size: {known[0]}}}, …]"),
        )
    listed = people.node.items if isinstance(people.node, Sequence) else ()
    for index, person in enumerate(listed):
        if not isinstance(person, Mapping) or person.get("recipe") is not None:
            continue
        size = person.get("size")
        meant = f"{CLASS}.people.{index}.size" in translator.meant
        if size is None and len(known) > 1 and not meant:
            fix = message("add such as {text}", text=f"size: {known[0]}")
            yield Fault(
                person.span,
                message("somebody in the class has no size"),
                message("one of {names}", names=", ".join(known)),
                fix,
            )
        elif size and isinstance(size.node, Scalar) and not size.node.empty and size.node.text not in known:
            close = nearest(size.node.text, known)
            fix = (
                message("write {text} if you mean that", text=close)
                if close
                else message("write one of them, or add the size")
            )
            wrong = message(
                "somebody makes a size {text}, which this recipe does not have", text=quoted(size.node.text)
            )
            yield Fault(
                size.node.span, wrong, message("one of its sizes: {known}", known=", ".join(known)), fix
            )


def _young_blades(root: Mapping, taught: Mapping) -> Iterator[Fault]:
    """A blade in a young learner's hand. The class says the ages, or the makers of the recipe do."""
    makers = root.get("makers")
    own = makers.node if makers and isinstance(makers.node, Mapping) else None
    stated = taught.get("ages") or (own.get("ages") if own else None)
    blades = taught.get("blades")
    if stated is None or blades is None or not isinstance(blades.node, Scalar):
        return
    try:
        youngest = min(ages(plain(stated.node)))
    except (ValueError, ValidationError, TypeError):
        return
    if youngest < YOUNG and blades.node.text == "learner":
        yield Fault(
            blades.node.span,
            message(
                "a blade is given to a young learner (the youngest in the class is {youngest})",
                youngest=youngest,
            ),
            message("an adult for blades and iron where somebody is under {young}", young=YOUNG),
            message("name an adult: blades: adult, and adult: with the name"),
        )
