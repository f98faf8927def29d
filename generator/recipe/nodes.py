"""From YAML text to a tree of located nodes. It knows YAML and nothing of recipes.

The parser's events are used, never its constructors: no value is guessed (``25`` stays the text ``25``,
``no`` stays ``no``), no object is made, nothing is expanded, and nesting costs no recursion.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import yaml

from generator.base.errors import FAULT_LIMIT, Fault
from generator.base.message import Message, message
from generator.base.spans import Span
from generator.recipe.source import PLACEHOLDER, Source, hidden_in, read_source, source_of
from generator.recipe.syntax import explain

RECIPE = message("a recipe")

DEPTH_LIMIT = 20
"""How deep sections may stand in one another."""

NODE_LIMIT = 10_000
"""How many keys and values a file may hold."""


@dataclass(frozen=True, slots=True)
class Scalar:
    """One value, as the text that was written."""

    text: str
    span: Span
    quoted: bool = False

    @property
    def empty(self) -> bool:
        """Whether nothing is written, or one of YAML's words for nothing."""
        return not self.quoted and self.text in ("", "~", "null", "Null", "NULL")


@dataclass(frozen=True, slots=True)
class Hole:
    """A value that could not be read; its fault is told already."""

    span: Span


@dataclass(frozen=True, slots=True)
class Sequence:
    """A list."""

    items: tuple[Node, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Entry:
    """A key and its value."""

    key: str
    key_span: Span
    node: Node


@dataclass(frozen=True, slots=True)
class Mapping:
    """Keys and values in the order in which they are written."""

    entries: tuple[Entry, ...]
    span: Span

    def get(self, key: str) -> Entry | None:
        """The entry of a key, or None."""
        return next((entry for entry in self.entries if entry.key == key), None)

    def __iter__(self) -> Iterator[Entry]:
        return iter(self.entries)

    def __len__(self) -> int:
        return len(self.entries)


Node = Scalar | Mapping | Sequence | Hole


@dataclass(frozen=True)
class Document:
    """A file as a tree. ``root`` is None where syntax or encoding leaves nothing to judge; faults say why."""

    file: str
    root: Node | None
    faults: tuple[Fault, ...]
    digest: str
    """SHA-256 of the file's bytes, hex."""


def read_document(path: Path | str, noun: Message = RECIPE) -> Document:
    """The located tree of a YAML file, with every fault of its text. Raises nothing."""
    return document_of(read_source(path, noun), noun)


def parse_document(text: str, file: str, noun: Message = RECIPE) -> Document:
    """The same for text that is at hand. Raises nothing."""
    return document_of(source_of(text.encode("utf-8", "surrogatepass"), file, noun), noun)


def document_of(source: Source, noun: Message = RECIPE) -> Document:
    """The same for a source that is read already. Raises nothing."""
    if source.text is None:
        return Document(source.file, None, source.faults, source.digest)
    quick = _quickly(source.text, source.file, noun)
    builder = _Builder(source.file, noun)
    root = quick or builder.build(source.text)
    faults = (source.faults + tuple(builder.faults))[:FAULT_LIMIT]
    return Document(source.file, root, faults, source.digest)


@dataclass
class _Open:
    """A mapping or list that is still being read."""

    span: Span
    is_mapping: bool
    nodes: list[Node] = field(default_factory=list)
    entries: list[Entry] = field(default_factory=list)
    seen: dict[str, Span] = field(default_factory=dict)
    key: tuple[str | None, Span] | None = None
    """The key whose value comes next; its text is None if the key is no use."""


def _quickly(text: str, file: str, noun: Message) -> Node | None:
    """The root of a text that is plainly good, by libyaml's parser; None where anything at all is odd.

    It is some ten times as quick, and at a few places not the same: it takes a ? within a word for a part of
    it, puts an empty value elsewhere, forgives more behind | and >, and complains in other words. So a text
    with any of these or any fault is left to the parser whose answers people are told
    (``tests/recipe/test_two_parsers.py``).
    """
    parser = getattr(yaml, "CSafeLoader", None)  # where PyYAML was built without libyaml, there is none
    if parser is None or "?" in text:
        return None
    builder = _Careful(file, noun)
    try:
        root = builder.read(parser(text), text)
    except (_Odd, yaml.YAMLError, ValueError):
        return None
    return None if builder.faults else root


class _Odd(Exception):  # noqa: N818 - nobody is told: the text is read in another way
    """Something that two parsers do not take for the same."""


class _Builder:
    """Builds the tree of one file from the parser's events."""

    def __init__(self, file: str, noun: Message) -> None:
        self.file = file
        self.noun = noun
        self.faults: list[Fault] = []
        self.stack: list[_Open] = []
        self.root: Node | None = None
        self.count = 0

    def fault(self, span: Span, wrong: Message, expected: Message, fix: Message) -> None:
        self.faults.append(Fault(span, wrong, expected, fix))

    def build(self, text: str) -> Node | None:
        """The root, read by the parser that has words for what is wrong."""
        return self.read(yaml.SafeLoader(text), text)

    def read(self, loader: Any, text: str) -> Node | None:
        """The same by a parser that is given."""
        documents = 0
        try:
            while loader.check_event():
                event = loader.get_event()
                if isinstance(event, yaml.DocumentStartEvent):
                    documents += 1
                    if documents == 2:
                        self.fault(
                            self.span(event.start_mark),
                            message("a second document begins here"),
                            message("one document in a file"),
                            message("remove the line ---, or move what follows into a file of its own"),
                        )
                        break
                elif not self.take(event):
                    return None
        except yaml.MarkedYAMLError as error:
            self.faults.append(explain(error, self.file, text))
            return None
        except (ValueError, OverflowError):
            # An escape beyond Unicode, or an absurd version number: the parser has no words for it.
            self.impossible(loader)
            return None
        finally:
            loader.dispose()
        if self.root is None or (isinstance(self.root, Scalar) and self.root.empty):
            if not self.faults:
                self.fault(
                    Span(self.file, 1, 1),
                    message("this file holds nothing"),
                    self.noun,
                    message("begin from a sample"),
                )
            return None
        return self.root

    def impossible(self, loader: Any) -> None:
        """Tell what the parser has no words for."""
        self.fault(
            self.span(loader.get_mark()),
            message("this special character or number does not exist"),
            message("plain text"),
            message("write the character itself, or put the text in single quotes"),
        )

    def span(self, mark: Any) -> Span:
        return Span(self.file, mark.line + 1, mark.column + 1)

    def take(self, event: yaml.Event) -> bool:
        """Use one event; False if reading must stop."""
        if isinstance(event, yaml.NodeEvent):
            self.count += 1
            span = self.span(event.start_mark)
            if self.count > NODE_LIMIT:
                self.fault(
                    span,
                    message("this file holds too much"),
                    message("at most {node_limit} values", node_limit=NODE_LIMIT),
                    message("shorten it"),
                )
                return False
            if len(self.stack) >= DEPTH_LIMIT and isinstance(event, yaml.CollectionStartEvent):
                self.fault(
                    span,
                    message("sections stand too deep in one another here"),
                    message("at most {depth_limit} levels", depth_limit=DEPTH_LIMIT),
                    message("close the brackets, or move the section out"),
                )
                return False
            self.refuse_marks(event, span)
            if isinstance(event, yaml.CollectionStartEvent):
                self.stack.append(_Open(span, isinstance(event, yaml.MappingStartEvent)))
            elif isinstance(event, yaml.ScalarEvent):
                self.place(self.scalar(event, span))
            else:
                self.place(Hole(span))
        elif isinstance(event, yaml.CollectionEndEvent):
            done = self.stack.pop()
            node: Node = (
                Mapping(tuple(done.entries), done.span)
                if done.is_mapping
                else Sequence(tuple(done.nodes), done.span)
            )
            self.place(node)
        return True

    def refuse_marks(self, event: yaml.NodeEvent, span: Span) -> None:
        """Anchors, aliases and tags: nobody needs them, and they can do harm."""
        if isinstance(event, yaml.AliasEvent):
            wrong = message(
                "a value cannot begin with * (*{anchor} stands for another value)", anchor=event.anchor
            )
            self.fault(
                span,
                wrong,
                message("the value itself"),
                message("write the value out, or put a text in quotes"),
            )
        elif event.anchor is not None:
            wrong = message("a value cannot begin with & (&{anchor} names a value)", anchor=event.anchor)
            self.fault(
                span, wrong, message("the value itself"), message("remove the name, or put a text in quotes")
            )
        tag = getattr(event, "tag", None)
        if tag is not None:
            self.fault(
                span,
                message("a value cannot begin with ! (it says what kind the value is)"),
                message("the value itself"),
                message("remove the word with the !, or put a text in quotes"),
            )

    def scalar(self, event: yaml.ScalarEvent, span: Span) -> Scalar:
        text = event.value.replace(PLACEHOLDER, "")
        hidden = hidden_in(text)
        if hidden:
            self.fault(
                span,
                message(
                    "this text holds a hidden character, written with a backslash ({hidden})", hidden=hidden
                ),
                message("text without hidden characters"),
                message("remove the backslash and what follows it"),
            )
            text = "".join(c for c in text if not hidden_in(c))
        # The one parser has None for a plain value, the other an empty text.
        return Scalar(text, span, quoted=bool(event.style))

    def place(self, node: Node) -> None:
        """Put a finished node where it belongs: the root, a list, a key or a key's value."""
        if not self.stack:
            self.root = node
            return
        top = self.stack[-1]
        if not top.is_mapping:
            top.nodes.append(node)
        elif top.key is None:
            top.key = (self.key_of(node, top), node.span)
        else:
            key, key_span = top.key
            top.key = None
            if key is not None:
                top.entries.append(Entry(key, key_span, node))

    def key_of(self, node: Node, top: _Open) -> str | None:
        """The text of a key, or None if it is refused and its value is to be left out."""
        if isinstance(node, Hole):
            return None
        if not isinstance(node, Scalar):
            self.fault(
                node.span,
                message("a key cannot be a list or a section"),
                message("a word as key"),
                message("write a word, a colon, a value"),
            )
            return None
        if node.empty:
            self.fault(
                node.span,
                message("a key is missing before the colon"),
                message("a word as key"),
                message("write the key"),
            )
            return None
        if node.text == "<<" and not node.quoted:
            self.fault(
                node.span,
                message("a section cannot be merged with <<"),
                message("the keys themselves"),
                message("write the keys out; what all sizes share goes to the top of the file"),
            )
            return None
        if node.text in top.seen:
            first = top.seen[node.text]
            self.fault(
                node.span,
                message(
                    "“{text}” stands here a second time (first in line {line})",
                    text=node.text[:40],
                    line=first.line,
                ),
                message("each key once"),
                message("remove one of the two"),
            )
            return None
        top.seen[node.text] = node.span
        return node.text


class _Careful(_Builder):
    """Stops at the first thing that is not plainly good."""

    def fault(self, span: Span, wrong: Message, expected: Message, fix: Message) -> None:
        raise _Odd

    def impossible(self, loader: Any) -> None:
        raise _Odd

    def scalar(self, event: yaml.ScalarEvent, span: Span) -> Scalar:
        if (not event.value and not event.style) or event.style in ("|", ">"):
            raise _Odd
        return super().scalar(event, span)
