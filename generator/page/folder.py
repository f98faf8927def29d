"""The recipes of one folder: listed, read, written whole, and what was there before."""

from __future__ import annotations

import re
from collections import deque
from collections.abc import Callable
from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path
from threading import RLock
from typing import Any, TypeVar, cast

from generator.base.edition import Voice
from generator.base.errors import UsageError
from generator.base.message import Message, message
from generator.base.readings import Readings, hash_of, readings
from generator.examine import Examined, examine
from generator.page.look import Look, Said, accept, look, of_class
from generator.press.publish import publish
from generator.recipe.source import BYTE_LIMIT

_NAME = re.compile(r"[A-Za-z0-9_-][A-Za-z0-9._-]{0,80}\.yaml")
KEPT = 24
"""So many things are kept as they were worked out."""
MARKS = 500
"""Of so many recipes it is kept whether their class ends in time."""
UNDO_LIMIT = 200
"""So many states of a recipe are kept to go back to."""


T = TypeVar("T")
_Kept = dict[tuple[object, ...], tuple[Any, Readings]]


class NotThereError(UsageError):
    """The folder has no such recipe."""


class ChangedMeanwhileError(UsageError):
    """A recipe is no longer what the page showed: somebody else has saved it."""


def changed_on_disk(name: str) -> Message:
    """What a ChangedMeanwhileError says."""
    return message("{name} has changed on the disk since this page was shown", name=name)


@dataclass(frozen=True, slots=True)
class State:
    """A recipe's text, and what it is known by."""

    text: str
    digest: str


@dataclass
class _Past:
    before: deque[str] = field(default_factory=lambda: deque(maxlen=UNDO_LIMIT))
    after: list[str] = field(default_factory=list)


