"""What the engine's tags lack: scopes of headings, furniture as artefacts, figures in place, nothing empty.

Besides, the file says of itself what the proof asks later: which parts are cards, cautions and what is to be
done, and where the margins begin, so that a file can be proved by itself.

The engine hands over its document and the unwritten PDF just before it writes. Its own defects, as met in
version 70: a TH has no Scope, margin boxes are marked as content that hangs in no tree, and the BBox of a
figure is in CSS pixels counted from the top. PDF/UA-1 (ISO 14289-1, from memory: 7.3 figures, 7.5 tables,
7.8 page headers and footers) wants all three otherwise.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from generator.base.errors import PressError
from generator.base.message import message
from generator.press.word_breaks import put_word_breaks

POINTS_PER_PX = 0.75

PARTS = {
    "card": ("card", "cell", "step", "cue-step"),
    "caution": ("caution",),
    "do": ("do",),
}
"""What a part of a page is called in its tag's title, and the classes of the elements that are such a part.

A tag's title (``T``; ISO 32000-1, table 323, from memory) is for whoever looks at tags; nobody hears it."""

_TAGS = {"section": "/Sect", "div": "/Div", "ol": "/L", "ul": "/L", "dl": "/L", "p": "/P"}
"""What the engine makes of elements that may be such a part."""

_MAY_GO = ("/Span", "/P", "/NonStruct", "/Div")
"""Tags that say nothing when nothing hangs on them."""

_NEVER_WITHIN = ("/P", "/L")
"""Tags that nobody writes one right within another of the same kind: there it is the engine's own wrapping (a
block round lines, the columns of a list), and would be heard as a paragraph or a list of its own."""


def finish(document: Any, pdf: Any, *, unscaled: bool = False) -> None:
    """Mend the tags in place. To be given to the engine as its finisher.

    ``unscaled`` asks whoever prints to keep the size: PrintScaling None (ISO 32000-1, 12.2, from memory).
    """
    if unscaled:
        pdf.catalog["ViewerPreferences"]["PrintScaling"] = "/None"
    numbered = {obj.reference: obj for obj in pdf.objects if obj.number}
    _give_header_cells_a_scope(document)
    _name_parts(document, numbered)
    _say_where_margins_begin(document, pdf, numbered)
    put_word_breaks(document, pdf, numbered)
    _prune(numbered[pdf.catalog["StructTreeRoot"]], numbered)
    _unwrap(pdf, numbered)
    _put_figures_in_place(pdf, numbered)
    _make_furniture_artefacts(pdf, numbered)


def _boxes(box: Any) -> Iterator[Any]:
    """A box and every box within it."""
    yield box
    for child in getattr(box, "children", ()):
        # A placeholder stands where an absolute box would have been, and holds it.
        yield from _boxes(getattr(child, "_box", child))


def _give_header_cells_a_scope(document: Any) -> None:
    """Which cells a head heads.

    A table of hardly a row, where heads would outnumber what they head, has heads of columns alone: each of
    its cells has one all the same, and what is more head than data is taken for a table by its looks.
    """
    for page in document.pages:
        for table in _boxes(page._page_box):
            if type(table).__name__ != "TableBox":
                continue
            marked = [box for box in _boxes(table) if getattr(box, "mark", None) is not None]
            heads = [box for box in marked if box.mark["S"] == "/TH"]
            cells = [box.mark for box in marked if box.mark["S"] == "/TD"]
            rows: list[Any] = []
            columns: list[Any] = []
            for box in heads:
                row = box.element is not None and box.element.get("scope") == "row"
                box.mark["A"]["Scope"] = "/Row" if row else "/Column"
                (rows if row else columns).append(box.mark)
            if columns and len(heads) > len(cells):
                _only_columns_head(cells, rows, columns)


def _only_columns_head(cells: list[Any], rows: list[Any], columns: list[Any]) -> None:
    """Make the heads of rows cells like others, and let no cell name them as its head."""
    import pydyf

    lost: set[str] = set()
    for mark in rows:
        # The engine's ID of a head: table, row, column.
        place = mark.pop("ID").string
        lost.add(place)
        above = [head["ID"] for head in columns if head["ID"].string.split("-")[2] == place.split("-")[2]]
        mark["S"], mark["A"]["Headers"] = "/TD", pydyf.Array(above)
        del mark["A"]["Scope"]
    for mark in cells:
        if "Headers" in mark.get("A", {}):
            kept = [head for head in mark["A"]["Headers"] if head.string not in lost]
            mark["A"]["Headers"] = pydyf.Array(kept)


def _name_parts(document: Any, numbered: dict[bytes, Any]) -> None:
    """Titles of tags for cards, cautions and what is to be done: what it is, and a number of its own.

    A part that goes on on the next page has a tag on each, and both have its number. Raises PressError if
    tags and boxes do not go together, so that parts cannot be told.
    """
    import pydyf

    # The engine makes a tag for each box on its way through the boxes, so their order is the same.
    tags = [
        tag
        for tag in numbered.values()
        if isinstance(tag, dict) and tag.get("Type") == "/StructElem" and tag["S"] in _TAGS.values()
    ]
    boxes = [box for page in document.pages for box in _tagged_boxes(page._page_box)]
    if [tag["S"] for tag in tags] != [_TAGS[box.element_tag] for box in boxes]:
        raise PressError(
            message("the document engine did not tag its boxes one by one, so parts cannot be told")
        )
    parts: dict[int, str] = {}
    named: set[tuple[int, bytes]] = set()
    for tag, box in zip(tags, boxes, strict=True):
        classes = box.element.get("class", "").split()
        part = next((part for part, names in PARTS.items() if any(name in classes for name in names)), None)
        this = (id(box.element), tag["Pg"])
        # What the engine wraps an element's content in has the element's own tag again: the outermost is it.
        if part and this not in named:
            named.add(this)
            title = parts.setdefault(id(box.element), f"{part} {len(parts) + 1}")
            tag["T"] = pydyf.String(title)


