"""Real recipes, planned, with grey boxes in the place of figures: what the tests of the sheets compose."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from functools import cache
from html.parser import HTMLParser
from pathlib import Path

from generator.base.assets import data_folder
from generator.base.edition import ENGLISH
from generator.examine import examine
from generator.figures.model import Figure
from generator.plan.work import Work
from generator.sheets.compose import compose
from generator.sheets.document import Document, Subject
from generator.sheets.wording import load_words

SAMPLES: Mapping[str, str] = {"pier-drum": "35", "customs-rect": "35x18", "bell-hex": "28"}
"""Recipes, each with the size that the tests take: plain; with a hem, fraying; no kiss cut, with braid."""
DIGEST = "a1b2c3" + "0" * 58
VERSION = "9.8.7"


def box(name: str, number: int, width: float, height: float) -> Figure:
    """A grey box of a figure's size."""
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
        f'viewBox="0 0 {width} {height}"><title>{name}</title>'
        f'<rect width="{width}" height="{height}" fill="#E4EEEF"/></svg>'
    )
    return Figure(name, number, svg, width, height, f"Shown here: {name}")


@cache
def works(path: Path) -> Mapping[str, Work]:
    """Every size of a recipe by name."""
    return {work.size.name: work for work in examine(path).works}


def subject_of(work: Work, heights: float = 44.0) -> Subject:
    """A work with a grey box of one height for each figure."""
    figures = [box("silhouette", 0, 84.0, 60.0)]
    figures += [box(step.task.figure, step.number, 80.0, heights) for step in work.plan.steps]
    small = [box(f"small-{step.task.figure}", step.number, 25.0, 20.0) for step in work.plan.steps]
    given = (work.size, work.shade, work.measures, work.plan, tuple(figures), load_words(ENGLISH))
    return Subject(*given, VERSION, DIGEST, small=tuple(small))


@cache
def sample(name: str) -> Subject:
    """One of the samples."""
    return subject_of(works(data_folder("recipes") / f"{name}.yaml")[SAMPLES[name]])


@cache
def sheet(name: str) -> Document:
    """The step sheet of a sample, without page breaks."""
    return compose("step-sheet", sample(name))


def retitled(subject: Subject, **changes: object) -> Subject:
    """The same subject with other words in its recipe."""
    return replace(subject, size=subject.size.model_copy(update=changes))


class Texts(HTMLParser):
    """The words on a page, element by element: what stands in tags, styles and attributes is left out."""

    SILENT = frozenset({"style", "title"})
    VOID = frozenset({"meta", "img", "br", "col", "wbr"})

    def __init__(self, html: str) -> None:
        super().__init__()
        self.words: list[str] = []
        self.measured: list[tuple[str, str]] = []
        self.elements: list[tuple[str, dict[str, str]]] = []
        self._open: list[tuple[str, str | None]] = []
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Remember the element, and the measure that its text comes from."""
        found = {name: value or "" for name, value in attrs}
        self.elements.append((tag, found))
        if tag not in self.VOID:
            self._open.append((tag, found.get("data-measure")))

    def handle_endtag(self, tag: str) -> None:
        """Close it, in order; a part of a page may close what it never opened."""
        if self._open:
            opened, _ = self._open.pop()
            assert opened == tag, f"</{tag}> closes <{opened}>"

    def handle_data(self, data: str) -> None:
        """Keep the words, and beside a measure's name its number."""
        if any(tag in self.SILENT for tag, _ in self._open):
            return
        self.words.append(data)
        if self._open and self._open[-1][1]:
            self.measured.append((self._open[-1][1] or "", data))

    @property
    def text(self) -> str:
        """All words, one space between; places where a line may end are no words."""
        return re.sub(r"\s+", " ", " ".join(self.words).replace("\u200b", ""))

    def ids(self) -> list[str]:
        """Every id, in order."""
        return [found["id"] for _, found in self.elements if "id" in found]
