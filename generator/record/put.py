"""A size's files in their places, together, with what they replace gone and the manifest renewed."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from generator.base.errors import WriteError
from generator.base.message import message
from generator.base.reasons import reason
from generator.press.locking import alone_in
from generator.press.publish import folder_for, publish, publish_all
from generator.record.inputs import making_of
from generator.record.manifest import NAME, Manifest, read_manifest

if TYPE_CHECKING:
    from generator.lesson.roster import Roster
    from generator.plan.work import Work

_STEP_FILE = re.compile(r"\d\d-[a-z0-9-]+\.[a-z-]+\.svg")


def put(
    home: Path,
    work: Work,
    files: Mapping[Path, bytes],
    of_steps: Iterable[Path] = (),
    roster: Roster | None = None,
) -> frozenset[Path]:
    """Publish files below a recipe's folder ``home``, and say in its manifest what they were made from.

    ``roster`` is the class that they tell of. In the folders ``of_steps`` drawings of an earlier plan, which
    would be taken for today's, are removed.
    Other builds of this recipe wait meanwhile. The manifest comes last: a run that is cut off before leaves
    files that ``verify`` calls changed. A file that is there already stays as it is.
    Returns what is otherwise than before: files that are new or other ones, and those removed. Raises
    WriteError.
    """
    with folder_for(home), alone_in(home):
        new = {path: data for path, data in files.items() if not _is_there(path, data)}
        publish_all(new)
        gone = [path for folder in of_steps for path in _remove_stale(folder, files)]
        try:
            known = read_manifest(home) or Manifest(recipe=home.name)
            made = {path.relative_to(home).as_posix(): data for path, data in files.items()}
            removed = {path.relative_to(home).as_posix() for path in gone}
            text = known.merged(made, making_of(work, home, roster), removed).text()
        except OSError as error:
            raise WriteError(
                message("{path} was not written: {reason}", path=str(home / NAME), reason=reason(error))
            ) from error
        if not _is_there(home / NAME, text.encode()):
            publish(home / NAME, text.encode())
        return frozenset((*new, *gone))


def _is_there(path: Path, data: bytes) -> bool:
    try:
        return path.stat().st_size == len(data) and path.read_bytes() == data
    except OSError:
        return False


def _remove_stale(folder: Path, current: Mapping[Path, bytes]) -> list[Path]:
    # Drawings in a language that was not asked for this time are as old as their documents, and stay.
    spoken = {path.suffixes[-2:][0] for path in current if path.parent == folder}
    try:
        found = [
            path
            for path in folder.iterdir()
            if _STEP_FILE.fullmatch(path.name) and path not in current and path.suffixes[-2:][0] in spoken
        ]
        for path in found:
            path.unlink()
    except OSError as error:
        raise WriteError(
            message(
                "{folder}: an old drawing cannot be removed: {reason}",
                folder=str(folder),
                reason=reason(error),
            )
        ) from error
    return found
