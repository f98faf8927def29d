"""What a maker writes is shown as it was written: in pages, figures and cards none of it is code."""

from __future__ import annotations

import io
import re
from pathlib import Path
from xml.etree import ElementTree

import pypdfium2
import pytest

from generator.base.edition import ORDINARY
from generator.cli.run import run
from generator.examine import examine
from generator.pipeline import Drawn, draw_cards, illustrate, print_document, subject_of
from generator.sheets.compose import compose
from tests.sheets.subjects import Texts
from tests.trust.hostile import WAY

TITLE = "{{ 7*7 }} {panel_length} <b>&amp; x"
MAKER = "{margin} ]]> <!-- \\\" 'q' &lt; [bold]z[/bold]"
CONTACT = "url(file:///etc/passwd) <a href=x> {# c #} {% raw %}"
LINK = "https://example.org/?a=1&b=2"
TASK = "Choose <b>use</b> & more"
DO = "Look <script>at</script> it &amp; think"
CHECK = "It holds </text><g> & $(HOME) %s"
MISTAKE = "A <i>wrong</i> one"
RESCUE = "mend <it> & go"

WORDS = f"""words:
      title: "{TASK}"
      do: ["{DO}", "Go with ../../etc and on."]
      check: "{CHECK}"
      mistake: "{MISTAKE}"
      rescue: "{RESCUE}"
      see: "A <x> & y"
"""
KNOWN = {
    "svg", "g", "path", "text", "tspan", "title", "desc", "line", "rect", "circle", "polyline", "polygon",
    "ellipse", "defs", "clipPath", "use", "style", "pattern",
}  # fmt: skip
"""Elements that our own drawings are made of."""


def quoted(text: str) -> str:
    return "'" + text.replace("'", "''") + "'"


def hostile_recipe(folder: Path) -> Path:
    way = WAY.read_text(encoding="utf-8")
    assert "words: {rescue: change the layout}\n" in way
    way = way.replace("words: {rescue: change the layout}\n", WORDS)
    (folder / WAY.name).write_text(way, encoding="utf-8")
    path = folder / "recipe.yaml"
    path.write_text(
        f"rimfold: 1\ntitle: {quoted(TITLE)}\ntechnique: ./{WAY.name}\noutline: circle\nlink: {LINK}\n"
        "sizes:\n  25: {diameter: 250 mm, height: 180 mm}\n"
        f"covering: {{name: {quoted(TITLE)}}}\n"
        f"lamp: {{diameter: 60 mm, watts: 6, kind: {quoted(CONTACT)}}}\n"
        f"maker: {{name: {quoted(MAKER)}, contact: {quoted(CONTACT)}}}\n",
        encoding="utf-8",
    )
    return path


@pytest.fixture(scope="module")
def drawn(tmp_path_factory: pytest.TempPathFactory) -> Drawn:
    (work,) = examine(hostile_recipe(tmp_path_factory.mktemp("text"))).works
    return illustrate(work, ORDINARY)


@pytest.fixture(scope="module")
def page(drawn: Drawn) -> Texts:
    return Texts(compose("step-sheet", subject_of(drawn, "step-sheet")).html)


@pytest.mark.parametrize("text", [TITLE, MAKER, CONTACT, TASK, DO, CHECK, MISTAKE, RESCUE])
def test_each_text_stands_on_the_page_as_it_was_written(page: Texts, text: str) -> None:
    assert text in page.text


def test_no_text_has_become_an_element_or_an_address(page: Texts) -> None:
    ours = {tag for tag, _ in page.elements}
    assert ours.isdisjoint({"script", "i", "x", "it", "iframe", "base", "object", "embed", "form"})
    for _, attributes in page.elements:
        assert not [name for name in attributes if name.startswith("on")]
        for address in (attributes[name] for name in ("src", "href") if name in attributes):
            assert address == LINK or address.startswith(("#", "figure:", "data:image/svg+xml"))


def test_figures_and_cards_hold_the_texts_and_no_element_of_their_own(drawn: Drawn) -> None:
    cards = draw_cards(drawn)
    for svg in [figure.svg for figure in drawn.figures] + [card.svg for card in cards]:
        root = ElementTree.fromstring(svg)
        assert {element.tag.split("}")[1] for element in root.iter()} <= KNOWN
    first = " ".join(ElementTree.fromstring(cards[0].svg).itertext())
    for text in (TITLE, TASK):
        assert text in re.sub(r"\s+", " ", first)


def test_the_printed_page_shows_the_texts_and_its_properties_do(drawn: Drawn) -> None:
    """Read back by another program than the one that wrote them."""
    pdf = pypdfium2.PdfDocument(io.BytesIO(print_document("step-sheet", drawn).pdf))
    shown = "".join("".join(page.get_textpage().get_text_range().split()) for page in pdf)
    for text in (TITLE, MAKER, CONTACT, TASK, DO, CHECK, MISTAKE, RESCUE):
        assert "".join(text.split()) in shown.replace("\ufffe", "-"), text
    properties = pdf.get_metadata_dict()
    assert TITLE in properties["Title"]
    assert properties["Author"] == MAKER


def test_no_template_code_is_worked_out(page: Texts, drawn: Drawn) -> None:
    assert "49" not in re.findall(r"\d+", page.text.replace(drawn.digest(kits=False)[:6], ""))


def test_the_terminal_shows_the_title_as_it_was_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    recipe = hostile_recipe(tmp_path)
    text = recipe.read_text(encoding="utf-8").replace(quoted(TITLE), "'[bold]Drum[/bold] [link=file:///x]'")
    recipe.write_text(text, encoding="utf-8")
    for command in ("steps", "measures"):
        assert run([command, str(recipe)]) == 0
        assert "[bold]Drum[/bold] [link=file:///x]" in capsys.readouterr().out
