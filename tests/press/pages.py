"""Small pages and figures to try the press on."""

from __future__ import annotations

A4 = "@page { size: A4; margin: 16mm 12mm 15mm 20mm; }"
TEXT = 'html { font-family: "Source Sans Pro"; font-size: 12pt; line-height: 1.25 } body { margin: 0 }'


def page(body: str, css: str = "", *, lang: str = "en", title: str = "Pier drum 35") -> str:
    """A document with the pinned font and the margins of a step sheet."""
    return (
        f'<!DOCTYPE html><html lang="{lang}"><head><title>{title}</title>'
        f"<style>{A4} {TEXT} {css}</style></head><body>{body}</body></html>"
    )


def figure(content: str, width: float = 80.0, height: float = 42.0) -> str:
    """An SVG drawn in mm."""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
        f'viewBox="0 0 {width} {height}"><title>A figure</title>{content}</svg>'
    )


def label(text: str, x: float, y: float, more: str = "") -> str:
    """Lettering with a cap height of 2.5 mm at a place in mm."""
    return f'<text x="{x}" y="{y}" font-family="Source Sans Pro" font-size="3.81" {more}>{text}</text>'


IMAGE = '<img src="figure:dock" alt="Dock both rings at the start edge">'
GOOD_FIGURE = figure(
    '<rect x="1" y="1" width="78" height="40" fill="#D5E6E8" stroke="#0B5A66" stroke-width="0.5"/>'
    + label("start end", 5, 10)
    + label("1112 mm", 60, 38, 'font-weight="600"')
    + label("250 mm", 0, 0, 'transform="translate(9 34) rotate(-90)"')
    + label("seam tape", 0, 0, 'transform="translate(30 30) rotate(-30)"')
)
GOOD_PAGE = page(
    f"""<h1>Pier drum</h1><h2 id="stage">Roll</h2>
    <section class="card" id="card-dock"><h3>19 Dock</h3>
    <div class="columns">{IMAGE}<div><p>Set both marks at the start edge, <b>1112 mm</b> from the end.</p>
    <ul><li>Take the rule.</li><li>Take the rings.</li></ul></div></div></section>
    <table><thead><tr><th>What</th><th>Value</th></tr></thead>
    <tbody><tr><th scope="row">Panel</th><td>1112 mm × 250 mm</td></tr>
    <tr><th scope="row">Overlap</th><td>10 mm, and ½ of it ← → ü ł ő</td></tr></tbody></table>
    <p class="bar">cannot be undone</p>
    <section class="next" id="card-roll"><h3>20 Roll</h3><p>Roll the panel.</p></section>""",
    """.columns { display: flex } .next { break-before: page } th { text-align: left }
    .bar { background: #1B1B1B; color: white } td, th { border-bottom: 0.25mm solid #8A8A8A }
    @page { @top-left { content: "Step sheet"; font-size: 9pt }
            @bottom-right { content: "Page " counter(page) " of " counter(pages); font-size: 9pt } }""",
)
GOOD_FIGURES = {"dock": GOOD_FIGURE}
GOOD_NUMBERS = frozenset({"1112 mm", "250 mm", "10 mm", "½", "step 19", "step 20"})
