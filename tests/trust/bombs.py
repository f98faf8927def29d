"""Small files that would grow: without end in memory, in time, or in the messages about them."""

from __future__ import annotations

_HEAD = "rimfold: 1\ntitle: Test\ntechnique: ./short-way.yaml\noutline: circle\n"
_SIZE = "sizes:\n  25: {diameter: 250 mm, height: 180 mm}\n"
_KEEPS = 250_000
"""Bytes: just below the largest file that is read."""


def _filled(head: str, piece: str) -> str:
    return head + piece * ((_KEEPS - len(head)) // len(piece.encode()))


def _laughs(levels: int) -> str:
    lines = ["a0: &a0 lol"]
    lines += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]" for n in range(1, levels)]
    return "\n".join([*lines, f"title: *a{levels - 1}", ""])


def _sizes(count: int, more: str, end: str = "") -> str:
    return _HEAD + "sizes:\n" + "".join(f"  s{n}: {{{more}}}\n" for n in range(count)) + end


BOMBS = {
    "billion-laughs": _HEAD + _laughs(12),
    "self": _HEAD + "a: &a [*a]\n" + _SIZE,
    "deep": "[" * _KEEPS,
    "deep-keys": "{a: " * (_KEEPS // 4),
    "deep-lists": "- " * (_KEEPS // 2),
    "deep-lines": "".join(" " * n + "a:\n" for n in range(700)),
    "anchors": _filled(_HEAD, "- &a\n"),
    "doubles": _filled(_HEAD, "title: x\n"),
    "keys": "".join(f"k{n}: 1\n" for n in range(25_000)),
    "questions": _filled("", "? "),
    "merges": _HEAD + "a: &a {b: c}\n" + "<<: *a\n" * 9000,
    "tags": _filled(_HEAD, "a: !!python/object:os.system x\n"),
    "directives": _filled("", "%TAG ! tag:example.org,2000:\n"),
    "documents": _filled(_HEAD, "---\n"),
    "quotes": _filled(_HEAD, '"'),
    "escapes": _filled(_HEAD + 'title: "', "\\u0041"),
    "long-word": _filled(_HEAD + "title: ", "x"),
    "long-key": _filled("", "x") + ": 1",
    "long-number": _filled(_HEAD + "sizes: {25: {height: 180 mm, diameter: ", "9") + " mm}}",
    "long-fraction": _filled(_HEAD + "sizes: {25: {height: 180 mm, diameter: ", "1/"),
    "long-spaces": _filled(_HEAD + "title: ", " ") + "x",
    "comments": _filled(_HEAD, "#\n"),
    "hidden": _filled(_HEAD, "\u200b"),
    "marks": _filled(_HEAD + "title: a", "\u0301"),
    "tabs": _filled(_HEAD, "\t\n\ta\n"),
    "mistyped": _HEAD + "ring: {" + ", ".join(f"struts{n}: 3" for n in range(4_000)) + "}\n" + _SIZE,
    "mistyped-sizes": _sizes(3000, "hight: 3"),
    "many-sizes": _sizes(201, "diameter: 250 mm, height: 180 mm"),
    "refused-sizes": _sizes(200, "diameter: 60 mm, height: 180 mm", "lamp: {diameter: 60 mm, kind: LED}\n"),
    "one-of-many-refused": _sizes(
        199, "diameter: 250 mm, height: 180 mm", "  b: {diameter: 250 mm, height: 2 mm}\n"
    ),
}

_WAY = (
    "technique: 1\nmaterials: [cloth]\nfinish: [shade]\nfaces: [up]\nplaces: [bench]\nstages: [make]\n"
    "tasks:\n"
)
_ALL = (
    "taper and kiss_cut and margins and hem and braid and repeat and young and own_cloth and people > 3 "
    "and hand == 'left' and use == 'table'"
)


def _task(name: str, needs: str, gives: str, more: str = "") -> str:
    minutes = "minutes: {first_time: '1', practised: '1'}"
    return f"  - {{id: {name}, stage: make, needs: [{needs}], gives: [{gives}], {minutes}{more}}}\n"


def _chain(count: int, more: str) -> str:
    needs = ["cloth", *(f"r{n}" for n in range(count))]
    return "".join(_task(f"t{n}", needs[n], f"r{n}", more) for n in range(count)) + _task(
        "last", needs[-1], "shade"
    )


_WHEN = f', when: "{_ALL}"'
OF_WAYS = {
    "cases": _WAY + _chain(100, _WHEN),
    "givers": _WAY + "".join(_task(f"t{n}", "cloth", "shade", _WHEN) for n in range(100)),
    "loops": _WAY
    + "".join(_task(f"t{n}", f"r{(n + 1) % 150}, r{(n + 2) % 150}", f"r{n}", _WHEN) for n in range(150)),
    "at-once": _WAY + _chain(100, f"{_WHEN}, after: at-once"),
    "needs": _WAY
    + _task("t", ", ".join(f"n{n}" for n in range(4000)), ", ".join(f"g{n}" for n in range(4000))),
    "same": _WAY + "".join(_task("t", "cloth", "shade") for _ in range(200)),
    "tasks": _WAY + "".join(_task(f"t{n}", "cloth", "shade") for n in range(400)),
    "laughs": _WAY + _laughs(12),
    "deep-expression": _WAY + _task("t", "cloth", "shade", f', when: "{"(" * 100}taper{")" * 95}"'),
    "long-expression": _WAY + _task("t", "cloth", "shade", f', rest: "{"1*" * 60_000}1"'),
    "long-name": _WAY + _task("x" * 200_000, "cloth", "shade"),
    "long-words": _WAY + _task("t", "cloth", "shade", f", words: {{title: {'y' * 200_000}}}"),
}
