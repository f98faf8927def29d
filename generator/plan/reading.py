"""From a technique file's nodes to a technique; every fault of the text at its line."""

from __future__ import annotations

from functools import lru_cache
from itertools import product
from pathlib import Path
from typing import cast

from generator.base.errors import Fault, TechniqueError
from generator.base.message import Number, as_written, joined, message
from generator.base.spans import Span
from generator.plan.expressions import Expression, ExpressionError, parse
from generator.plan.facts import COUNT_MEASURES, condition_kinds, domain, minute_kinds
from generator.plan.fields import Faults, Fields
from generator.plan.model import Demonstration, Wait
from generator.plan.phrases import task_phrases, top_phrases
from generator.plan.technique import Ask, Item, StageEntry, TaskEntry, Technique
from generator.recipe import nodes
from generator.recipe.models import SECTIONS, TAPER_KEYS
from generator.recipe.source import Source, read_source

TASK_LIMIT = 200
"""How many tasks a technique may have."""

WAITS = ("at-once", "may-wait", "safe-pause")
MOMENTS = ("at-once", "any-time", "never")
"""Moments of mending that are no task's name."""

# Values that minutes are tried with, so that a division by zero shows before a recipe meets it.
_TRIALS = (0.5, 1.0, 2.0, 3.0, 1112.0)
_NO_MINUTES = parse("0", "number", {})
_BOTH_HANDS = parse("2", "number", {})
HANDS = (1, 2, 3, 4)
LONGEST_DEMONSTRATION = 240.0
"""Minutes."""
TEACHES = ("0", "1", "2", "3")
"""How much a picture teaches: nothing that a word does not, to what only a picture can tell."""


def read_technique(path: Path, name: str) -> Technique:
    """Read one technique file. Raises TechniqueError with the faults of its text; its graph is not judged."""
    return _read(read_source(path, message("a technique")), name)


@lru_cache(maxsize=16)
def _read(source: Source, name: str) -> Technique:
    # Kept by what the file holds: a list of parts asks for techniques that a recipe of its own has read, and
    # so do the recipes of the people in a class.
    document = nodes.document_of(source, message("a technique"))
    if document.root is None or document.faults:
        raise TechniqueError(document.faults)
    return technique_of(document, name)


def technique_of(document: nodes.Document, name: str) -> Technique:
    """The technique of a document. Raises TechniqueError."""
    faults = Faults()
    if not isinstance(document.root, nodes.Mapping):
        span = document.root.span if document.root else Span(document.file, 1, 1)
        faults.add(
            span,
            message("this is no technique"),
            message("keys with values"),
            message("begin from rolled-edge.yaml"),
        )
        raise TechniqueError(faults.found)
    top = Fields(document.root, message("a technique"), faults)
    version = top.text("technique")
    if version != "1":
        faults.add(
            top.span,
            message("this file does not begin as a technique"),
            joined(["technique: 1"]),
            message("add {text}", text="technique: 1"),
        )
    wording = top.name("wording", name) or name
    lists = {
        key: top.items(key, strict=strict)
        for key, strict in (
            ("materials", False),
            ("finish", False),
            ("faces", True),
            ("places", True),
            ("tools", True),
            ("consumables", True),
            ("cautions", True),
        )
    }
    asks = _asks(top, faults)
    stages = _stages(top, faults)
    tasks = _tasks(top, faults, wording)
    phrases = top_phrases(top.node("words"), faults)
    top.finish()
    for key, several in (("stages", stages), ("tasks", tasks)):
        if not several and not faults.found:
            top.missing(key)
    if faults.found:
        raise TechniqueError(faults.found)
    return Technique(
        name=name,
        file=document.file,
        digest=document.digest,
        wording=wording,
        asks=asks,
        stages=stages,
        tasks=tasks,
        phrases=phrases,
        **lists,
    )


def _asks(top: Fields, faults: Faults) -> tuple[Ask, ...]:
    node = top.node("asks")
    if node is None:
        return ()
    if not isinstance(node, nodes.Sequence):
        faults.add(
            node.span,
            message("asks is not a list"),
            message("a list"),
            message("put a dash before each of its entries"),
        )
        return ()
    found = []
    for part in node.items:
        fields = Fields(part, message("an entry of asks"), faults)
        key, holds = fields.text("key"), fields.condition("holds")
        texts = [fields.text(each) for each in ("wrong", "expected", "fix")]
        fields.finish()
        for name in ("key", "holds", "wrong", "expected", "fix"):
            if name not in fields.entries and isinstance(part, nodes.Mapping):
                fields.missing(name)
        if key is not None and key not in _keys():
            faults.unknown(fields.entries["key"].node.span, message("key of a recipe"), key, _keys())
        if holds is not None and key is not None and all(texts):
            wrong, expected, fix = (as_written(text or "") for text in texts)
            found.append(Ask(key, holds, wrong, expected, fix))
    return tuple(found)


