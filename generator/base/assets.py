"""Where recipes, techniques, templates and fonts are, installed or in a checkout."""

from __future__ import annotations

from functools import cache
from importlib import resources
from pathlib import Path

import generator


@cache
def data_folder(name: str) -> Path:
    """Folder ``recipes`` or ``templates``: inside the installed package, else beside it.

    Raises FileNotFoundError if neither exists, which only a broken installation shows.
    """
    package = Path(generator.__file__).parent
    for folder in (package / "_data" / name, package.parent / name):
        if folder.is_dir():
            return folder
    raise FileNotFoundError(f"the folder {name} is missing from this installation of Rimfold")


@cache
def languages() -> tuple[str, ...]:
    """Languages that have wording, by code."""
    folder = data_folder("templates") / "wording"
    return tuple(sorted(place.name for place in folder.iterdir() if any(place.glob("*.po"))))


@cache
def font_files() -> dict[str, Path]:
    """Pinned static fonts by weight: ``regular`` (400), ``semibold`` (600), ``bold`` (700)."""
    folder = Path(str(resources.files("font_source_sans_pro"))) / "files"
    return {
        weight: folder / f"SourceSansPro-{weight.capitalize()}.ttf"
        for weight in ("regular", "semibold", "bold")
    }
