"""Every sentence of the program that is told in four languages, as it stands in the code and in techniques.

``python -m tests.base.sentences`` writes the English catalogue anew. What a sentence is for stands above it
there: which part of a fault it is, and the file that has it. Translations of what is gone are dropped by
hand: a test names them (``tests/sheets/test_said.py``).
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

from babel.messages.catalog import Catalog
from babel.messages.pofile import write_po

from generator.base.assets import data_folder
from generator.base.words import PLACEHOLDER

ROOT = Path(__file__).parents[2]
MAKERS = {"message": 1, "plural": 2}
"""What makes a sentence, and how many templates it takes."""
PARTS = ("wrong", "expected", "fix")
FIRST = {
    **dict.fromkeys(("Fault", "add", "fault", "refused"), 1),
    **dict.fromkeys(("ValueFault", "ExpressionError", "refuse", "CuttingError"), 0),
}
"""Which of what they are called with is the first part of a fault."""


@dataclass
class Sentence:
    """A template, its singular if it has one, and where it stands."""

    template: str
    one: str | None = None
    where: list[str] = field(default_factory=list)
    parts: set[str] = field(default_factory=set)
    """Which parts of a fault it is, where that can be seen."""
    values: set[frozenset[str]] = field(default_factory=set)
    """Names of the values that are given, of each call that gives them by name."""


@cache
def sentences() -> dict[str, Sentence]:
    """All of them by template, in the order of the files."""
    found: dict[str, Sentence] = {}
    for path in sorted((ROOT / "generator").rglob("*.py")):
        for call, part in _calls(path):
            _add(found, call, part, path.relative_to(ROOT / "generator").as_posix())
    for path in sorted((data_folder("recipes") / "techniques").glob("*.yaml")):
        for text in _asked(path):
            sentence = found.setdefault(text, Sentence(text))
            sentence.where.append(f"techniques/{path.name}")
    return found


def _calls(path: Path) -> Iterator[tuple[ast.Call, str]]:
    """Each call that makes a sentence, and which part of a fault it is, or nothing."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    made_here = {node.name for node in ast.walk(tree) if isinstance(node, ast.FunctionDef)}
    parts = dict(_parts(tree))
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in MAKERS:
            assert node.func.id not in made_here or path.name == "message.py", path
            yield node, parts.get(node, "")


def _parts(tree: ast.AST) -> Iterator[tuple[ast.AST, str]]:
    """What is handed over as the parts of a fault, or put by for that."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Assign) and isinstance(node.targets[0], ast.Name):
            if node.targets[0].id in PARTS:
                yield from ((each, node.targets[0].id) for each in _either(node.value))
        elif isinstance(node, ast.Call):
            name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
            first = FIRST.get(name)
            for part, given in zip(PARTS, node.args[first:] if first is not None else (), strict=False):
                yield from ((each, part) for each in _either(given))


def _either(node: ast.expr) -> Iterator[ast.expr]:
    """A value, or both of a choice."""
    if isinstance(node, ast.IfExp):
        yield from _either(node.body)
        yield from _either(node.orelse)
    else:
        yield node


def _add(found: dict[str, Sentence], call: ast.Call, part: str, where: str) -> None:
    assert isinstance(call.func, ast.Name)
    texts = [node.value if isinstance(node, ast.Constant) else None for node in call.args]
    assert len(texts) == MAKERS[call.func.id], f"{where}:{call.lineno}: a template stands alone"
    assert all(isinstance(text, str) for text in texts), f"{where}:{call.lineno}: a template is no text"
    template, *one = map(str, texts)
    sentence = found.setdefault(template, Sentence(template))
    sentence.one = one[0] if one else sentence.one
    sentence.where.append(where)
    sentence.parts |= {part} if part else set()
    if all(keyword.arg for keyword in call.keywords):
        sentence.values.add(frozenset(str(keyword.arg) for keyword in call.keywords))


def _asked(path: Path) -> Iterator[str]:
    """What a technique says where a recipe does not fit it."""
    from generator.plan.reading import read_technique

    for ask in read_technique(path, path.stem).asks:
        yield from (ask.wrong, ask.expected, ask.fix)


def asked_for(template: str) -> set[str]:
    """Names of values in a template."""
    return {match[1] for match in PLACEHOLDER.finditer(template)}


def catalogue() -> Catalog:
    """The English one."""
    made = Catalog(locale="en", project="rimfold", fuzzy=False, charset="utf-8")
    for sentence in sentences().values():
        parts = [", ".join(part for part in PARTS if part in sentence.parts)] if sentence.parts else []
        where = [(each, 0) for each in sorted(set(sentence.where))]
        if sentence.one is None:
            made.add(sentence.template, sentence.template, locations=where, auto_comments=parts)
        else:
            texts = (sentence.one, sentence.template)
            made.add((sentence.template, "{count}"), texts, locations=where, auto_comments=parts)
    return made


HEAD = """msgid ""
msgstr ""
"Project-Id-Version: rimfold\\n"
"Language: en\\n"
"Plural-Forms: nplurals=2; plural=(n != 1);\\n"
"MIME-Version: 1.0\\n"
"Content-Type: text/plain; charset=UTF-8\\n"
"Content-Transfer-Encoding: 8bit\\n"
"""


def written() -> str:
    """The English catalogue as its file holds it."""
    from io import BytesIO

    stream = BytesIO()
    write_po(stream, catalogue(), width=0, omit_header=True, include_lineno=False)
    text = re.sub(r"^#, python-(?:brace-)?format\n", "", stream.getvalue().decode(), flags=re.MULTILINE)
    return f"{HEAD}\n{text}"


if __name__ == "__main__":
    file = data_folder("templates") / "wording" / "en" / "faults.po"
    file.write_text(written(), encoding="utf-8")
    print(f"{file}: {len(sentences())} sentences")
