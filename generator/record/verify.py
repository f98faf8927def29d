"""Whether what lies in a folder is what was made, and whether it would be made like that today."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import Literal

from generator.base.errors import UsageError
from generator.base.message import message
from generator.record.inputs import today, versions
from generator.record.manifest import ABSENT, CHANGING, NAME, Making, Manifest, read_manifest

_CHANGED = "by hand, damaged, or by a run that was cut off"

State = Literal["good", "stale", "changed", "missing"]


@dataclass(frozen=True, slots=True)
class Verdict:
    """What is so with one file that was made."""

    path: Path
    state: State
    reasons: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Verified:
    """A recipe's folder, looked through."""

    folder: Path
    recipe: str | None
    """The recipe's file, as seen from where the command runs; None if no file names one."""
    files: tuple[Verdict, ...]
    """Every file of the manifest, by name."""
    others: tuple[Path, ...]
    """Files in the folder that no manifest speaks of."""

    @property
    def good(self) -> bool:
        """Whether every file is as it was made and would be made."""
        return all(verdict.state == "good" for verdict in self.files)


def verify(folder: Path) -> list[Verified]:
    """Look through a recipe's folder, or the folders of several recipes in it, by name.

    Raises UsageError where there is no manifest, or one that cannot be read; OSError where a file cannot.
    """
    homes = [place for place in (folder, *_inside(folder)) if (place / NAME).is_file()]
    if not homes:
        raise UsageError(
            message("{folder} holds no {name}", folder=str(folder), name=NAME),
            message("name a folder that rimfold make has made"),
        )
    found = []
    for home in homes:
        manifest = read_manifest(home)
        if manifest is None:
            raise UsageError(
                message(
                    "{path} cannot be read: it was changed, or another Rimfold wrote it",
                    path=str(home / NAME),
                ),
                message("make the recipe again"),
            )
        found.append(_verified(home, manifest))
    return found


def _inside(folder: Path) -> list[Path]:
    return sorted(place for place in folder.iterdir() if place.is_dir()) if folder.is_dir() else []


def _verified(home: Path, manifest: Manifest) -> Verified:
    why = {key: tuple(_differences(making, home)) for key, making in manifest.makings.items()}
    files = []
    for name, entry in sorted(manifest.files.items()):
        path = home / name
        if not path.is_file():
            files.append(Verdict(path, "missing", ("it was made, and is not there",)))
        elif path.stat().st_size != entry.bytes or sha256(path.read_bytes()).hexdigest() != entry.sha256:
            files.append(Verdict(path, "changed", (_CHANGED,)))
        else:
            reasons = why[entry.making]
            files.append(Verdict(path, "stale" if reasons else "good", reasons))
    known = {home / name for name in manifest.files} | {home / NAME}
    others = sorted(path for path in home.rglob("*") if path.is_file() and path not in known)
    recipes = [
        making.inputs["recipe"].name for making in manifest.makings.values() if "recipe" in making.inputs
    ]
    return Verified(home, str(_shown(home / recipes[0])) if recipes else None, tuple(files), tuple(others))


def _differences(making: Making, home: Path) -> Iterator[str]:
    """What has become different since, in words."""
    for what, one in making.inputs.items():
        name = f"the {what} ({_shown(home / one.name) if one.kind == 'file' else one.name})"
        now = today(one, home)
        if one.sha256 == CHANGING:
            yield f"{name} was being changed while it was made"
        elif now != one.sha256:
            how = "is not there" if now == ABSENT else "is new" if one.sha256 == ABSENT else "changed since"
            yield f"{name} {how}"
    current = versions()
    for what in sorted(set(making.versions) | set(current)):
        then, now = (each.get(what, ABSENT) for each in (making.versions, current))
        if then != now:
            yield f"{what} was {then}, is {now}"


def _shown(path: Path) -> Path:
    """A path without detours, from here if it lies below."""
    whole = path.resolve()
    return whole.relative_to(Path.cwd()) if whole.is_relative_to(Path.cwd()) else whole
