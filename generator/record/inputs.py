"""What pages are made from: the maker's files, the parts of this installation, the versions of what draws."""

from __future__ import annotations

import ctypes
import os
import platform
from functools import cache
from hashlib import sha256
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import TYPE_CHECKING

import generator
from generator import __version__
from generator.base.assets import data_folder, font_files
from generator.base.message import message
from generator.record.manifest import ABSENT, CHANGING, Input, Making

if TYPE_CHECKING:
    from generator.lesson.roster import Roster
    from generator.plan.work import Work

PACKAGES = (
    "weasyprint",
    "pydyf",
    "fonttools",
    "pikepdf",
    "pypdfium2",
    "Pillow",
    "segno",
    "svgwrite",
    "shapely",
    "highspy",
    "Jinja2",
    "Babel",
)
"""Packages that decide what a page looks like, or refuse it."""
FONTS = "font-source-sans-pro"
_LIBRARIES = {
    "pango": ("libpango-1.0.so.0", "pango_version_string"),
    "harfbuzz": ("libharfbuzz.so.0", "hb_version_string"),
}
_PROGRAM, _RECIPES, _TEMPLATES, _FONT = "program", "recipes", "templates", "font"


def making_of(work: Work, folder: Path, roster: Roster | None = None) -> Making:
    """What the pages of a size, or of a class, are made from; ``folder`` is that of the manifest.

    A file that is no longer the one that was read counts as changing. Raises OSError if one cannot be read.
    """
    # Whether an earlier answer still holds is found without what reads recipes.
    from generator.recipe.beside import find_file
    from generator.recipe.read import house_file

    size = work.size
    recipe = Path(size.span("").file)
    below = house_file()
    read = _held(size.digest, recipe, below)
    inputs = {
        "recipe": Input(kind="file", name=_from(folder, recipe), sha256=read[0]),
        "house defaults": _shipped_as(f"{_RECIPES}/stock/{below.name}", read[1]),
    }
    span = size.span("technique")
    way = find_file(size.technique, "techniques", message("technique"), recipe.parent, span)
    times = (
        find_file(size.times, "times", message("form of times"), recipe.parent, span) if size.times else None
    )
    if not size.times and isinstance(way, Path):
        times = data_folder(_RECIPES) / "times" / f"{work.plan.technique}.yaml"
    asked = {"technique": way} | ({"times": times} if size.times != "none" else {})
    files = {what: path for what, path in asked.items() if isinstance(path, Path)}
    hashes = _held(work.plan.digest, *(path for path in files.values() if path.is_file()))
    found = dict(zip((what for what, path in files.items() if path.is_file()), hashes, strict=True))
    for what, path in files.items():
        inputs[what] = _input(folder, path, found.get(what, ABSENT))
    if size.kits and work.kit:
        listed = find_file(size.kits.parts, "stock", message("list of parts"), recipe.parent, span)
        if isinstance(listed, Path):
            inputs["list of parts"] = _input(folder, listed, *_held(work.kit.digest, listed))
    if roster:
        inputs |= _of_class(roster, folder, recipe)
    return Making(inputs=inputs | _shipped(), versions=versions())


def _of_class(roster: Roster, folder: Path, recipe: Path) -> dict[str, Input]:
    """The list of prices, and recipes and techniques of people who make another recipe's shade."""
    from generator.recipe.beside import find_file
    from generator.recipe.read import house_file

    prices = Path(roster.prices.file)
    inputs = {"list of prices": _input(folder, prices, *_held(roster.prices.digest, prices))}
    for work in roster.works:
        size = work.size
        other = Path(size.span("").file)
        if other == recipe:
            continue
        read = _held(size.digest, other, house_file())
        inputs[f"recipe {size.recipe}"] = Input(kind="file", name=_from(folder, other), sha256=read[0])
        way = find_file(
            size.technique, "techniques", message("technique"), other.parent, size.span("technique")
        )
        if isinstance(way, Path):
            inputs[f"technique of {size.recipe}"] = _input(folder, way, _hash(way))
    return inputs


