"""The recipes of one folder: listed, read, written whole, and what was there before."""

from __future__ import annotations

import re
from collections import deque
from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path
from threading import RLock

from generator.base.edition import Voice
from generator.base.errors import UsageError
from generator.examine import Examined, examine
from generator.page.look import Look, look
from generator.press.publish import publish
from generator.recipe.source import BYTE_LIMIT

_NAME = re.compile(r"[A-Za-z0-9_-][A-Za-z0-9._-]{0,80}\.yaml")
EXAMINED = 12
"""So many recipes are kept as they were worked out."""
UNDO_LIMIT = 200
"""So many states of a recipe are kept to go back to."""


class NotThereError(UsageError):
    """The folder has no such recipe."""


class ChangedMeanwhileError(UsageError):
    """A recipe is no longer what the page showed: somebody else has saved it."""


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
        self._examined: dict[tuple[object, ...], Examined] = {}
        self._looks: dict[tuple[str, str, str, Voice, int], Look] = {}
        self._refused: dict[tuple[str, str, int], object] = {}
        self._lock = RLock()

    def names(self) -> list[str]:
        """Names of the recipe files, in order."""
        found = (path for path in self.folder.glob("*.yaml") if _NAME.fullmatch(path.name))
        return sorted(path.name for path in found if self._inside(path))

    def path(self, name: str) -> Path:
        """Where a recipe lies. Raises NotThereError for a name that is none, or leads out of the folder."""
        path = self.folder / name
        if not _NAME.fullmatch(name) or not self._inside(path):
            raise NotThereError(f"there is no recipe {name[:80]} in this folder")
        return path

    def free(self, stem: str) -> str:
        """A name for a new recipe that no file has yet. Raises UsageError if too many are called so."""
        plain = re.sub(r"[^a-z0-9]+", "-", stem.lower()).strip("-")[:40] or "shade"
        for number in range(1, 1000):
            name = f"{plain}.yaml" if number == 1 else f"{plain}-{number}.yaml"
            if not (self.folder / name).exists():
                return name
        raise UsageError(f"this folder holds too many recipes called {plain}")

    def read(self, name: str) -> State:
        """A recipe as it stands on the disk. Raises NotThereError; UsageError for a file that is no text."""
        path = self.path(name)
        try:
            with path.open("rb") as file:
                data = file.read(BYTE_LIMIT + 1)
            text = data.decode("utf-8")
        except (OSError, UnicodeDecodeError) as error:
            raise UsageError(f"{name} cannot be read: {error}") from error
        if len(data) > BYTE_LIMIT:
            raise UsageError(f"{name} is too long for a recipe")
        return State(text, sha256(data).hexdigest())

    def examined(self, name: str, *, alone: bool = False) -> Examined:
        """A recipe up to its plan, as it stands on the disk; worked out again only if something has changed.

        Raises NotThereError, and what ``examine`` raises.
        """
        state = self.read(name)
        key = (name, state.digest, alone, self._stamp())
        if key not in self._examined:
            found = examine(self.path(name), state.text, alone=alone)
            self._examined[key] = found
            while len(self._examined) > EXAMINED:
                self._examined.pop(next(iter(self._examined)))
        return self._examined[key]

    def look(self, name: str, text: str, size: str | None, voice: Voice) -> Look:
        """What a text makes of one size, worked out once: it is tried, saved and shown, one after the other.

        Raises NotThereError.
        """
        path = self.path(name)
        key = (name, text, size or "", voice, self._stamp(without=path))
        found = self._looks.get(key)
        if found is None:
            found = self._looks[key] = look(path, text, size, voice)
            while len(self._looks) > EXAMINED:
                self._looks.pop(next(iter(self._looks)), None)
        return found

    def refused(self, name: str, text: str) -> object:
        """What was told when this text was refused; None where it was not, or a file has changed since."""
        return self._refused.get((name, text, self._stamp()))

    def refuse(self, name: str, text: str, told: object) -> None:
        """Keep what was told of a text that was not saved."""
        self._refused[name, text, self._stamp()] = told
        while len(self._refused) > EXAMINED:
            self._refused.pop(next(iter(self._refused)))

    def _stamp(self, without: Path | None = None) -> int:
        """Changes when any file does that a recipe may name beside it."""
        beside = (path for path in self.folder.rglob("*.yaml") if path != without)
        found = [hash((path.name, path.stat().st_mtime_ns)) for path in beside]
        return hash(tuple(sorted(found)))

    def create(self, name: str, text: str) -> State:
        """A new recipe. Raises UsageError where a file has that name already, WriteError."""
        with self._lock:
            if not _NAME.fullmatch(name) or (self.folder / name).exists():
                raise UsageError(f"{name[:80]} cannot be written here; choose another name")
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
            raise ChangedMeanwhileError(f"{name} has changed on the disk since this page was shown")
        return now

    def _inside(self, path: Path) -> bool:
        try:
            return path.is_file() and path.resolve().parent == self.folder
        except OSError:
            return False
