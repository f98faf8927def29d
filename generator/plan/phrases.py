"""Words that a technique file carries itself, for its new or changed tasks.

A task may say ``words: {title, do, check, mistake, rescue, see}``; ``do`` is a list, the last three may be,
one for each entry of ``mend_until``. For the crib sheet it may also say ``line``, its line or two beside a
tick box, ``sure``, a short check, and where it is a gate ``box``, a list of what to tick there.

At the top, ``words`` holds whole keys, such as ``tool.awl`` or ``stage.dye``. Any key may end in ``@`` and
the conditions of a variant. What stands here takes the place of the catalogue's words with the same key; what
does not stand here comes from the catalogue ``wording``.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import cache

from generator.base.errors import nearest
from generator.base.message import message
from generator.base.words import PLACEHOLDER
from generator.plan.facts import domain
from generator.plan.fields import Faults
from generator.plan.model import Phrase
from generator.recipe import nodes

OWN = ("title", "do", "check", "mistake", "rescue", "see", "line", "sure", "box")
"""Words that a task may have."""
_SEVERAL = ("mistake", "rescue", "see", "line")
_NUMBERED = ("do", "box")
_GROUPS = ("oval", "corners")
_TOP = re.compile(r"(tool|consumable|layout|stage|pair|label|alt)\.[a-z0-9-]+|caution\.[a-z0-9-]+\.[a-z]+")
_LONGEST = 300


@cache
def conditions() -> frozenset[str]:
    """Every condition that a variant may ask for."""
    found = set(_GROUPS)
    for name, values in domain().items():
        key = name.replace("_", "-")
        for value in values:
            if isinstance(value, bool):
                found.add(key if value else f"no-{key}")
            elif isinstance(value, str):
                found.update((value, f"{key}-{value}"))
    return frozenset(found)


def task_phrases(node: nodes.Node | None, task_key: str, faults: Faults) -> tuple[Phrase, ...]:
    """The words of one task. ``task_key`` is the beginning of its keys."""
    found: list[Phrase] = []
    for entry in _entries(node, faults):
        word, at, variant = entry.key.partition("@")
        if word not in OWN:
            close = nearest(word, OWN)
            fix = message("did you mean {text}?", text=close) if close else message("remove it")
            wrong = message("a task has no words “{word}”", word=word[:40])
            faults.add(entry.key_span, wrong, message("one of {names}", names=", ".join(OWN)), fix)
            continue
        if not _variant(entry, variant, faults):
            continue
        listed = isinstance(entry.node, nodes.Sequence)
        if listed and word not in (*_NUMBERED, *_SEVERAL):
            faults.add(
                entry.node.span,
                message("{word} is one text", word=word),
                message("one text"),
                message("write it in one line"),
            )
            continue
        for place, text in enumerate(_texts(entry.node, faults), start=1):
            part = f".{place}" if word in _NUMBERED or place > 1 else ""
            found.append(Phrase(f"{task_key}.{word}{part}{at}{variant}", text.text, text.span))
    return tuple(found)


def top_phrases(node: nodes.Node | None, faults: Faults) -> tuple[Phrase, ...]:
    """Words for tools, consumables, stages, cautions and ways to share."""
    found = []
    for entry in _entries(node, faults):
        word, _, variant = entry.key.partition("@")
        if not _TOP.fullmatch(word):
            faults.add(
                entry.key_span,
                message("“{word}” is no key of words", word=word[:40]),
                message("such as tool.awl, layout.awl, consumable.dye, stage.dye, caution.dye.hazard"),
                message("write one of these; words of a task stand in the task"),
            )
        elif _variant(entry, variant, faults):
            found += [Phrase(entry.key, text.text, text.span) for text in _texts(entry.node, faults)]
    return tuple(found)


def _entries(node: nodes.Node | None, faults: Faults) -> Iterable[nodes.Entry]:
    if isinstance(node, nodes.Mapping):
        return node
    if node is not None and not isinstance(node, nodes.Hole):
        faults.add(
            node.span,
            message("words is not a section"),
            message("keys with texts"),
            message("write title: and the others"),
        )
    return ()


def _variant(entry: nodes.Entry, variant: str, faults: Faults) -> bool:
    for name in variant.split("+") if "@" in entry.key else ():
        if name not in conditions():
            faults.unknown(entry.key_span, message("condition"), name, conditions())
            return False
    return True


def _texts(node: nodes.Node, faults: Faults) -> list[nodes.Scalar]:
    parts = node.items if isinstance(node, nodes.Sequence) else (node,)
    found = []
    for part in parts:
        if isinstance(part, nodes.Hole):
            continue
        if not isinstance(part, nodes.Scalar) or part.empty:
            faults.add(
                part.span, message("no text stands here"), message("one text"), message("write the words")
            )
            continue
        bare = PLACEHOLDER.sub("", part.text)
        if re.search(r"[{}]", bare):
            faults.add(
                part.span,
                message("a brace belongs to no placeholder"),
                message("such as {text}", text="{panel_length}"),
                message("write {text}", text=message("{brace}and its name{close}", brace="{", close="}")),
            )
        elif re.search(r"\d", bare):
            wrong = message(
                "a number stands in the words; the pages print only numbers that Rimfold works out"
            )
            fix = message("use a measure, such as {text}, or write the number as a word", text="{margin}")
            faults.add(part.span, wrong, message("words, and measures in braces"), fix)
        elif len(part.text) > _LONGEST:
            faults.add(
                part.span,
                message("this text is too long"),
                message("at most {most} signs", most=_LONGEST),
                message("shorten it"),
            )
        else:
            found.append(part)
    return found