def installation() -> str:
    """The hash of everything of this installation that decides what a page looks like."""
    return Making(inputs=_shipped(), versions=versions()).key


def _shipped() -> dict[str, Input]:
    names = (f"{_RECIPES}/stock", _TEMPLATES, _PROGRAM, *(f"{_FONT}/{weight}" for weight in font_files()))
    return {
        name.removeprefix(f"{_RECIPES}/").replace("/", " "): _shipped_as(name, shipped_hash(name))
        for name in names
    }


def today(one: Input, folder: Path) -> str:
    """The hash of an input as it is now, ABSENT if it is not there. Raises OSError if it cannot be read."""
    if one.kind == "shipped":
        return shipped_hash(one.name)
    path = folder / one.name
    return _hash(path) if path.is_file() else ABSENT


def versions() -> dict[str, str]:
    """Versions of Rimfold, of its engine and fonts, and of what these stand on."""
    found = {"rimfold": __version__, "python": platform.python_version()}
    for package in (*PACKAGES, FONTS):
        try:
            found[package] = version(package)
        except PackageNotFoundError:
            found[package] = ABSENT
    return found | {name: _library(*where) for name, where in _LIBRARIES.items()}


def shipped_hash(name: str) -> str:
    """The hash of a part of this installation: a file, or all files of a folder. ABSENT if there is none."""
    first, _, rest = name.partition("/")
    if ".." in name.split("/"):
        return ABSENT
    if first == _FONT:
        path = font_files().get(rest, Path(ABSENT))
    elif first in (_RECIPES, _TEMPLATES):
        path = data_folder(first) / rest
    elif name == _PROGRAM:
        path = Path(generator.__file__).parent
    else:
        return ABSENT
    if path.is_dir():
        return _hash_of_folder(path, ".py" if name == _PROGRAM else "")
    return _hash(path) if path.is_file() else ABSENT


def _held(digest: str, *paths: Path) -> tuple[str, ...]:
    """Hashes of some files, if together they are still those that the digest was made of; else CHANGING."""
    hashes = tuple(_hash(path) if path.is_file() else ABSENT for path in paths)
    # Rooms join several hashes with a space; the recipe room hashes the joined text once more.
    joined = " ".join(hashes)
    same = digest in (joined, sha256(joined.encode()).hexdigest())
    return hashes if same else (CHANGING,) * len(paths)


def _input(folder: Path, path: Path, digest: str) -> Input:
    shipped = data_folder(_RECIPES)
    if path.is_relative_to(shipped):
        return _shipped_as(f"{_RECIPES}/{path.relative_to(shipped).as_posix()}", digest)
    return Input(kind="file", name=_from(folder, path), sha256=digest)


def _shipped_as(name: str, digest: str) -> Input:
    return Input(kind="shipped", name=name, sha256=digest)


def _from(folder: Path, path: Path) -> str:
    """The way from a folder to a file, so that both may move together."""
    way = Path(os.path.relpath(os.path.realpath(path), os.path.realpath(folder))).as_posix()
    # Names that are no text cannot stand in JSON; such a file is then not found again, and counts as changed.
    return way.encode("utf-8", "replace").decode()


def _hash(path: Path) -> str:
    return sha256(path.read_bytes()).hexdigest()


def _hash_of_folder(folder: Path, ending: str) -> str:
    whole = sha256()
    for path in sorted(folder.rglob(f"*{ending}"), key=lambda path: path.relative_to(folder).as_posix()):
        if path.is_file():
            whole.update(f"{path.relative_to(folder).as_posix()}\0{_hash(path)}\n".encode())
    return whole.hexdigest()


@cache
def _library(file: str, function: str) -> str:
    """Version of a library of the system, told by itself."""
    try:
        tell = getattr(ctypes.CDLL(file), function)
    except (OSError, AttributeError):
        return ABSENT
    tell.restype = ctypes.c_char_p
    return bytes(tell()).decode()
