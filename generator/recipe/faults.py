"""What the models refuse, told to the person who wrote the file: one located fault for each error."""

from __future__ import annotations

import re
from collections.abc import Iterable
from collections.abc import Sequence as Several
from itertools import islice

from pydantic_core import ErrorDetails

from generator.base.errors import FAULT_LIMIT, Fault, nearest
from generator.base.message import Message, either, message
from generator.base.spans import Span
from generator.base.units import quoted
from generator.recipe.ends import ENDS
from generator.recipe.layers import SIZE_LIMIT, TOP_ONLY, Layers
from generator.recipe.nodes import Entry, Hole, Mapping, Node, Scalar, Sequence
from generator.recipe.tapers import outline_named
from generator.recipe.taught_class import COUNTED, LISTED
from generator.recipe.values import ValueFault

Path = tuple[str, ...]
"""Keys from the top of the file down to a value."""

EXAMPLES = {
    "rimfold": "rimfold: 1",
    "title": "title: Pier drum",
    "sizes": "sizes: {35: {diameter: 35 cm, height: 22 cm}}",
    "height": "height: 22 cm",
    "slant": "slant: 23 cm",
    "top": "top: {outline: circle, diameter: 20 cm}",
    "bottom": "bottom: {outline: circle, diameter: 35 cm}",
    "shift": "shift: {x: 10 mm}",
    "sides": "sides: 6",
    "lamp.diameter": message("{text}, with your lamp's own value", text="diameter: 60 mm"),
    "lamp.kind": "kind: LED",
    "maker.name": message("{text}, or remove the section maker", text="name: Gannetry Steps Workroom"),
    "count": message("{text}, a size and its boxes", text="count: {35: 12}"),
    "kits.count": message("{text}, a size and its boxes", text="count: {35: 12}"),
    "spares": "spares: {seam-tape: 1}",
    "supplied": "supplied: {length: 1112 mm, height: 250 mm}",
    "class.people": message("{text}, or a list of who makes what", text="people: 8"),
    "class.start": 'start: "10:00"',
    "class.length": "length: 4 h",
    "class.tables": "tables: [{length: 180 cm, depth: 75 cm, count: 4}]",
    "tools": "tools: {seam roller: 2}",
    "demonstrations": "demonstrations: {laminate: 6 min}",
    "people": message("{way}, or {other}", way="people: 8", other="people: [{name: Ines, size: 35}]"),
    "tables": "tables: [{length: 180 cm, depth: 75 cm, count: 4}]",
    "panel.supplied.length": message("{text}, as measured", text="length: 1112 mm"),
    "panel.supplied.height": message("{text}, as measured", text="height: 250 mm"),
}
"""What to write for a key that is missing."""

NAMES_IN = {
    "count": message("the names of sizes"),
    "spares": message("the names of parts"),
    "tools": message("the names of tools"),
    "demonstrations": message("the names of demonstrations"),
}
"""What stands in a section whose keys are names."""


def find(root: Mapping, path: Several[str]) -> Entry | None:
    """The entry at a path of keys, or None. A place in a list counts as a key, from 0."""
    node: Node = root
    entry: Entry | None = None
    for key in path:
        if isinstance(node, Sequence) and key.isdecimal() and int(key) < len(node.items):
            item = node.items[int(key)]
            entry = Entry(entry.key if entry else key, item.span, item)
        else:
            entry = node.get(key) if isinstance(node, Mapping) else None
        if entry is None:
            return None
        node = entry.node
    return entry


