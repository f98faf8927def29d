"""Kinds found by file name: a new kind is a new file in its folder and no edit elsewhere."""

from __future__ import annotations

import importlib
import pkgutil
from functools import cache
from types import ModuleType


@cache
def kinds(package: str) -> dict[str, str]:
    """Module path by kind name (file name with hyphens for underscores), sorted by name."""
    folder = importlib.import_module(package)
    names = sorted(module.name for module in pkgutil.iter_modules(folder.__path__))
    return {name.replace("_", "-"): f"{package}.{name}" for name in names if not name.startswith("_")}


def load_kind(package: str, name: str) -> ModuleType:
    """Import one kind. Raises KeyError for a name that has no file."""
    return importlib.import_module(kinds(package)[name])
