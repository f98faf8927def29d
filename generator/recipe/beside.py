"""Files that a recipe names: by a name in a data folder, or by a path beside the recipe."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

from generator.base.assets import data_folder
from generator.base.errors import Fault, nearest
from generator.base.message import Message, message
from generator.base.readings import will_read
from generator.base.spans import Span
from generator.base.units import quoted
from generator.recipe.values import Reader, ValueFault, text_of

NAMED = r"[a-z0-9][a-z0-9-]{0,59}"
"""A name in a data folder."""
BESIDE = r"\./([A-Za-z0-9_-][A-Za-z0-9._-]*/)*[A-Za-z0-9_-][A-Za-z0-9._-]*\.yaml"
"""A path inside the recipe's folder or below: no part of it begins with a dot."""
_NAMED = re.compile(NAMED)
_BESIDE = re.compile(BESIDE)
_LONGEST = 200


def named_or_beside(noun: Message, example: str) -> Reader:
    """A reader of such a name or path. ``noun`` says what the file holds, ``example`` is a name."""
    expected = message(
        "a name, such as {name}, or a path beside the recipe, such as {path}",
        name=example,
        path="./my-way.yaml",
    )

    def read(value: Any) -> Any:
        text = text_of(value, expected, message("write {text}", text=example))
        if _NAMED.fullmatch(text) or (_BESIDE.fullmatch(text) and len(text) <= _LONGEST):
            return text
        wrong, fix = (
            message("{text} is no name of {noun}", text=quoted(text), noun=noun),
            message("write {example}, or ./ and the file's name", example=example),
        )
        if ".." in text.replace("\\", "/").split("/"):
            wrong, fix = (
                message("{text} leaves the recipe's folder", text=quoted(text)),
                message("put the file into the recipe's folder"),
            )
        elif text.startswith(("/", "\\", "~")) or re.match(r"[A-Za-z]:", text):
            wrong, fix = (
                message("{text} is not beside the recipe", text=quoted(text)),
                message("put the file into the recipe's folder, and write ./ and its name"),
            )
        elif text.endswith(".yaml") and _BESIDE.fullmatch(f"./{text}"):
            fix = message("write {text}", text=f"./{text}")
        raise ValueFault(wrong, expected, fix)

    return read


def only_beside(noun: Message, example: str) -> Reader:
    """A reader of a path beside the recipe, where no name of a data folder will do."""
    path = named_or_beside(noun, example)

    def read(value: Any) -> Any:
        text = path(value)
        if _BESIDE.fullmatch(text):
            return text
        expected = message("a path beside the recipe, such as {example}", example=example)
        raise ValueFault(
            message("{text} is no path of {noun}", text=quoted(text), noun=noun),
            expected,
            message("write {text}", text=f"./{text}.yaml"),
        )

    return read


def find_file(written: str, folder: str, noun: Message, beside: Path, asked: Span) -> Path | Fault:
    """The file that a recipe names, or the fault of a file that is not there.

    ``folder`` is the folder in ``recipes`` for names, ``beside`` the recipe's own folder for paths,
    ``asked`` the place in the recipe.
    """
    if _NAMED.fullmatch(written):
        home = data_folder("recipes") / folder
        path = home / f"{written}.yaml"
        if path.is_file():
            will_read(path)
            return path
        known = sorted(file.stem for file in home.glob("*.yaml"))
        close = nearest(written, known)
        fix = (
            message("did you mean {text}?", text=close)
            if close
            else message("use one of: {names}", names=", ".join(known) or message("none yet"))
        )
        return Fault(
            asked,
            message("there is no {noun} {name}", noun=noun, name=quoted(written)),
            message("one that is there"),
            fix,
        )
    path = beside / written
    will_read(path)
    if not path.exists():
        near = [f"./{file.name}" for file in sorted(beside.glob("*.yaml"))]
        close = nearest(written, near)
        fix = (
            message("did you mean {text}?", text=close)
            if close
            else message("check its name, and that it lies beside the recipe")
        )
        return Fault(
            asked,
            message("there is no such file, {written}", written=quoted(written)),
            message("a file with a {noun}", noun=noun),
            fix,
        )
    if not path.resolve().is_relative_to(beside.resolve()):
        return Fault(
            asked,
            message("{written} leads out of the recipe's folder", written=quoted(written)),
            message("a file inside it or below"),
            message("copy the file into the recipe's folder"),
        )
    return path
