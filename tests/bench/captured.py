"""What a finished document was printed from, as files that any browser opens: its last HTML, figures, fonts.

Beside them ``content.json``: the same texts and figures in a row, for programs that typeset no HTML.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from html.parser import HTMLParser
from pathlib import Path

from generator import pipeline
from generator.base import assets
from generator.base.edition import Edition
from generator.examine import examine
from generator.lesson.runs import forget
from generator.pipeline import Drawn, gather, illustrate
from generator.press import fonts
from generator.press.press import Pressed, press
from generator.press.wish import Wish

RECIPE, SIZE = "pier-drum", "35"
KINDS = ("step-sheet", "kit-insert", "class-pack")

_BLOCKS = {"h1", "h2", "h3", "h4", "p", "li", "td", "th", "dt", "dd", "div", "section", "figcaption", "tr"}
_HEADINGS = {"h1", "h2", "h3", "h4", "th"}
_SILENT = {"style", "script", "title"}


def drawn(kind: str) -> Drawn:
    """The sample read, computed, planned and drawn for a kind; nothing is kept from an earlier call."""
    forget()
    found = examine(assets.data_folder("recipes") / f"{RECIPE}.yaml")
    if kind == "class-pack":
        return gather(found.works, Edition(), found.roster)
    work = found.work(SIZE)
    assert work is not None
    return illustrate(work, Edition())


def last_page(kind: str) -> tuple[str, dict[str, str], Pressed]:
    """The HTML and the figures from which a kind is printed at last, and what came of them."""
    seen: list[tuple[str, dict[str, str]]] = []

    def pressing(html: str, figures: Mapping[str, str] | None = None, wish: Wish | None = None) -> Pressed:
        seen.append((html, dict(figures or {})))
        return press(html, figures, wish)

    pipeline.press, ours = pressing, pipeline.press  # type: ignore[attr-defined]
    try:
        printed = pipeline.print_document(kind, drawn(kind))
    finally:
        pipeline.press = ours  # type: ignore[attr-defined]
    return (*seen[-1], printed)


class _Row(HTMLParser):
    """Texts and figures in the order in which they are read."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.found: list[dict[str, str]] = []
        self._words: list[str] = []
        self._role = "text"
        self._silent = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag in _SILENT:
            self._silent += 1
        if tag in _BLOCKS:
            self._end()
            self._role = "heading" if tag in _HEADINGS else "text"
        source = dict(attrs).get("src") or ""
        if tag == "img" and source.startswith("figure:"):
            self._end()
            self.found.append({"role": "figure", "name": source.removeprefix("figure:")})

    def handle_endtag(self, tag: str) -> None:
        if tag in _SILENT:
            self._silent -= 1
        if tag in _BLOCKS:
            self._end()
            self._role = "text"

    def handle_data(self, data: str) -> None:
        if not self._silent:
            self._words.append(data)

    def _end(self) -> None:
        text = " ".join("".join(self._words).split())
        self._words = []
        if text:
            self.found.append({"role": self._role, "text": text})


def write(kind: str, folder: Path) -> Pressed:
    """Write a kind's page, figures, fonts and content into a folder; what Rimfold made of it."""
    html, figures, printed = last_page(kind)
    folder.mkdir(parents=True)
    for weight, data in fonts.font_bytes().items():
        (folder / f"{weight}.ttf").write_bytes(data)
    names = {name: f"{number}.svg" for number, name in enumerate(figures)}
    for name, svg in figures.items():
        (folder / names[name]).write_text(svg, encoding="utf-8")
    faces = re.sub(r'url\("font:(\w+)"\)', r'url("\1.ttf")', fonts.font_face_css())
    page = re.sub(r"figure:([^\"')\s]+)", lambda found: names.get(found[1], found[0]), html)
    page = page.replace("</head>", f"<style>{faces}</style></head>", 1)
    (folder / "page.html").write_text(page, encoding="utf-8")
    row = _Row()
    row.feed(html)
    for one in row.found:
        if one["role"] == "figure":
            one["name"] = names[one["name"]]
    (folder / "content.json").write_text(json.dumps(row.found, ensure_ascii=False), encoding="utf-8")
    (folder / "ours.pdf").write_bytes(printed.pdf)
    return printed
