"""Reading the fields of one mapping of a technique, each fault told at its place."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field
from pathlib import Path

from generator.base.errors import FAULT_LIMIT, Fault, InputError, nearest
from generator.base.message import Message, joined, message
from generator.base.spans import Span
from generator.plan.expressions import Expression, ExpressionError, Kind, parse
from generator.plan.facts import condition_kinds, condition_texts
from generator.plan.technique import NAME, Item
from generator.recipe import nodes

_A_NAME = message("at most 60 small letters, digits and hyphens, beginning with a letter")

WORDS_LIMIT = 80
"""How many characters the name of a result or a material may have; it is read in sentences."""

ITEM_LIMIT = 100
"""How many names a list may have."""


@dataclass
class Faults:
    """What is wrong in a file, collected while it is read: no more than a person can use."""

    found: list[Fault] = field(default_factory=list)
    tried: int = 0
    """How many cases its conditions have been tried in so far."""

    def add(self, span: Span, wrong: Message, expected: Message, fix: Message) -> None:
        """Note one fault."""
        if len(self.found) < FAULT_LIMIT:
            self.found.append(Fault(span, wrong, expected, fix))

    def unknown(self, span: Span, noun: Message, name: str, known: Collection[str]) -> None:
        """Note a name that nothing has, with the closest that something has."""
        close = nearest(name, sorted(known))
        fix = message("use one of: {names}", names=", ".join(sorted(known)) or message("none yet"))
        if close:
            fix = message("did you mean {text}?", text=message("“{text}”", text=close))
        wrong = message("there is no {noun} {name}", noun=noun, name=message("“{text}”", text=name))
        self.add(span, wrong, message("a known {noun}", noun=noun), fix)


class Fields:
    """The fields of one mapping. Reads each at most once; whatever is left over is an unknown key."""

    def __init__(self, node: nodes.Node, what: Message, faults: Faults) -> None:
        self.span, self.what, self.faults = node.span, what, faults
        self.entries: dict[str, nodes.Entry] = {}
        if isinstance(node, nodes.Mapping):
            self.entries = {entry.key: entry for entry in node}
        elif not isinstance(node, nodes.Hole):
            faults.add(
                node.span,
                message("{what} is not a section", what=what),
                message("keys with values"),
                message("write key: value lines"),
            )
        self.known: list[str] = []

    def finish(self) -> None:
        """Note every key that nobody asked for."""
        for key, entry in self.entries.items():
            if key not in self.known:
                close = nearest(key, self.known)
                fix = message("did you mean {text}?", text=close) if close else message("remove it")
                wrong = message("{what} has no key “{key}”", what=self.what, key=key[:40])
                self.faults.add(
                    entry.key_span, wrong, message("one of {names}", names=", ".join(self.known)), fix
                )

    def node(self, key: str) -> nodes.Node | None:
        """The value of a key, or None."""
        if key not in self.known:
            self.known.append(key)
        entry = self.entries.get(key)
        if entry is None or (isinstance(entry.node, nodes.Scalar) and entry.node.empty):
            return None
        return entry.node

    def missing(self, key: str) -> None:
        """Note that a key is needed."""
        self.faults.add(
            self.span,
            message("{section} has no {key}", section=self.what, key=key),
            message("the key {key}", key=key),
            message("add {text}", text=f"{key}:"),
        )

    def text(self, key: str, default: str | None = None) -> str | None:
        """A plain text."""
        node = self.node(key)
        if node is None:
            return default
        if isinstance(node, nodes.Scalar):
            return node.text
        if not isinstance(node, nodes.Hole):
            self.faults.add(
                node.span,
                message("{key} is not one value", key=key),
                message("one value"),
                message("write {text}", text=message("{key}: value", key=key)),
            )
        return default

    def name(self, key: str, default: str | None = None) -> str | None:
        """A text that can be part of a file name or a wording key."""
        text = self.text(key)
        if text is None:
            return default
        if not NAME.fullmatch(text):
            self.faults.add(
                self.entries[key].node.span,
                message("“{text}” cannot be a name", text=text[:40]),
                _A_NAME,
                message("write it so"),
            )
        return text

    def one(self, key: str) -> Item | None:
        """One name with its place, or None."""
        text = self.text(key)
        return None if text is None else Item(text, self.entries[key].node.span)

    def flag(self, key: str) -> bool:
        """True or false; false if it is left out."""
        text = self.text(key)
        if text not in (None, "true", "false"):
            span = self.entries[key].node.span
            self.faults.add(
                span,
                message("{text} is neither true nor false", text=key),
                message("true or false"),
                message("write one of them"),
            )
        return text == "true"

    def choice(self, key: str, values: Collection[str], default: str | None = None) -> str | None:
        """One of some words."""
        text = self.text(key)
        if text is None:
            return default
        if text not in values:
            span, close = self.entries[key].node.span, nearest(text, values)
            fix = message("did you mean {text}?", text=close) if close else message("write one of these")
            self.faults.add(
                span, message("{key} cannot be “{text}”", key=key, text=text[:40]), joined(values), fix
            )
            return default
        return text

    def expression(self, key: str, kind: Kind, names: Mapping[str, Kind]) -> Expression | None:
        """A checked expression; a fault and None if it cannot be used."""
        node = self.node(key)
        if node is None:
            return None
        if not isinstance(node, nodes.Scalar):
            if not isinstance(node, nodes.Hole):
                self.faults.add(
                    node.span,
                    message("{key} is not one expression", key=key),
                    message("one expression"),
                    message("write it in a line"),
                )
            return None
        try:
            return parse(node.text, kind, names, condition_texts())
        except ExpressionError as error:
            self.faults.add(node.span, error.wrong, error.expected, error.fix)
            return None

    def condition(self, key: str = "when") -> Expression | None:
        """A condition on the recipe."""
        return self.expression(key, "truth", condition_kinds())

    def items(self, key: str, *, strict: bool = False, once: bool = True) -> tuple[Item, ...]:
        """A list of names; one of them may be ``{what: name, when: condition}``.

        ``strict`` asks for names that can be parts of wording keys, ``once`` for different names. One name
        alone may stand without a list.
        """
        node = self.node(key)
        if node is None or isinstance(node, nodes.Hole):
            return ()
        parts = node.items if isinstance(node, nodes.Sequence) else (node,)
        if len(parts) > ITEM_LIMIT:
            wrong = message("{count} names stand in {key}", count=len(parts), key=key)
            self.faults.add(
                parts[ITEM_LIMIT].span,
                wrong,
                message("at most {most}", most=ITEM_LIMIT),
                message("leave some out"),
            )
            return ()
        found: list[Item] = []
        for part in parts:
            item = self.item(part, key)
            if item is None:
                continue
            if len(item.name) > WORDS_LIMIT:
                wrong = message("a name of {count} characters stands in {key}", count=len(item.name), key=key)
                self.faults.add(
                    item.span,
                    wrong,
                    message("at most {most} characters", most=WORDS_LIMIT),
                    message("shorten it"),
                )
                continue
            if strict and not NAME.fullmatch(item.name):
                self.faults.add(
                    item.span,
                    message("“{text}” cannot be a name", text=item.name[:40]),
                    _A_NAME,
                    message("write it so"),
                )
            if once and any((other.name, other.when) == (item.name, item.when) for other in found):
                wrong = message("“{name}” stands twice in {key}", name=item.name, key=key)
                self.faults.add(item.span, wrong, message("each name once"), message("remove one of the two"))
                continue
            found.append(item)
        return tuple(found)

    def item(self, node: nodes.Node, key: str) -> Item | None:
        """One name, or a mapping of a name and its condition."""
        if isinstance(node, nodes.Hole):
            return None
        if isinstance(node, nodes.Scalar) and not node.empty:
            return Item(node.text, node.span)
        if isinstance(node, nodes.Mapping):
            fields = Fields(node, message("an entry of {key}", key=key), self.faults)
            name, when = fields.text("what"), fields.condition()
            fields.finish()
            if name is None:
                fields.missing("what")
                return None
            return Item(name, node.span, when)
        expected = message("a name, or {text}", text="{what: name, when: condition}")
        self.faults.add(
            node.span, message("an entry of {key} is not a name", key=key), expected, message("write a name")
        )
        return None


def open_list(
    file: Path | nodes.Document, what: Message, key: str, sample: str, error: type[InputError]
) -> tuple[nodes.Document, Fields]:
    """A file that stands beside recipes, read here or before, and its fields, which collect its faults.

    ``what`` it is with its article, the ``key`` of its version, and a ``sample`` to begin from. Raises
    ``error`` for a file that cannot be read or is no such thing.
    """
    document = nodes.read_document(file, what) if isinstance(file, Path) else file
    version = f"{key}: 1"
    if not isinstance(document.root, nodes.Mapping) or document.faults:
        none = Fault(
            Span(document.file, 1, 1),
            message("this is not {what}", what=what),
            joined([version]),
            message("begin from {sample}", sample=sample),
        )
        raise error(document.faults or [none])
    top = Fields(document.root, what, Faults())
    if top.text(key) != "1":
        top.faults.add(
            top.span,
            message("this file does not begin as {what}", what=what),
            joined([version]),
            message("add {text}", text=version),
        )
    return document, top
