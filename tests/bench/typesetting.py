"""The same texts and figures typeset by other libraries, which are installed beside Rimfold's own.

    python typesetting.py typst|reportlab KIND FOLDER

Texts and figures follow one another in one column of A4, figures in their own size where that fits. Nothing
stands beside anything, nothing is kept together and nothing is proved: it is less work than a sheet. Answers
as ``printing.py`` does, and imports nothing of Rimfold.
"""

from __future__ import annotations

import io
import json
import re
import sys
from collections.abc import Callable
from pathlib import Path

WIDTH, HEIGHT = 180.0, 250.0


def size_of(svg: str) -> tuple[float, float]:
    """Width and height of a figure in mm, made small enough for the column."""
    sizes = [float(re.search(rf'<svg[^>]*\s{side}="([0-9.]+)mm"', svg)[1]) for side in ("width", "height")]  # type: ignore[index]
    by = min(1.0, WIDTH / sizes[0], HEIGHT / sizes[1])
    return sizes[0] * by, sizes[1] * by


def by_typst(folder: Path, content: list[dict[str, str]]) -> Callable[[], bytes]:
    """Typeset by typst, tagged as it does by itself."""
    import typst

    lines = [
        '#set page(paper: "a4", margin: 15mm)',
        '#set text(font: "Source Sans Pro", size: 9.5pt)',
    ]
    for one in content:
        if one["role"] == "figure":
            width, height = size_of((folder / one["name"]).read_text(encoding="utf-8"))
            lines.append(f'#image("{one["name"]}", width: {width}mm, height: {height}mm)')
        else:
            text = json.dumps(one["text"], ensure_ascii=False)
            lines.append(f"#par({'strong' if one['role'] == 'heading' else 'text'}({text}))")
    source = folder / "page.typ"
    source.write_text("\n".join(lines), encoding="utf-8")
    return lambda: typst.compile(str(source), font_paths=[str(folder)], ignore_system_fonts=True)


def by_reportlab(folder: Path, content: list[dict[str, str]]) -> Callable[[], bytes]:
    """Drawn by reportlab, figures through svglib."""
    from xml.sax.saxutils import escape

    from reportlab.lib.pagesizes import A4
    from reportlab.lib.styles import ParagraphStyle
    from reportlab.lib.units import mm
    from reportlab.pdfbase.pdfmetrics import registerFont
    from reportlab.pdfbase.ttfonts import TTFont
    from reportlab.platypus import Paragraph, SimpleDocTemplate
    from svglib.fonts import register_font
    from svglib.svglib import svg2rlg

    for weight in ("regular", "bold"):
        registerFont(TTFont(weight, str(folder / f"{weight}.ttf")))
    register_font("Source Sans Pro", str(folder / "regular.ttf"))
    register_font("Source Sans Pro", str(folder / "bold.ttf"), weight="bold")
    styles = {
        role: ParagraphStyle(role, fontName=face, fontSize=9.5, leading=12.5)
        for role, face in (("text", "regular"), ("heading", "bold"))
    }

    def once() -> bytes:
        flow = []
        for one in content:
            if one["role"] == "figure":
                drawing = svg2rlg(str(folder / one["name"]))
                width, _ = size_of((folder / one["name"]).read_text(encoding="utf-8"))
                by = width * mm / drawing.width
                drawing.width, drawing.height = drawing.width * by, drawing.height * by
                drawing.scale(by, by)
                flow.append(drawing)
            else:
                flow.append(Paragraph(escape(one["text"]), styles[one["role"]]))
        whole = io.BytesIO()
        margins = dict.fromkeys(("leftMargin", "rightMargin", "topMargin", "bottomMargin"), 15 * mm)
        SimpleDocTemplate(whole, pagesize=A4, **margins).build(flow)
        return whole.getvalue()

    return once


def main() -> None:
    """Answer until the input ends."""
    how, _, place = sys.argv[1:]
    folder = Path(place)
    content = json.loads((folder / "content.json").read_text(encoding="utf-8"))
    once = {"typst": by_typst, "reportlab": by_reportlab}[how](folder, content)
    for number, _ in enumerate(sys.stdin):
        pdf = once()
        if not number:
            (folder / f"{how}.pdf").write_bytes(pdf)
        print(len(pdf), flush=True)


if __name__ == "__main__":
    main()
