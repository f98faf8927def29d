"""The pinned fonts: three static faces from a package, and nothing from the system."""

from __future__ import annotations

import atexit
import contextlib
import io
import os
import shutil
import tempfile
import time
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any
from xml.sax.saxutils import escape

from generator.base import assets, outside
from generator.base.errors import PressError
from generator.base.message import message
from generator.base.reasons import reason
from generator.press.locking import take

FAMILY = "Source Sans Pro"
"""The one family of text and figures, by the name that CSS and SVG use."""

WEIGHTS: dict[str, int] = {"regular": 400, "semibold": 600, "bold": 700}
"""CSS weight of each pinned face."""

# Only a folder for caches and no folder of fonts: fontconfig then knows no font but those that a page brings.
_FONTCONFIG = """<?xml version="1.0"?>
<!DOCTYPE fontconfig SYSTEM "urn:fontconfig:fonts.dtd">
<fontconfig><cachedir>{cache}</cachedir></fontconfig>
"""

_PREFIX = "rimfold-fonts-"
_YOUNG = 3600.0
"""A younger folder may belong to a process that has not locked it yet, seconds."""


@cache
def font_bytes() -> dict[str, bytes]:
    """Each pinned face's file by weight name.

    Raises PressError if one is missing: with no face at all the engine ends the process without a word.
    """
    faces: dict[str, bytes] = {}
    for weight in WEIGHTS:
        path = assets.font_files()[weight]
        try:
            faces[weight] = path.read_bytes()
        except OSError as error:
            raise PressError(
                message(
                    "the font file {name} cannot be read ({reason})", name=path.name, reason=reason(error)
                ),
                message("install Rimfold again, its fonts come with the package font-source-sans-pro"),
            ) from error
    return faces


def font_face_css() -> str:
    """The ``@font-face`` rules, one file for each weight. Two files of one weight would print garbage."""
    return "\n".join(
        f'@font-face {{ font-family: "{FAMILY}"; font-weight: {number}; font-style: normal; '
        f'src: url("font:{weight}"); }}'
        for weight, number in WEIGHTS.items()
    )


FACES: dict[str, str] = {
    "Source-Sans-Pro": "regular",
    "Source-Sans-Pro-Semi-Bold": "semibold",
    "Source-Sans-Pro-Bold": "bold",
}
"""Weight of each pinned face by the name that the engine gives it in a file."""


@cache
def _outlines(weight: str) -> Any:
    from fontTools.ttLib import TTFont

    return TTFont(io.BytesIO(font_bytes()[weight]), lazy=True)


@cache
def ink(face: str, sign: str) -> tuple[float, float, float, float]:
    """Left, bottom, right and top of a sign's ink in ems from its origin on the baseline.

    A face or a sign that is not pinned gets the bounds of a middling letter.
    """
    font = _outlines(FACES.get(face, "regular"))
    name = font.getBestCmap().get(ord(sign[:1] or " "))
    glyph = font["glyf"][name] if name else None
    if glyph is None or not hasattr(glyph, "xMin"):
        return (0.0, 0.0, 0.5, 0.7)
    em = float(font["head"].unitsPerEm)
    return (glyph.xMin / em, glyph.yMin / em, glyph.xMax / em, glyph.yMax / em)


def _remove(folder: Path, owner: int) -> None:
    # A forked worker ends too, and must not take the folder from those that still print.
    if os.getpid() == owner:
        shutil.rmtree(folder, ignore_errors=True)


def _sweep(temporary: Path) -> None:
    """Remove folders of processes that were killed; those of living ones are locked."""
    for old in temporary.glob(f"{_PREFIX}*"):
        with contextlib.suppress(OSError):
            if time.time() - old.lstat().st_mtime < _YOUNG:
                continue
            handle = os.open(old, os.O_RDONLY | os.O_DIRECTORY | os.O_NOFOLLOW)
            try:
                if take(handle):
                    shutil.rmtree(old, ignore_errors=True)
            finally:
                os.close(handle)


def _no_room(error: OSError) -> PressError:
    return PressError(
        message("the folder for temporary files cannot be used ({reason})", reason=reason(error)),
        message("make room on its disk, or name another folder in the variable TMPDIR"),
    )


@contextlib.contextmanager
def faces_folder(process: int) -> Iterator[Path]:
    """A folder for the files of the faces that a process works with, swept with the rest of ours.

    It goes again if they cannot be put there. Raises PressError if there is no room.
    """
    folder = hide_system_fonts().with_name(f"faces-{process}")
    try:
        folder.mkdir()
        yield folder
    except BaseException as error:
        shutil.rmtree(folder, ignore_errors=True)
        if isinstance(error, OSError):
            raise _no_room(error) from error
        raise


@cache
def hide_system_fonts() -> Path:
    """Point fontconfig to a file that lists no font, and say where it is.

    To be called before the engine is imported. The folder goes when the process ends; if that was killed,
    when another one starts later. Raises PressError if there is no room for it.
    """
    try:
        folder = Path(tempfile.mkdtemp(prefix=_PREFIX))
        owner = os.getpid()
        # Never closed: the lock on it says for how long the folder is needed.
        take(os.open(folder, os.O_RDONLY))
        atexit.register(_remove, folder, owner)
        (folder / "cache").mkdir()
        file = folder / "fonts.conf"
        file.write_text(_FONTCONFIG.format(cache=escape(str(folder / "cache"))), encoding="utf-8")
    except OSError as error:
        raise _no_room(error) from error
    _sweep(folder.parent)
    outside.change("FONTCONFIG_FILE", str(file))
    for name in ("FONTCONFIG_PATH", "FONTCONFIG_SYSROOT"):
        outside.change(name, None)
    return file
