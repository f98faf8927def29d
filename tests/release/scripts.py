"""Scripts of ``.ci`` that are Python, to be asked as modules."""

from __future__ import annotations

from importlib.machinery import SourceFileLoader
from importlib.util import module_from_spec, spec_from_loader
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[2]


def script(name: str) -> Any:
    loader = SourceFileLoader(f"ci_{name}", str(ROOT / ".ci" / name))
    spec = spec_from_loader(loader.name, loader)
    assert spec is not None
    module = module_from_spec(spec)
    loader.exec_module(module)
    return module
