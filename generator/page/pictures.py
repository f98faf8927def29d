"""The picture at the side of a shade: a small one that is there at once, then the one with its labels.

To set all labels takes as long as all else that a change of the form brings, so it is waited for apart: the
small picture has the same lines on the same paper, and what asks for the other one stands beside it.
"""

from __future__ import annotations

from dataclasses import dataclass
from hashlib import sha256
from threading import Lock
from typing import TypeVar

import anyio

from generator.base.edition import Voice
from generator.base.errors import FigureError
from generator.figures.model import Job
from generator.figures.silhouette import Setting, set_silhouette
from generator.page.silhouettes import picture_in
from generator.plan.work import Work
from generator.recipe.content import content_digest
from generator.sheets.wording import load_words

K = TypeVar("K")
T = TypeVar("T")

KEPT = 48
"""So many pictures are kept, and so many shades whose picture may be asked for."""
SILENT = {"title": "", "maker": None, "link": None, "lamp": None}
"""Of a size, what its picture does not show."""


@dataclass(frozen=True, slots=True)
class Shown:
    """What stands at the side now."""

    svg: str
    """Nothing where the labels found no room."""
    awaited: str = ""
    """By what the picture with labels is to be asked for; nothing where this is it."""


class Pictures:
    """The pictures of the recipes of one folder."""

    def __init__(self) -> None:
        self._drawn: dict[str, str] = {}
        self._works: dict[str, tuple[str, Work, Voice]] = {}
        self._settings: dict[tuple[str, str], Setting] = {}
        self._lock = Lock()
        self.turn = anyio.Lock()
        """Held by who waits for a picture: one is drawn after the other."""

    def whole(self, name: str, work: Work, voice: Voice) -> Shown:
        """The picture with its labels."""
        return Shown(self._picture(name, self._noted(name, work, voice), work, voice))

    def at_once(self, name: str, work: Work, voice: Voice) -> Shown:
        """The same if it has been drawn, else the small one."""
        key = self._noted(name, work, voice)
        if key in self._drawn:
            return Shown(self._drawn[key])
        setting = self._settings.get((name, work.size.name), Setting())
        return Shown(picture_in(_job(work, voice, setting), setting), key)

    def later(self, name: str, key: str) -> str:
        """The picture that was awaited; nothing where it no longer is, or its labels found no room."""
        found = self._works.get(key)
        if found is None or found[0] != name:
            return ""
        return self._picture(name, key, *found[1:])

    def _noted(self, name: str, work: Work, voice: Voice) -> str:
        """By what the picture of a shade is known: alike for all that looks alike."""
        covering = work.size.covering.model_copy(update={"name": ""})
        size = work.size.model_copy(update={**SILENT, "covering": covering})
        said = f"{name} {voice} {content_digest(size, kits=False, taught=False)}"
        key = sha256(said.encode()).hexdigest()[:32]
        _keep(self._works, key, (name, work, voice))
        return key

    def _picture(self, name: str, key: str, work: Work, voice: Voice) -> str:
        # Who asks for the same a second time waits for the first.
        with self._lock:
            if key in self._drawn:
                return self._drawn[key]
            try:
                words = load_words(voice).bound(work.plan, work.measures)
                figure, setting = set_silhouette(work.size, work.shade, work.measures, words, work.plan)
            except FigureError:
                _keep(self._drawn, key, "")
                return ""
            _keep(self._settings, (name, work.size.name), setting)
            _keep(self._drawn, key, figure.svg)
            return figure.svg


def _job(work: Work, voice: Voice, setting: Setting) -> Job:
    words = load_words(voice).bound(work.plan, work.measures)
    return Job(work.size, work.shade, work.measures, work.plan, work.plan.steps[0], words, setting.slot)


def _keep(kept: dict[K, T], key: K, what: T) -> None:
    kept.pop(key, None)
    kept[key] = what
    while len(kept) > KEPT:
        kept.pop(next(iter(kept)), None)
