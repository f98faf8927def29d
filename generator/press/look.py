"""Pages as pictures, in colour and in grey, for whoever checks a page by eye."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pypdfium2

from generator.press import engine

if TYPE_CHECKING:
    from PIL.Image import Image

_PAGE = """<!DOCTYPE html><html lang="en"><head><title>A figure</title>
<style>@page { size: %(width)s %(height)s; margin: 5mm } html { font-family: "Source Sans Pro" }
body { margin: 0 } img { display: block }
</style></head><body><img src="figure:figure" alt="A figure"></body></html>"""


def page_of_svg(svg: str) -> bytes:
    """A PDF with one figure alone on a page 5 mm larger all round. Raises PressError as a real page would."""
    figures = {"figure": svg}
    # The engine itself says how large the figure is: lay it out on a page that takes anything.
    probe = engine.lay_out(_PAGE % {"width": "2000mm", "height": "2000mm"}, figures)
    image = next(box for box in probe.pages[0]._page_box.descendants() if box.element_tag == "img")
    # A tenth of a millimetre more, or rounding may push the figure to a second page.
    size = {"width": f"{image.width / 96 * 25.4 + 10.1}mm", "height": f"{image.height / 96 * 25.4 + 10.1}mm"}
    return engine.render(_PAGE % size, figures)


def pictures(pdf: bytes, dpi: float, *, grey: bool = False) -> list[Image]:
    """Every page as a picture at ``dpi`` dots per inch."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        images: list[Image] = [page.render(scale=dpi / 72).to_pil() for page in document]
    finally:
        document.close()
    return [image.convert("L") for image in images] if grey else images