def _keys() -> frozenset[str]:
    """Keys of a recipe that a technique may ask for: sections, and what stands in them."""
    inner = {f"{name}.{field}" for name, section in SECTIONS.items() for field in section.model_fields}
    return frozenset({*SECTIONS, *inner, *TAPER_KEYS, "use", "outline", "height"})


def _stages(top: Fields, faults: Faults) -> tuple[StageEntry, ...]:
    node = top.node("stages")
    if node is None:
        return ()
    if not isinstance(node, nodes.Sequence):
        faults.add(
            node.span,
            message("stages is not a list"),
            message("a list of stages"),
            message("put a dash before each stage"),
        )
        return ()
    found = []
    for part in node.items:
        if isinstance(part, nodes.Scalar) and not part.empty:
            found.append(StageEntry(part.text, part.span))
        elif isinstance(part, nodes.Mapping):
            fields = Fields(part, message("a stage"), faults)
            id_, when, free = fields.name("id"), fields.condition(), fields.flag("free")
            station = fields.flag("station")
            fields.finish()
            if id_ is None:
                fields.missing("id")
            else:
                found.append(StageEntry(id_, part.span, when, station, free))
        elif not isinstance(part, nodes.Hole):
            faults.add(
                part.span,
                message("a stage is not a name"),
                message("a name"),
                message("write the stage's name"),
            )
    return tuple(found)


def _tasks(top: Fields, faults: Faults, wording: str) -> tuple[TaskEntry, ...]:
    node = top.node("tasks")
    if node is None:
        return ()
    if not isinstance(node, nodes.Sequence):
        faults.add(
            node.span,
            message("tasks is not a list"),
            message("a list of tasks"),
            message("put a dash before each task's id"),
        )
        return ()
    if len(node.items) > TASK_LIMIT:
        extra = node.items[TASK_LIMIT].span
        faults.add(
            extra,
            message("there are too many tasks"),
            message("at most {most}", most=TASK_LIMIT),
            message("make two techniques"),
        )
        return ()
    read = [_task(part, faults, wording) for part in node.items if not isinstance(part, nodes.Hole)]
    return tuple(task for task in read if task is not None)


def _task(node: nodes.Node, faults: Faults, wording: str) -> TaskEntry | None:
    if not isinstance(node, nodes.Mapping):
        faults.add(
            node.span,
            message("a task is not a section"),
            message("keys with values"),
            message("write id: and its other keys"),
        )
        return None
    fields = Fields(node, message("a task"), faults)
    id_ = fields.name("id")
    if id_ is not None:
        fields.what = message("the task {id}", id=id_)
    wording = fields.name("wording", wording) or wording
    stage = fields.one("stage")
    first, practised = _minutes(fields.node("minutes"), fields, faults)
    pair, share = _pair(fields, faults)
    rest = fields.expression("rest", "number", minute_kinds())
    if rest is not None:
        _try(rest, fields, "rest", faults)
    entry = TaskEntry(
        id=id_ or "",
        span=node.span,
        stage=stage or Item("", node.span),
        when=fields.condition(),
        needs=fields.items("needs"),
        gives=fields.items("gives"),
        tools=fields.items("tools", strict=True),
        consumables=fields.items("consumables", strict=True),
        cautions=fields.items("cautions", strict=True),
        first_time=first or _NO_MINUTES,
        practised=practised or _NO_MINUTES,
        figure=fields.name("figure", id_) or "",
        face=fields.one("face"),
        place=fields.one("place"),
        after=cast("Wait", fields.choice("after", WAITS, "may-wait")),
        irreversible=fields.flag("irreversible"),
        gate=fields.flag("gate"),
        pair=pair,
        adult=fields.flag("adult"),
        hands=_hands(fields, faults),
        mend_until=fields.items("mend_until", once=False),
        wording=wording,
        share=share,
        rest=rest,
        times=fields.choice("times", COUNT_MEASURES),
        demonstration=_demonstration(fields, faults),
        ahead=fields.flag("ahead"),
        wall=fields.flag("wall"),
        teaches=_teaches(fields),
        phrases=task_phrases(fields.node("words"), f"{wording}.{id_}", faults),
    )
    fields.finish()
    for key, value in (("id", id_), ("stage", stage), ("gives", entry.gives)):
        if not value:
            fields.missing(key)
    return entry if id_ and stage else None


