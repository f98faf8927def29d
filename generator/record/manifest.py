"""The manifest of a recipe's folder: each file with its hash, and what it was made from.

Files of one folder may have been made at different times from different states of the recipe. So each names
its making, and a making holds the inputs and versions. The same making has the same name on every machine.
"""

from __future__ import annotations

import json
from collections.abc import Collection, Mapping
from hashlib import sha256
from pathlib import Path
from typing import Annotated, Literal

from pydantic import AfterValidator, BaseModel, ConfigDict, Field, ValidationError

NAME = "manifest.json"
VERSION: Literal[1] = 1

ABSENT = "absent"
"""In the place of a hash: there was no such file, and that matters."""
CHANGING = "changing"
"""In the place of a hash: the file was being changed meanwhile, and is not the one that was read."""

_LARGEST = 16 * 1024 * 1024
_KEY_SIGNS = 16


def _inside(path: str) -> str:
    """Refuse a path that leads out of the folder; a manifest may have been edited."""
    parts = path.split("/")
    if path.startswith("/") or "\\" in path or "\0" in path or not {"", ".", ".."}.isdisjoint(parts):
        raise ValueError("a path inside the folder")
    return path


class _Part(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class Input(_Part):
    """One thing that pages are made from."""

    kind: Literal["file", "shipped"]
    """A file of the maker's, or a part of this installation of Rimfold."""
    name: str = Field(max_length=4096)
    """Path from the manifest's folder; or the name of the part, such as ``recipes/stock/house.yaml``."""
    sha256: str = Field(pattern=rf"^([0-9a-f]{{64}}|{ABSENT}|{CHANGING})$")


class Making(_Part):
    """Everything that decides what a page looks like."""

    inputs: dict[str, Input]
    versions: dict[str, str]

    @property
    def key(self) -> str:
        """The beginning of its hash: the same for the same inputs and versions."""
        text = json.dumps(self.model_dump(), sort_keys=True, ensure_ascii=False)
        return sha256(text.encode()).hexdigest()[:_KEY_SIGNS]


class Entry(_Part):
    """One file as it was made."""

    sha256: str = Field(pattern=r"^[0-9a-f]{64}$")
    bytes: int = Field(ge=0)
    making: str


class Manifest(_Part):
    """All files of a recipe's folder that Rimfold has made."""

    manifest: Literal[1] = VERSION
    recipe: str
    """The recipe's file name without its ending."""
    files: dict[Annotated[str, AfterValidator(_inside)], Entry] = {}
    """By path in the folder, with ``/`` between its parts."""
    makings: dict[str, Making] = {}

    def merged(self, files: Mapping[str, bytes], making: Making, gone: Collection[str] = ()) -> Manifest:
        """The manifest after files were made again or anew, and some removed. Makings of no file go."""
        entries = {name: entry for name, entry in self.files.items() if name not in gone}
        for name, data in files.items():
            entries[name] = Entry(sha256=sha256(data).hexdigest(), bytes=len(data), making=making.key)
        used = {entry.making for entry in entries.values()}
        makings = {key: one for key, one in {**self.makings, making.key: making}.items() if key in used}
        return Manifest(recipe=self.recipe, files=entries, makings=makings)

    def text(self) -> str:
        """As JSON, the same for the same content."""
        return json.dumps(self.model_dump(), sort_keys=True, indent=1, ensure_ascii=False) + "\n"


def read_manifest(folder: Path) -> Manifest | None:
    """The manifest of a folder; None if there is none, or none that this Rimfold can read. Raises OSError."""
    path = folder / NAME
    if not path.is_file():
        return None
    with path.open("rb") as file:
        data = file.read(_LARGEST + 1)
    if len(data) > _LARGEST:
        return None
    try:
        found = Manifest.model_validate_json(data)
    except ValidationError:
        return None
    return found if {entry.making for entry in found.files.values()} <= set(found.makings) else None
