"""Where the engine puts things: what a packer of cards needs to know before it breaks pages."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from generator.base.collecting import collected_later
from generator.press import engine

MM_PER_PX = 25.4 / 96
_ENDLESS = "@page { height: 100000mm !important; }"
_PAGE_OF = re.compile(r"target-counter\(\s*attr\([\w-]+\)\s*,\s*page\s*\)")
"""The number of the page on which something else stands, as a style asks for it."""
_FIRST = '"1"'
_SAID, _COUNTED = "attr(data-page)", "target-counter(attr(data-card), page)"
"""A page that is named before anything is laid out, and the same counted by the engine."""
_HEAD = re.compile(r"""<svg(?:[^>"']|"[^"]*"|'[^']*')*>""")
"""What a drawing says of its own size."""


@dataclass(frozen=True, slots=True)
class Placed:
    """One element with an ``id``, or the part of it that stands on one page. All lengths in mm."""

    id: str
    page: int
    """Counted from 1."""
    left: float
    top: float
    """From the sheet's upper edge to the element's border; its margin lies outside."""
    width: float
    height: float
    """Border and padding included, margins not."""

    @property
    def bottom(self) -> float:
        """From the sheet's upper edge to the element's lower border."""
        return self.top + self.height


@dataclass(frozen=True, slots=True)
class Layout:
    """All elements that carry an ``id``, in reading order, and how many pages there are."""

    pages: int
    placed: tuple[Placed, ...]

    def of(self, element_id: str) -> tuple[Placed, ...]:
        """The parts of one element, one for each page that it touches. Empty if there is no such element."""
        return tuple(part for part in self.placed if part.id == element_id)


def place(html: str, figures: Mapping[str, str] | None = None) -> Layout:
    """Lay a document out without printing it.

    Takes what ``engine.render`` takes. Raises PressError if the engine complains.
    """
    return layout_of(engine.lay_out(html, figures))


def measure(html: str, figures: Mapping[str, str] | None = None, only: Collection[str] = ()) -> Layout:
    """Lay a document out on one endless sheet to know how high each of its elements is.

    ``only``: no more is laid out of the document than the elements of these ids, which stand in its body.

    Nothing is cut and no block is laid out twice because it did not fit on a page: quicker than
    ``place``, and the heights are those of whole elements. Raises PressError if the engine complains.
    """
    # On one sheet each such number is the first; asked for it, the engine lays all out three times.
    text = _PAGE_OF.sub(_FIRST, html)
    with collected_later():
        return layout_of(
            engine.lay_out(
                text, {name: _empty(svg) for name, svg in (figures or {}).items()}, _ENDLESS + _alone(only)
            )
        )


def lay_out(html: str, figures: Mapping[str, str] | None = None) -> Any:
    """The engine's document, with the right number wherever it names the page of something else.

    An element with ``data-page`` says on which page the one named in its ``data-card`` stands. If any does
    not stand there, all are counted by the engine, which lays out pages again for that. Raises PressError.
    """
    document = engine.lay_out(html, figures)
    if _SAID not in html or _as_said(document):
        return document
    return engine.lay_out(html.replace(_SAID, _COUNTED), figures)


def _as_said(document: Any) -> bool:
    pages: dict[str, str] = {}
    for part in layout_of(document).placed:
        pages.setdefault(f"#{part.id}", str(part.page))
    elements = [element for element in document._html.etree_element.iter() if "data-page" in element.attrib]
    return all(pages.get(element.get("data-card")) == element.get("data-page") for element in elements)


def _empty(svg: str) -> str:
    """A drawing of the same size with nothing in it: only its size is asked for."""
    head = _HEAD.search(svg)
    return f"{head[0]}</svg>" if head else svg


def _alone(ids: Collection[str]) -> str:
    """A style that shows nothing but these elements of the body; everything, if there are none."""
    others = "".join(f":not(#{name})" for name in ids)
    return f" body > {others} {{ display: none !important; }}" if ids else ""


def heights(
    html: str, figures: Mapping[str, str] | None = None, only: Collection[str] = ()
) -> dict[str, float]:
    """How high each element with an id is on one endless sheet, mm; with ``only``, that of these alone.

    Raises PressError.
    """
    return {part.id: part.height for part in measure(html, figures, only).placed}


def layout_of(document: Any) -> Layout:
    """The places within a document that the engine has laid out already."""
    placed = tuple(
        part
        for number, page in enumerate(document.pages, 1)
        for part in _parts(page._page_box, number, set())
    )
    return Layout(len(document.pages), placed)


def _parts(box: Any, page: int, seen: set[str]) -> Iterator[Placed]:
    """Outermost box of each element with an id: the engine may wrap one element in several boxes."""
    element = box.element
    name = element.get("id") if element is not None else None
    if name and name not in seen and hasattr(box, "border_height"):
        seen.add(name)
        yield Placed(
            id=name,
            page=page,
            left=box.border_box_x() * MM_PER_PX,
            top=box.border_box_y() * MM_PER_PX,
            width=box.border_width() * MM_PER_PX,
            height=box.border_height() * MM_PER_PX,
        )
    for child in getattr(box, "children", ()):
        yield from _parts(getattr(child, "_box", child), page, seen)