def _teaches(fields: Fields) -> int | None:
    """How much a task's picture teaches beside those of the others."""
    written = fields.choice("teaches", TEACHES)
    return None if written is None else int(written)


def _hands(fields: Fields, faults: Faults) -> Expression:
    """How many hands a task takes: whatever is asked of the recipe, one to four."""
    hands = fields.expression("hands", "number", condition_kinds())
    if hands is None:
        return _BOTH_HANDS
    names = sorted(hands.names)
    for values in product(*(domain()[name] for name in names)):
        count = hands.value(dict(zip(names, values, strict=True)))
        if count not in HANDS:
            wrong = message(
                "{what} cannot be done with {count} hands", what=fields.what, count=Number(f"{count:g}")
            )
            where = fields.entries["hands"].node.span
            faults.add(where, wrong, message("1 to 4 hands"), message("write such as 4 if large else 2"))
            break
    return hands


def _pair(fields: Fields, faults: Faults) -> tuple[str | None, float | None]:
    """How two people share a task, a wording key, and what part of its minutes they take together."""
    if not isinstance(node := fields.node("pair"), nodes.Mapping):
        return fields.name("pair"), None
    inner = Fields(node, message("pair of {what}", what=fields.what), faults)
    how, written = inner.name("how"), inner.text("factor")
    inner.finish()
    if written is None:
        inner.missing("factor")
        return how, None
    try:
        factor = float(written)
    except ValueError:
        factor = 0.0
    if not 0.1 <= factor <= 1.0:
        span = inner.entries["factor"].node.span
        wrong = message("two people cannot take {text} times the minutes", text=written[:20])
        faults.add(
            span,
            wrong,
            message("a factor from 0.1 to 1, such as 0.6"),
            message("write what the two of them need"),
        )
        return how, None
    return how, factor


def _demonstration(fields: Fields, faults: Faults) -> Demonstration | None:
    """What a tutor shows before the task, and how many minutes that takes."""
    if (node := fields.node("demonstration")) is None:
        return None
    inner = Fields(node, message("demonstration of {what}", what=fields.what), faults)
    name, written = inner.name("name"), inner.text("minutes")
    inner.finish()
    for key, value in (("name", name), ("minutes", written)):
        if value is None and isinstance(node, nodes.Mapping):
            inner.missing(key)
    if name is None or written is None:
        return None
    try:
        minutes = float(written)
    except ValueError:
        minutes = 0.0
    if not 0.0 < minutes <= LONGEST_DEMONSTRATION:
        span = inner.entries["minutes"].node.span
        most = message(
            "minutes, more than none and at most {most}",
            most=Number(f"{LONGEST_DEMONSTRATION:g}"),
        )
        wrong = message("a demonstration cannot take {text} minutes", text=written[:20])
        faults.add(span, wrong, most, message("write a number such as 6"))
        return None
    return Demonstration(name, minutes)


def _minutes(
    node: nodes.Node | None, fields: Fields, faults: Faults
) -> tuple[Expression | None, Expression | None]:
    if node is None:
        fields.missing("minutes")
        return None, None
    inner = Fields(node, message("minutes of {what}", what=fields.what), faults)
    found = []
    for key in ("first_time", "practised"):
        expression = inner.expression(key, "number", minute_kinds())
        if key not in inner.entries and isinstance(node, nodes.Mapping):
            inner.missing(key)
        if expression is not None:
            _try(expression, inner, key, faults)
        found.append(expression)
    inner.finish()
    return found[0], found[1]


def _try(expression: Expression, fields: Fields, key: str, faults: Faults) -> None:
    """Work minutes out for some values of all their names, so that an impossible one is found at its line."""
    for trial in _TRIALS:
        try:
            expression.value(
                {name: domain()[name][0] if name in domain() else trial for name in expression.names}
            )
        except ExpressionError as error:
            faults.found.append(Fault(fields.entries[key].node.span, error.wrong, error.expected, error.fix))
            return
