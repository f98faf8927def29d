"""What was made, kept by what it was made from: the same is not made twice.

A store is the folder ``.rimfold`` in the folder of the documents. Deleting it costs time and nothing else.
"""

from __future__ import annotations

import contextlib
import json
import os
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import Annotated, Any, Literal

from pydantic import BaseModel, Field, TypeAdapter, ValidationError

from generator.base.errors import WriteError
from generator.base.message import read_back, written_down
from generator.press.publish import publish

FOLDER = ".rimfold"
LIMIT = 1024**3
"""Bytes that a store holds at most; what has not been used for longest goes first."""

Role = Literal["document", "print", "drawing", "text", "figure", "card"]
"""``print``: a document for a printer, untagged; ``figure``, ``card``: one of each for a step."""
_HEAD_LIMIT = 4 * 1024 * 1024


@dataclass(frozen=True, slots=True)
class File:
    """A file to be put into a recipe's folder."""

    name: str
    """Path from the recipe's folder, with ``/`` between its parts."""
    data: bytes
    role: Role
    pages: int = 0


@dataclass(frozen=True, slots=True)
class Piece:
    """What is made at once and kept as one: a document in one edition, or the drawings of its steps."""

    files: tuple[File, ...]
    note: str = ""
    """What is otherwise than was wished, in a line: a Message, if there is anything."""


class _Told(BaseModel):
    name: str
    role: Role
    pages: int = Field(ge=0)
    bytes: int = Field(ge=0)
    sha256: str


class _Head(BaseModel):
    files: list[_Told]
    note: Any


_Key = Annotated[str, Field(pattern=r"^[0-9a-f]{64}$")]
_KEY: TypeAdapter[str] = TypeAdapter(_Key)


class Store:
    """Pieces by key, in one folder that several processes may use at once."""

    def __init__(self, out: Path, limit: int = LIMIT) -> None:
        """The store of the documents in ``out``; nothing is written yet."""
        self.folder = out / FOLDER
        self.limit = limit

    def has(self, key: str) -> bool:
        """Whether something is kept under a key, whole or not."""
        return self._place(key).is_file()

    def get(self, key: str) -> Piece | None:
        """What was kept under a key; None if nothing was, or if it is no longer whole."""
        path = self._place(key)
        try:
            with path.open("rb") as file:
                head = _Head.model_validate_json(file.readline(_HEAD_LIMIT))
                files = []
                for told in head.files:
                    data = file.read(told.bytes)
                    if sha256(data).hexdigest() != told.sha256:
                        return None
                    files.append(File(told.name, data, told.role, told.pages))
            # When it was used last decides what goes first.
            os.utime(path)
            note = read_back(head.note)
            return Piece(tuple(files), note) if isinstance(note, str) else None
        except (OSError, ValidationError, KeyError, TypeError, AttributeError):
            return None

    def keep(self, key: str, piece: Piece) -> None:
        """Keep a piece. A disk that takes no more is no failure: the next run makes it again."""
        told = [
            {
                "name": file.name,
                "role": file.role,
                "pages": file.pages,
                "bytes": len(file.data),
                "sha256": sha256(file.data).hexdigest(),
            }
            for file in piece.files
        ]
        head = json.dumps({"files": told, "note": written_down(piece.note)}, ensure_ascii=False).encode()
        with contextlib.suppress(WriteError):
            publish(self._place(key), b"\n".join([head, b"".join(file.data for file in piece.files)]))

    def answer(self, key: str) -> Mapping[str, Any] | None:
        """What was noted under a key; None if nothing was, or if it cannot be read."""
        try:
            found = json.loads(self._place(key).read_bytes())
            os.utime(self._place(key))
        except (OSError, ValueError):
            return None
        return found if isinstance(found, dict) else None

    def note(self, key: str, answer: Mapping[str, Any]) -> None:
        """Note something under a key, as JSON. A disk that takes no more is no failure."""
        with contextlib.suppress(WriteError):
            publish(self._place(key), json.dumps(answer, sort_keys=True, ensure_ascii=False).encode())

    def trim(self) -> None:
        """Remove what has not been used for longest, until the rest is within the limit."""
        kept = list(self._kept())
        over = sum(size for _, size, _ in kept) - self.limit
        for _, size, path in sorted(kept):
            if over <= 0:
                return
            with contextlib.suppress(OSError):
                path.unlink()
                over -= size

    def _kept(self) -> Iterator[tuple[float, int, Path]]:
        for path in self.folder.glob("??/*"):
            with contextlib.suppress(OSError):
                about = path.stat()
                yield about.st_mtime, about.st_size, path

    def _place(self, key: str) -> Path:
        return self.folder / _KEY.validate_python(key)[:2] / key


def key_of(parts: Iterable[str]) -> str:
    """The key of what is made from all these parts, each a text."""
    return sha256("\0".join(sha256(part.encode()).hexdigest() for part in parts).encode()).hexdigest()