def _tagged_boxes(box: Any) -> Iterator[Any]:
    """Boxes below this one that get one of the tags that a part may have."""
    # Lines and texts are called like their block, and get no tag of their own.
    own = type(box).__name__ not in ("LineBox", "TextBox") and box.element is not None
    if own and box.element_tag in _TAGS:
        yield box
    for child in getattr(box, "children", ()):
        yield from _tagged_boxes(getattr(child, "_box", child))


def _say_where_margins_begin(document: Any, pdf: Any, numbered: dict[bytes, Any]) -> None:
    """Each page's ArtBox: as far as its content may go (ISO 32000-1, 14.11.2, from memory)."""
    import pydyf

    for page, reference in zip(document.pages, pdf.page_references, strict=True):
        box, sheet = page._page_box, numbered[reference]
        left, top = box.content_box_x() * POINTS_PER_PX, box.content_box_y() * POINTS_PER_PX
        right, bottom = left + box.width * POINTS_PER_PX, top + box.height * POINTS_PER_PX
        x0, _, _, y1 = sheet["MediaBox"]
        sheet["ArtBox"] = pydyf.Array(
            round(float(side), 3) for side in (x0 + left, y1 - bottom, x0 + right, y1 - top)
        )


def _structure(pdf: Any, numbered: dict[bytes, Any]) -> Iterator[Any]:
    """Every structure element that hangs in the tree."""
    waiting = [numbered[pdf.catalog["StructTreeRoot"]]]
    while waiting:
        element = waiting.pop()
        yield element
        kids = element.get("K", [])
        waiting.extend(numbered[kid] for kid in kids if isinstance(kid, bytes) and "S" in numbered[kid])


def _prune(element: Any, numbered: dict[bytes, Any]) -> None:
    """Unhang text that holds nothing: lines to write on, and what the engine splits off at a full line.

    Cells stay, since a row without one of its cells is no row.
    """
    kept = []
    for kid in element.get("K", []):
        child = numbered[kid] if isinstance(kid, bytes) else None
        if child is not None and "S" in child:
            _prune(child, numbered)
            if child["S"] in _MAY_GO and not child.get("K") and "Alt" not in child:
                # Emptied, not freed, as with furniture below.
                child.clear()
                continue
        kept.append(kid)
    if "K" in element:
        element["K"][:] = kept


def _unwrap(pdf: Any, numbered: dict[bytes, Any]) -> None:
    """Let what is in a wrapping hang on what is wrapped."""
    for element in _structure(pdf, numbered):
        kids = element.get("K", [])
        at = 0
        while at < len(kids):
            child = numbered[kids[at]] if isinstance(kids[at], bytes) else {}
            if (
                child.get("S") in _NEVER_WITHIN
                and child["S"] == element.get("S")
                # What belongs to the wrapping itself is found by its number elsewhere too.
                and all(isinstance(kid, bytes) and "S" in numbered[kid] for kid in child["K"])
            ):
                for kid in child["K"]:
                    numbered[kid]["P"] = element.reference
                kids[at : at + 1] = child["K"]
                child.clear()
            else:
                at += 1


def _put_figures_in_place(pdf: Any, numbered: dict[bytes, Any]) -> None:
    for element in _structure(pdf, numbered):
        if element.get("S") == "/Figure":
            left, top, right, bottom = element["A"]["BBox"]
            x0, _, _, y1 = numbered[element["Pg"]]["MediaBox"]
            box = element["A"]["BBox"]
            box[:] = [
                round(x0 + left * POINTS_PER_PX, 3),
                round(y1 - bottom * POINTS_PER_PX, 3),
                round(x0 + right * POINTS_PER_PX, 3),
                round(y1 - top * POINTS_PER_PX, 3),
            ]


def _make_furniture_artefacts(pdf: Any, numbered: dict[bytes, Any]) -> None:
    """Running lines and page numbers: out of the tree of content, and out of the reader's ear."""
    in_tree = {element.reference for element in _structure(pdf, numbered)}
    parents = numbered[numbered[pdf.catalog["StructTreeRoot"]]["ParentTree"]]["Nums"]
    owners_of_page = dict(zip(parents[::2], parents[1::2], strict=True))
    for page in (numbered[reference] for reference in pdf.page_references):
        owners = owners_of_page[page["StructParents"]]
        furniture = {mark for mark, owner in enumerate(owners) if owner not in in_tree}
        for mark in furniture:
            # Emptied, not freed: the engine's cross-reference table miscounts freed objects.
            numbered[owners[mark]].clear()
            owners[mark] = b"null"
        operators = numbered[page["Contents"]].stream
        for at in range(2, len(operators)):
            properties = operators[at - 1]
            if (
                operators[at] == b"BDC"
                and isinstance(properties, dict)
                and properties.get("MCID") in furniture
            ):
                operators[at - 2] = "/Artifact"
                properties.clear()
                properties["Type"] = "/Pagination"
