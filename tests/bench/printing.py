"""Prints one document again and again: a line on the input asks for the next, the answer is its size.

    python -m tests.bench.printing recipe|engine|browser KIND FOLDER

``recipe``: from the recipe to the proved PDF, all that ``make`` does but writing. ``engine``: Rimfold's
document engine alone, from the finished HTML. ``browser``: the same HTML by a browser that stays open.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Callable
from pathlib import Path


def from_recipe(kind: str) -> Callable[[], bytes]:
    """Read, compute, plan, draw, compose, print, prove."""
    from generator.pipeline import print_document
    from tests.bench.captured import drawn

    return lambda: print_document(kind, drawn(kind)).pdf


def by_engine(folder: Path) -> Callable[[], bytes]:
    """Lay out and write finished HTML."""
    from generator.press.engine import render

    html = (folder / "page.html").read_text(encoding="utf-8")
    html = re.sub(r"<style>@font-face.*?</style></head>", "</head>", html, flags=re.DOTALL)
    html = re.sub(r"(?<=[\"'(])(\d+\.svg)(?=[\"')])", r"figure:\1", html)
    figures = {path.name: path.read_text(encoding="utf-8") for path in folder.glob("*.svg")}
    return lambda: render(html, figures)


def by_browser(folder: Path, browser: str) -> Callable[[], bytes]:
    """Print finished HTML by a browser."""
    from tests.bench.devtools import Browser

    opened = Browser(browser, folder)
    return lambda: opened.print(folder / "page.html")


def main() -> None:
    """Answer until the input ends."""
    how, kind, place, *more = sys.argv[1:]
    folder = Path(place)
    ways: dict[str, Callable[[], Callable[[], bytes]]] = {
        "recipe": lambda: from_recipe(kind),
        "engine": lambda: by_engine(folder),
        "browser": lambda: by_browser(folder, *more),
    }
    once = ways[how]()
    for number, _ in enumerate(sys.stdin):
        pdf = once()
        if not number:
            (folder / f"{how}.pdf").write_bytes(pdf)
        print(len(pdf), flush=True)


if __name__ == "__main__":
    main()
