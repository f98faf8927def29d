"""Values put into a recipe's text, with its comments, its order and its quotes kept (ruamel.yaml)."""

from __future__ import annotations

import io
from collections.abc import Mapping, Sequence
from typing import Any

from ruamel.yaml import YAML
from ruamel.yaml.comments import CommentedMap, CommentedSeq
from ruamel.yaml.util import load_yaml_guess_indent

from generator.page.in_place import replaced, token_of
from generator.page.look import values
from generator.recipe.walk import Place

LISTS = ("ages", "people", "tables")
"""Keys under which entries have numbers, not names."""
LINE = 4096
"""Lines are not broken anew."""


def changed(text: str, wished: Mapping[Place, str | None]) -> str:
    """The text with some values: what is None goes, and a section that becomes empty with it.

    A value is written as text, number or truth, so that a reader takes it for what was typed. What has the
    value already stays as it stands.
    """
    known = values(text)
    wished = {path: value for path, value in wished.items() if value is None or known.get(path) != value}
    return replaced(text, wished) or rewritten(text, wished)


def rewritten(text: str, wished: Mapping[Place, str | None]) -> str:
    """The same for any values: the whole text is read with all that stands round them, and written again."""
    root, yaml = _load(text)
    # The last of a list goes first, so that those before it keep their numbers.
    for path in reversed([path for path, value in wished.items() if value is None]):
        _remove(root, path)
    for path, value in wished.items():
        if value is not None:
            _put(root, path, value)
    return _dumped(yaml, root)


def without(text: str, path: Place) -> str:
    """The text without a section or an entry of a list."""
    root, yaml = _load(text)
    _remove(root, path)
    return _dumped(yaml, root)


def appended(text: str, path: Place, entry: Mapping[str, str]) -> str:
    """The text with one entry more at the end of a list; a list that is not there is begun."""
    root, yaml = _load(text)
    holder = root
    for key in path[:-1]:
        inner = _child(holder, key)
        if inner is None:
            inner = CommentedMap()
            _set(holder, key, inner)
        holder = inner
    listed = _child(holder, path[-1])
    if not isinstance(listed, CommentedSeq):
        listed = CommentedSeq()
        _set(holder, path[-1], listed)
    row = CommentedMap({key: _plain(value) for key, value in entry.items()})
    row.fa.set_flow_style()
    listed.append(row)
    return _dumped(yaml, root)


def listed(text: str, path: Place, entries: Sequence[str]) -> str:
    """The text with a list of plain values at a place, in one line; without entries it goes."""
    root, yaml = _load(text)
    if not entries:
        _remove(root, path)
        return _dumped(yaml, root)
    row = CommentedSeq([_plain(entry) for entry in entries])
    row.fa.set_flow_style()
    holder = _at(root, path[:-1])
    known = _child(holder, path[-1])
    if isinstance(known, CommentedSeq):
        # What it was keeps its comments.
        known[:] = row
    else:
        _set(holder, path[-1], row)
    return _dumped(yaml, root)


def renamed(text: str, path: Place, name: str) -> str:
    """The text with another key at a place, in the same order."""
    root, yaml = _load(text)
    holder = _at(root, path[:-1])
    if isinstance(holder, CommentedMap):
        for at, key in enumerate(list(holder)):
            if _key(key) == path[-1]:
                value, comment = holder[key], holder.ca.items.get(key)
                del holder[key]
                holder.insert(at, _plain(name), value)
                if comment is not None:
                    holder.ca.items[_plain(name)] = comment
                break
    return _dumped(yaml, root)


def _load(text: str) -> tuple[Any, YAML]:
    yaml = YAML()
    yaml.preserve_quotes = True
    yaml.width = LINE
    root, indent, offset = load_yaml_guess_indent(text, yaml=yaml)
    if indent:
        yaml.indent(mapping=2, sequence=indent, offset=offset or 0)
    return root, yaml


def _dumped(yaml: YAML, root: object) -> str:
    out = io.StringIO()
    yaml.dump(root, out)
    return out.getvalue()


def _key(key: object) -> str:
    return str(key)


def _plain(value: str) -> Any:
    """A value as YAML reads what stands in a recipe for it."""
    yaml = YAML()
    yaml.preserve_quotes = True
    return yaml.load(token_of(value))


def _child(node: object, key: str) -> Any:
    if isinstance(node, CommentedMap):
        return next((value for known, value in node.items() if _key(known) == key), None)
    if isinstance(node, CommentedSeq) and key.isdecimal() and int(key) < len(node):
        return node[int(key)]
    return None


def _at(root: object, path: Place) -> Any:
    for key in path:
        root = _child(root, key)
    return root


def _put(root: Any, path: Place, value: str) -> None:
    node = root
    for at, key in enumerate(path[:-1]):
        inner = _child(node, key)
        if not isinstance(inner, CommentedMap | CommentedSeq):
            inner = CommentedSeq() if key in LISTS else CommentedMap()
            if at > 0:
                inner.fa.set_flow_style()
            _set(node, key, inner)
        node = inner
    _set(node, path[-1], _plain(value))


def _set(node: Any, key: str, value: Any) -> None:
    if isinstance(node, CommentedSeq):
        if int(key) < len(node):
            node[int(key)] = value
        else:
            node.append(value)
        return
    known = next((each for each in node if _key(each) == key), None)
    node[_plain(key) if known is None else known] = value


def _remove(root: Any, path: Place) -> None:
    holder = _at(root, path[:-1])
    if isinstance(holder, CommentedMap):
        known = next((each for each in holder if _key(each) == path[-1]), None)
        if known is None:
            return
        del holder[known]
    elif isinstance(holder, CommentedSeq) and path[-1].isdecimal() and int(path[-1]) < len(holder):
        del holder[int(path[-1])]
    else:
        return
    if len(path) > 1 and not len(holder):
        _remove(root, path[:-1])