class Translator:
    """Turns the models' errors about one file into faults."""

    def __init__(self, root: Mapping, layers: Layers) -> None:
        self.root = root
        self.layers = layers
        self.meant: set[str] = set()
        """Dotted keys, without the size, that a mistyped key most likely means: they are not missing."""

    def faults(self, errors: Iterable[ErrorDetails]) -> list[Fault]:
        """One fault for each error, the missing ones left out; no more than are told."""
        found = (self.fault(error) for error in errors if error["type"] != "missing")
        return list(islice((fault for fault in found if fault is not None), FAULT_LIMIT))

    def fault(self, error: ErrorDetails) -> Fault | None:
        """The fault for one error, or None if the value is empty: that is told for all values alike."""
        path: Path = tuple(str(part) for part in error["loc"] if part not in (COUNTED, LISTED))
        if path[-1] == "[key]":
            entry = find(self.root, path[:-1])
            span = entry.key_span if entry else self.root.span
            return self.told(error["ctx"]["error"], span)
        entry = find(self.root, path)
        if entry is None:
            return Fault(
                self.root.span,
                message("this is no recipe"),
                message("a recipe"),
                message("compare it with a sample recipe"),
            )
        if error["type"] == "extra_forbidden":
            return self.unknown(path, entry)
        node = entry.node
        if isinstance(node, Hole) or (isinstance(node, Scalar) and node.empty):
            return None
        cause = error.get("ctx", {}).get("error")
        if isinstance(cause, ValueFault):
            return self.told(cause, node.span)
        if error["type"] == "literal_error":
            return self.choice(entry, re.findall(r"'([^']*)'", error["ctx"]["expected"]))
        if error["type"] == "too_short":
            return Fault(
                node.span,
                message("no size stands under sizes"),
                message("one size or more"),
                self.example("sizes"),
            )
        if error["type"] == "too_long":
            wrong = message("too many sizes stand under sizes")
            if isinstance(node, Mapping):
                wrong = message("{count} sizes stand under sizes", count=len(node))
            return Fault(
                node.span,
                wrong,
                message("at most {most}", most=SIZE_LIMIT),
                message("make more than one recipe of them"),
            )
        return self.no_section(path, entry)

    def told(self, cause: ValueFault, span: Span) -> Fault:
        """The fault that a value's reader has put in words already."""
        return Fault(span, cause.wrong, cause.expected, cause.fix)

    def choice(self, entry: Entry, allowed: list[str]) -> Fault:
        """A value that is none of those allowed."""
        expected = either(allowed)
        if not isinstance(entry.node, Scalar):
            wrong = message("{key} takes one word, not a list or a section", key=quoted(entry.key))
            return Fault(entry.node.span, wrong, expected, message("write one of them"))
        close = nearest(entry.node.text, allowed)
        wrong = message("{text} is not known for {key}", text=quoted(entry.node.text), key=quoted(entry.key))
        return Fault(
            entry.node.span,
            wrong,
            expected,
            message("write {text}", text=close) if close else message("write one of them"),
        )

    def no_section(self, path: Path, entry: Entry) -> Fault:
        """One value or a list where keys are expected."""
        what = quoted(entry.node.text) if isinstance(entry.node, Scalar) else message("a list")
        if path[:-1] == ("sizes",):
            return Fault(
                entry.node.span,
                message("{what} stands where the size's keys should be", what=what),
                message("keys such as height, each with its value"),
                message("write {text} with the outline's dimensions", text=f"{entry.key}: {{height: 22 cm}}"),
            )
        wrong = message("{what} stands where the keys of {key} should be", what=what, key=quoted(entry.key))
        if path == ("sizes",):
            return Fault(
                entry.node.span, wrong, message("size names, each with its keys"), self.example("sizes")
            )
        section = ".".join(path[2:] if path[0] == "sizes" else path)
        keys = NAMES_IN.get(entry.key) or self.layers.keys_in(section)
        example = EXAMPLES.get(entry.key, f"{entry.key}: {{key: value}}")
        return Fault(
            entry.node.span,
            wrong,
            message("keys such as {keys}", keys=keys),
            message("write {text}", text=example),
        )

    def unknown(self, path: Path, entry: Entry) -> Fault:
        """A key that nothing knows, with the closest known one."""
        inside = path[2:-1] if path[0] == "sizes" and len(path) > 2 else path[:-1]
        in_size = path[0] == "sizes" and len(path) == 3
        known = self.known(inside, in_size)
        used = known
        around = find(self.root, path[:-1])
        if inside and inside[0] in ENDS and around and isinstance(around.node, Mapping):
            name = outline_named(around.node, self.layers)
            used = ["outline", *self.layers.outlines[name].all] if name else used
        expected = (
            message("one of {names}", names=", ".join(used)) if inside else message("a key that a recipe has")
        )
        shown = quoted(entry.key)
        if in_size and entry.key in TOP_ONLY:
            return Fault(
                entry.key_span,
                message("{key} stands in a size", key=shown),
                message("it at the top of the recipe, for all sizes"),
                message("move it to the top of the file"),
            )
        glued = self.glued(entry, known)
        if glued:
            self.meant.add(".".join((*inside, glued[0])))
            _, wrong, expected, fix = glued
            return Fault(entry.key_span, wrong, expected, fix)
        wrong = message("{key} is not a key here", key=shown)
        home = self.home(entry.key, inside)
        close = nearest(entry.key, known)
        if home and not (close and close.casefold() == entry.key.casefold()):
            return Fault(entry.key_span, wrong, expected, home)
        if close:
            self.meant.add(".".join((*inside, close)))
            return Fault(
                entry.key_span, wrong, expected, message("write {text} if you mean that", text=close)
            )
        fix = (
            message("remove it")
            if inside
            else message("remove it, or look for the key in the starter recipe (rimfold new)")
        )
        return Fault(entry.key_span, wrong, expected, fix)

    def known(self, inside: Path, in_size: bool) -> list[str]:
        """Keys that may stand at a place."""
        if inside:
            model = self.layers.model(inside)
            return list(model.model_fields if model else ())
        layer = self.layers.size if in_size else self.layers.top
        return list(layer.model_fields)

    def glued(self, entry: Entry, known: list[str]) -> tuple[str, Message, Message, Message] | None:
        """A key and a value that have become one key, because a colon or the space behind it is missing."""
        if not (isinstance(entry.node, Scalar) and entry.node.empty):
            return None
        match = re.fullmatch(r"([a-z_]+)(:|\s+|=)\s*(.+)", entry.key)
        if match is None or match[1] not in known:
            return None
        wrong = message("a colon is missing in {text}", text=quoted(entry.key))
        if match[2] == ":":
            wrong = message("a space is missing behind the colon in {text}", text=quoted(entry.key))
        return (
            match[1],
            wrong,
            message("a key, a colon, a space and a value"),
            message("write {text}", text=f"{match[1]}: {match[3][:40]}"),
        )

    def home(self, key: str, inside: Path) -> Message | None:
        """What to do with a key that belongs elsewhere."""
        sections = self.layers.sections.items()
        homes = [name for name, model in sections if key in model.model_fields and inside != (name,)]
        if inside and (key in self.layers.size.model_fields or key in TOP_ONLY):
            return message("move it out of the section {section}", section=inside[0])
        if len(homes) > 1:
            homes = [name for name in homes if name != "kits"]
        if len(homes) == 1:
            return message(
                "move it into the section {section}, as in {text}",
                section=homes[0],
                text=f"{homes[0]}: {{{key}: …}}",
            )
        return None

    def example(self, key: str) -> Message:
        """What to write for a missing key."""
        return (
            message("write {text}", text=EXAMPLES[key])
            if key in EXAMPLES
            else message("write {key} with its value", key=key.rpartition(".")[2])
        )
