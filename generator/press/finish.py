"""What the engine's tags lack: scopes of table headings, furniture as artefacts, figures in place.

The engine hands over its document and the unwritten PDF just before it writes. Its own defects, as met in
version 70: a TH has no Scope, margin boxes are marked as content that hangs in no tree, and the BBox of a
figure is in CSS pixels counted from the top. PDF/UA-1 (ISO 14289-1, from memory: 7.3 figures, 7.5 tables,
7.8 page headers and footers) wants all three otherwise.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

POINTS_PER_PX = 0.75


def finish(document: Any, pdf: Any, *, unscaled: bool = False) -> None:
    """Mend the tags in place. To be given to the engine as its finisher.

    ``unscaled`` asks whoever prints to keep the size: PrintScaling None (ISO 32000-1, 12.2, from memory).
    """
    if unscaled:
        pdf.catalog["ViewerPreferences"]["PrintScaling"] = "/None"
    numbered = {obj.reference: obj for obj in pdf.objects if obj.number}
    _give_header_cells_a_scope(document)
    _put_figures_in_place(pdf, numbered)
    _make_furniture_artefacts(pdf, numbered)


def _boxes(box: Any) -> Iterator[Any]:
    """A box and every box within it."""
    yield box
    for child in getattr(box, "children", ()):
        # A placeholder stands where an absolute box would have been, and holds it.
        yield from _boxes(getattr(child, "_box", child))


def _give_header_cells_a_scope(document: Any) -> None:
    for page in document.pages:
        for box in _boxes(page._page_box):
            mark = getattr(box, "mark", None)
            if mark is not None and mark["S"] == "/TH":
                row = box.element is not None and box.element.get("scope") == "row"
                mark["A"]["Scope"] = "/Row" if row else "/Column"


def _structure(pdf: Any, numbered: dict[bytes, Any]) -> Iterator[Any]:
    """Every structure element that hangs in the tree."""
    waiting = [numbered[pdf.catalog["StructTreeRoot"]]]
    while waiting:
        element = waiting.pop()
        yield element
        kids = element.get("K", [])
        waiting.extend(numbered[kid] for kid in kids if isinstance(kid, bytes) and "S" in numbered[kid])


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
