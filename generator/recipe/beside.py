"""Files that a recipe names: by a name in a data folder, or by a path beside the recipe."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

from generator.base.assets import data_folder
from generator.base.errors import Fault, nearest
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


def named_or_beside(noun: str, example: str) -> Reader:
    """A reader of such a name or path. ``noun`` says what the file holds, ``example`` is a name."""
    expected = f"a name, such as {example}, or a path beside the recipe, such as ./my-way.yaml"

    def read(value: Any) -> Any:
        text = text_of(value, expected, f"write {example}")
        if _NAMED.fullmatch(text) or (_BESIDE.fullmatch(text) and len(text) <= _LONGEST):
            return text
        wrong, fix = f"{quoted(text)} is no name of {noun}", f"write {example}, or ./ and the file's name"
        if ".." in text.replace("\\", "/").split("/"):
            wrong, fix = f"{quoted(text)} leaves the recipe's folder", "put the file into the recipe's folder"
        elif text.startswith(("/", "\\", "~")) or re.match(r"[A-Za-z]:", text):
            wrong, fix = (
                f"{quoted(text)} is not beside the recipe",
                "put the file into the recipe's folder, and write ./ and its name",
            )
        elif text.endswith(".yaml") and _BESIDE.fullmatch(f"./{text}"):
            fix = f"write ./{text}"
        raise ValueFault(wrong, expected, fix)

    return read


def only_beside(noun: str, example: str) -> Reader:
    """A reader of a path beside the recipe, where no name of a data folder will do."""
    path = named_or_beside(noun, example)

    def read(value: Any) -> Any:
        text = path(value)
        if _BESIDE.fullmatch(text):
            return text
        expected = f"a path beside the recipe, such as {example}"
        raise ValueFault(f"{quoted(text)} is no path of {noun}", expected, f"write ./{text}.yaml")

    return read


def find_file(written: str, folder: str, noun: str, beside: Path, asked: Span) -> Path | Fault:
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
        fix = f"did you mean {close}?" if close else f"use one of: {', '.join(known) or 'none yet'}"
        return Fault(asked, f"there is no {noun} {quoted(written)}", "one that is there", fix)
    path = beside / written
    will_read(path)
    if not path.exists():
        near = [f"./{file.name}" for file in sorted(beside.glob("*.yaml"))]
        close = nearest(written, near)
        fix = f"did you mean {close}?" if close else "check its name, and that it lies beside the recipe"
        return Fault(asked, f"there is no such file, {quoted(written)}", f"a file with a {noun}", fix)
    if not path.resolve().is_relative_to(beside.resolve()):
        return Fault(
            asked,
            f"{quoted(written)} leads out of the recipe's folder",
            "a file inside it or below",
            "copy the file into the recipe's folder",
        )
    return path
