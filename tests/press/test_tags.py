"""Tagged PDF/UA-1, judged by a machine checker: page-validation 0.11.0, profile ``ua1``, 104 rules.

No machine proves conformance alone (Matterhorn protocol 1.1, introduction, from memory): reading order and
the sense of the words stay for a person.
"""

from __future__ import annotations

import io
from collections.abc import Iterator

import page as checker
import pikepdf
import pytest

from generator.press import engine
from tests.press.pages import GOOD_FIGURES, GOOD_PAGE, page


@pytest.fixture(scope="module")
def good() -> Iterator[pikepdf.Pdf]:
    with pikepdf.open(io.BytesIO(engine.render(GOOD_PAGE, GOOD_FIGURES))) as pdf:
        yield pdf


def elements(pdf: pikepdf.Pdf, kind: str) -> list[pikepdf.Object]:
    return [
        item
        for item in pdf.objects
        if isinstance(item, pikepdf.Dictionary) and item.get("/Type") == "/StructElem" and str(item.S) == kind
    ]


def test_the_checker_is_the_one_named_here() -> None:
    assert checker.__version__ == "0.11.0"


def test_a_page_has_no_failure_in_the_machine_checker() -> None:
    report = checker.validate_pdf_bytes(engine.render(GOOD_PAGE, GOOD_FIGURES), profile="ua1")
    assert [(failure.rule_id, failure.message) for failure in report.failures] == []
    assert report.rules.total >= 104
    assert report.is_compliant


def test_the_machine_checker_can_fail() -> None:
    skipped = checker.validate_pdf_bytes(engine.render(page("<h1>One</h1><h3>Three</h3>")), profile="ua1")
    assert not skipped.is_compliant


def rows_of(*rows: str) -> pikepdf.Pdf:
    """A table with heads of three columns and of its rows, as the file holds it."""
    body = "".join(
        f'<tr><th scope="row">{row}</th><td>{row} of one</td><td>{row} of two</td></tr>' for row in rows
    )
    heads = "".join(f'<th scope="col">{head}</th>' for head in ("Size", "One", "Two"))
    table = f"<h1>Sizes</h1><table><thead><tr>{heads}</tr></thead><tbody>{body}</tbody></table>"
    return pikepdf.open(io.BytesIO(engine.render(page(table))))


def test_heading_cells_say_which_cells_they_head() -> None:
    with rows_of("20", "25", "35") as pdf:
        scopes = [str(cell.A.Scope) for cell in elements(pdf, "/TH")]
        assert scopes == ["/Column"] * 3 + ["/Row"] * 3


def test_a_table_of_one_row_has_no_more_heads_than_cells_and_each_cell_names_its_columns_head() -> None:
    with rows_of("35") as pdf:
        heads, cells = elements(pdf, "/TH"), elements(pdf, "/TD")
        assert [str(cell.A.Scope) for cell in heads] == ["/Column"] * 3
        named = [[str(head) for head in cell.A.Headers] for cell in cells]
        assert named == [[str(head.ID)] for head in heads]


def test_a_table_of_groups_of_rows_says_what_each_heading_cell_heads() -> None:
    table = (
        '<h1>One</h1><table><thead><tr><th scope="col" colspan="2">Step</th><th scope="col">Minutes</th></tr>'
        '</thead><tbody><tr><td>1</td><th scope="row">Cut</th><td>3</td></tr>'
        '<tr><td></td><td colspan="2">Why it stands here</td></tr></tbody>'
        '<tbody><tr><th scope="colgroup" colspan="3">Second person</th></tr>'
        "<tr><td>2</td><td>Roll</td><td>7</td></tr></tbody></table>"
    )
    pdf = engine.render(page(table))
    report = checker.validate_pdf_bytes(pdf, profile="ua1")
    assert [(failure.rule_id, failure.message) for failure in report.failures] == []
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        scopes = [str(cell.A.Scope) for cell in elements(opened, "/TH")]
    assert scopes == ["/Column", "/Column", "/Row", "/Column"]


def test_running_lines_and_page_numbers_are_no_content(good: pikepdf.Pdf) -> None:
    for sheet in good.pages:
        operators = pikepdf.parse_content_stream(sheet, "BDC")
        named = [(str(each.operands[0]), each.operands[1]) for each in operators if len(each.operands) == 2]
        furniture = [properties for name, properties in named if name == "/Artifact"]
        assert len(furniture) == 2
        assert all(properties.get("/Type") == "/Pagination" for properties in furniture)
        assert all("/MCID" in properties for name, properties in named if name != "/Artifact")


def test_every_marked_content_belongs_to_an_element_of_the_tree(good: pikepdf.Pdf) -> None:
    reached: set[tuple[int, int]] = set()
    waiting = [good.Root.StructTreeRoot.K[0]]
    while waiting:
        element = waiting.pop()
        reached.add(element.objgen)
        waiting.extend(
            kid for kid in element.get("/K", []) if isinstance(kid, pikepdf.Dictionary) and "/S" in kid
        )
    owners = good.Root.StructTreeRoot.ParentTree.Nums[1::2]
    held = [owner for page_owners in owners for owner in page_owners if owner is not None]
    assert len(held) > 20
    assert all(owner.objgen in reached for owner in held)


def test_the_box_of_a_figure_is_where_the_figure_is_drawn(good: pikepdf.Pdf) -> None:
    left, bottom, right, top = (float(value) for value in elements(good, "/Figure")[0].A.BBox)
    mm = 72 / 25.4
    assert left == pytest.approx(20 * mm, abs=0.1)
    assert right - left == pytest.approx(80 * mm, abs=0.1)
    assert top - bottom == pytest.approx(42 * mm, abs=0.1)
    assert 0 < bottom < top < 297 * mm


def test_a_figure_says_its_alternative_words(good: pikepdf.Pdf) -> None:
    assert [str(item.Alt) for item in elements(good, "/Figure")] == ["Dock both rings at the start edge"]


def test_text_that_holds_nothing_leaves_no_tag_but_cells_stay() -> None:
    """Empty tags carry no meaning, and a row has all its cells (ISO 32000-1, 14.8.4.3.4, from memory)."""
    blank = '<p></p><p>Write: <span style="display: inline-block; width: 2cm"></span></p>'
    table = '<table><tr><th scope="row">Paste</th><td></td><td>3</td></tr></table>'
    with pikepdf.open(io.BytesIO(engine.render(page("<h1>One</h1>" + blank + table)))) as pdf:
        texts = [each for kind in ("/P", "/Span", "/NonStruct") for each in elements(pdf, kind)]
        assert texts
        assert all(len(each.get("/K", [])) for each in texts)
        assert len(elements(pdf, "/TD")) == 2


def test_the_outline_of_the_file_follows_its_headings(good: pikepdf.Pdf) -> None:
    with good.open_outline() as outline:
        titles = [(item.title, [child.title for child in item.children]) for item in outline.root]
    assert titles == [("Pier drum", ["Roll"])]