class RecipeFolder:
    """One folder and nothing outside it: every name is a file's own name, and no link leads out."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder.resolve()
        self._past: dict[str, _Past] = {}
        self._kept: _Kept = {}
        self._marks: _Kept = {}
        self._lock = RLock()

    def names(self) -> list[str]:
        """Names of the recipe files, in order."""
        found = (path for path in self.folder.glob("*.yaml") if _NAME.fullmatch(path.name))
        return sorted(path.name for path in found if self._inside(path))

    def path(self, name: str) -> Path:
        """Where a recipe lies. Raises NotThereError for a name that is none, or leads out of the folder."""
        path = self.folder / name
        if not _NAME.fullmatch(name) or not self._inside(path):
            raise NotThereError(message("there is no recipe {name} in this folder", name=name[:80]))
        return path

    def free(self, stem: str) -> str:
        """A name for a new recipe that no file has yet. Raises UsageError if too many are called so."""
        plain = re.sub(r"[^a-z0-9]+", "-", stem.lower()).strip("-")[:40] or "shade"
        for number in range(1, 1000):
            name = f"{plain}.yaml" if number == 1 else f"{plain}-{number}.yaml"
            if not (self.folder / name).exists():
                return name
        raise UsageError(message("this folder holds too many recipes called {name}", name=plain))

    def read(self, name: str) -> State:
        """A recipe as it stands on the disk. Raises NotThereError; UsageError for a file that is no text."""
        path = self.path(name)
        try:
            with path.open("rb") as file:
                data = file.read(BYTE_LIMIT + 1)
            text = data.decode("utf-8")
        except (OSError, UnicodeDecodeError) as error:
            raise UsageError(
                message("{name} cannot be read: {reason}", name=name, reason=str(error))
            ) from error
        if len(data) > BYTE_LIMIT:
            raise UsageError(message("{name} is too long for a recipe", name=name))
        return State(text, sha256(data).hexdigest())

    def examined(self, name: str, *, alone: bool = False) -> Examined:
        """A recipe up to its plan, as it stands on the disk; worked out again only if something has changed.

        Raises NotThereError, and what ``examine`` raises.
        """
        text, path = self.read(name).text, self.path(name)
        return self._once(("examined", name, text, alone), lambda: examine(path, text, alone=alone))

    def look(self, name: str, text: str, size: str | None, voice: Voice) -> Look:
        """What a text makes of one size, worked out once: it is tried, saved and shown, one after the other.

        Raises NotThereError.
        """
        path = self.path(name)
        return self._once(("look", name, text, size or "", voice), lambda: look(path, text, size, voice))

    def accept(self, name: str, text: str) -> tuple[Said, ...]:
        """What is wrong with a whole recipe, its kits and its class; nothing if it can be saved.

        Raises NotThereError.
        """
        path = self.path(name)
        return self._once(("accept", name, text), lambda: accept(path, text)[1])

    def of_class(self, name: str) -> str:
        """Whether the class of a recipe is ``late`` or ``wrong``, for its card. Raises NotThereError."""
        path, text = self.path(name), self.read(name).text
        return self._once((name, text), lambda: of_class(path, text), self._marks, MARKS)

    def refused(self, name: str, text: str) -> tuple[Said, ...]:
        """What was told if this text was refused a moment ago; nothing is worked out."""
        found = self._kept.get(("accept", name, text))
        said: tuple[Said, ...] = found[0] if found and _holds(found[1]) else ()
        return said

    def _once(
        self, key: tuple[object, ...], make: Callable[[], T], store: _Kept | None = None, most: int = KEPT
    ) -> T:
        """What was made of something, as long as every file that was read for it is what it was."""
        kept = self._kept if store is None else store
        found = kept.get(key)
        if found is not None and _holds(found[1]):
            return cast("T", found[0])
        with readings() as read:
            made = make()
        kept[key] = made, read
        while len(kept) > most:
            kept.pop(next(iter(kept)), None)
        return made

    def create(self, name: str, text: str) -> State:
        """A new recipe. Raises UsageError where a file has that name already, WriteError."""
        with self._lock:
            if not _NAME.fullmatch(name) or (self.folder / name).exists():
                raise UsageError(
                    message("{name} cannot be written here; choose another name", name=name[:80])
                )
            publish(self.folder / name, text.encode())
            return self.read(name)

    def save(self, name: str, base: str, text: str) -> State:
        """Write a recipe, whole or not at all, if it still is what ``base`` is the digest of.

        What it was can be had back. Raises ChangedMeanwhileError, NotThereError, WriteError.
        """
        with self._lock:
            before = self._unchanged(name, base)
            if text == before.text:
                return before
            publish(self.path(name), text.encode())
            past = self._past.setdefault(name, _Past())
            past.before.append(before.text)
            past.after.clear()
            return self.read(name)

    def undo(self, name: str, base: str) -> State:
        """The recipe as it was before the last change. Raises as ``save``."""
        return self._step(name, base, back=True)

    def redo(self, name: str, base: str) -> State:
        """The recipe as it was before the last undoing. Raises as ``save``."""
        return self._step(name, base, back=False)

    def can(self, name: str) -> tuple[bool, bool]:
        """Whether there is something to undo, and something to do again."""
        past = self._past.get(name, _Past())
        return bool(past.before), bool(past.after)

    def _step(self, name: str, base: str, *, back: bool) -> State:
        with self._lock:
            now = self._unchanged(name, base)
            past = self._past.setdefault(name, _Past())
            taken, kept = (past.before, past.after) if back else (past.after, past.before)
            if not taken:
                return now
            publish(self.path(name), taken[-1].encode())
            taken.pop()
            kept.append(now.text)
            return self.read(name)

    def _unchanged(self, name: str, base: str) -> State:
        now = self.read(name)
        if now.digest != base:
            raise ChangedMeanwhileError(changed_on_disk(name))
        return now

    def _inside(self, path: Path) -> bool:
        try:
            return path.is_file() and path.resolve().parent == self.folder
        except OSError:
            return False


def _holds(read: Readings) -> bool:
    """Whether files are what they were when they were read."""
    return all(hash_of(path) == digest for path, digest in read.items())
