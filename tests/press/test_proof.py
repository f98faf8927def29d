"""Planted faults: each one must be found and told by its page and its words."""

from __future__ import annotations

import io
from collections.abc import Callable

import pikepdf
import pytest

from generator.base.errors import ProofError
from generator.press import engine, proof
from generator.press.press import press
from generator.press.wish import Wish
from tests.press.pages import GOOD_FIGURES, GOOD_NUMBERS, GOOD_PAGE, IMAGE, figure, label, page


def refusal(html: str, svg: str | None = None, wish: Wish | None = None) -> str:
    with pytest.raises(ProofError) as caught:
        press(html, {"dock": svg} if svg else {}, wish)
    return str(caught.value)


def test_a_good_page_passes_and_is_counted() -> None:
    pressed = press(GOOD_PAGE, GOOD_FIGURES, Wish(numbers=GOOD_NUMBERS))
    assert pressed.pages == 2
    assert pressed.pdf.startswith(b"%PDF-1.7")
    proof.prove(pressed.pdf, Wish(numbers=GOOD_NUMBERS))


def test_a_label_beyond_the_frame_of_its_figure_is_found() -> None:
    words = refusal(page(IMAGE), figure(label("1112 mm", 70, 20)))
    assert "page 1, 90 mm from the left, 34 mm from the top: the text “1112 mm” is cut off at “mm”" in words


def test_a_label_wholly_outside_its_figure_is_found() -> None:
    assert "the text “lost” is cut off" in refusal(page(IMAGE), figure(label("lost", 85, 20)))


def test_a_turned_label_that_leaves_its_figure_is_found() -> None:
    turned = label("panel height", 0, 0, 'transform="translate(10 12) rotate(-90)"')
    assert "the text “panel height” is cut off" in refusal(page(IMAGE), figure(turned))


def test_an_anchored_label_that_leaves_its_figure_is_found() -> None:
    anchored = label("seam tape", 4, 20, 'text-anchor="end"')
    assert "is cut off" in refusal(page(IMAGE), figure(anchored))


def test_a_faint_label_that_leaves_its_figure_is_found() -> None:
    faint = f'<g opacity="0.8">{label("seam tape", 70, 20)}</g>'
    assert "is cut off" in refusal(page(IMAGE), figure(faint))


@pytest.mark.parametrize(
    ("second", "more"),
    [
        (label("rim", 12, 20), "on one line"),
        (label("rim", 10, 21.5), "a little lower"),
        (label("rim", 0, 0, 'transform="translate(14 24) rotate(-90)"'), "across"),
        (label("rim edge", 0, 0, 'transform="translate(8 24) rotate(-30)"'), "askew"),
        (label("rim", 22, 20, 'text-anchor="end"'), "anchored"),
    ],
)
def test_labels_over_each_other_are_found(second: str, more: str) -> None:
    words = refusal(page(IMAGE), figure(label("seam tape", 5, 20) + second))
    assert "is printed over “seam tape”" in words, more


def test_a_label_printed_twice_on_one_spot_is_found() -> None:
    assert "printed twice on the same spot" in refusal(
        page(IMAGE), figure(label("seam", 5, 20) + label("seam", 5, 20))
    )


def test_labels_that_only_stand_close_pass() -> None:
    close = label("seam tape", 5, 20) + label("rim", 5, 24.6) + label("fjord", 21.5, 20)
    assert press(page(IMAGE), {"dock": figure(close)}).pages == 1


@pytest.mark.parametrize("first", [0, 15])
def test_a_turned_label_does_not_overprint_itself_nor_its_neighbours(first: int) -> None:
    turned = "".join(
        label("AV fjord", 0, 0, f'transform="translate(40 21) rotate({angle}) translate(8 0)"')
        for angle in range(first, 360, 30)
    )
    assert press(page(IMAGE), {"dock": figure(turned)}).pages == 1


def test_a_label_under_a_shape_is_found() -> None:
    cover = '<rect x="0" y="10" width="40" height="20" fill="#F1EDE4"/>'
    words = refusal(page(IMAGE), figure(label("seam tape", 5, 20) + cover))
    assert "the text “seam tape” cannot be seen at “seamtape”" in words


def test_a_label_half_under_a_shape_is_found() -> None:
    cover = '<rect x="0" y="18.8" width="40" height="9" fill="#F1EDE4"/>'
    assert "the text “seam tape” cannot be seen at" in refusal(
        page(IMAGE), figure(label("seam tape", 5, 20) + cover)
    )


def test_a_label_over_a_shape_passes() -> None:
    ground = '<rect x="0" y="10" width="20" height="20" fill="#F1EDE4"/>'
    outline = '<circle cx="12" cy="18" r="14" fill="none" stroke="#1B1B1B" stroke-width="0.5"/>'
    assert press(page(IMAGE), {"dock": figure(ground + label("seam tape", 5, 20) + outline)}).pages == 1


def test_white_text_on_white_is_found_and_on_a_dark_bar_is_not() -> None:
    words = refusal(page('<p style="color: white">no undo</p>'))
    assert "the text “no undo” cannot be seen" in words
    assert press(page('<p style="color: white; background: #1B1B1B">no undo</p>')).pages == 1


def test_a_second_line_hidden_by_its_box_is_found() -> None:
    words = refusal(page('<p style="height: 15pt; overflow: hidden">first line<br>second line</p>'))
    assert "the text “second line” is cut off" in words


def test_a_second_line_that_leaves_a_fixed_box_is_found() -> None:
    words = refusal(page('<p style="height: 15pt">first line<br>second line</p>'))
    assert "the text “second line” runs out of its box" in words


def test_unbroken_text_that_leaves_its_box_is_found() -> None:
    words = refusal(page('<p style="width: 30mm; white-space: nowrap">a line that may not be broken</p>'))
    assert "the text “a line that may not be broken” runs out of its box" in words


def test_a_word_longer_than_its_box_is_found() -> None:
    words = refusal(page('<p style="width: 30mm">Lampenschirmrandversäuberung</p>'))
    assert "runs out of its box" in words


def test_a_running_line_too_long_for_its_margin_is_found() -> None:
    css = '@page { @top-left { content: "Ein sehr langer Titel"; width: 20mm; white-space: nowrap } }'
    assert "runs out of its box" in refusal(page("<p>Text</p>", css))


def test_text_off_the_page_is_found() -> None:
    words = refusal(page('<p style="position: absolute; left: 250mm; top: 20mm; width: 40mm">gone</p>'))
    assert "the text “gone” is within 5 mm of the sheet's edge" in words


def test_text_across_the_edge_of_the_page_is_found() -> None:
    words = refusal(page('<p style="position: absolute; left: 170mm; top: 20mm; width: 40mm">edge text</p>'))
    assert "the text “edge text” is within 5 mm" in words


@pytest.mark.parametrize(("left", "passes"), [(4.8, False), (5.3, True)])
def test_a_line_nearer_than_5_mm_to_the_edge_is_found(left: float, passes: bool) -> None:
    body = f'<div style="position: absolute; left: {left - 20}mm; top: 20mm; width: 40mm; height: 9mm; ' + (
        'border: 0.35mm solid #1B1B1B"></div>'
    )
    if passes:
        assert press(page(body)).pages == 1
    else:
        assert "a line or a shape is within 5 mm of the sheet's edge" in refusal(page(body))


def test_a_hairline_near_the_edge_is_found() -> None:
    line = '<line x1="0" y1="20" x2="80" y2="20" stroke="#1B1B1B" stroke-width="0.25"/>'
    body = f'<div style="margin-left: -18mm">{IMAGE}</div>'
    assert "a line or a shape is within 5 mm" in refusal(page(body), figure(line))


@pytest.mark.parametrize(("size", "passes"), [(7.9, False), (8.0, True)])
def test_text_under_8_points_is_found(size: float, passes: bool) -> None:
    html = page(f'<p style="font-size: {size}pt">tiny</p>')
    if passes:
        assert press(html).pages == 1
    else:
        assert "the text “tiny” is 7.9 pt high, the least is 8 pt" in refusal(html)


def test_lettering_that_a_figure_scales_down_is_found() -> None:
    small = f'<g transform="scale(0.5)">{label("half", 10, 20)}</g>'
    assert "the text “half” is 5.4 pt high" in refusal(page(IMAGE), figure(small))


def test_a_number_from_nowhere_is_found() -> None:
    html = page(f"<p>Cut 1112 mm.</p>{IMAGE}")
    turned = label("1113 mm", 0, 0, 'transform="translate(9 34) rotate(-90)"')
    words = refusal(html, figure(turned), Wish(numbers=frozenset({"1112"})))
    assert "the text “1113 mm” has the number 1113, which comes from no measure" in words
    assert "1112" not in words


def broken(change: Callable[[pikepdf.Pdf], None]) -> str:
    """What the proof says of a good file that was tampered with."""
    with pikepdf.open(io.BytesIO(engine.render(GOOD_PAGE, GOOD_FIGURES))) as pdf:
        change(pdf)
        out = io.BytesIO()
        pdf.save(out)
    with pytest.raises(ProofError) as caught:
        proof.prove(out.getvalue())
    return str(caught.value)


def elements(pdf: pikepdf.Pdf, kind: str) -> list[pikepdf.Object]:
    return [
        item
        for item in pdf.objects
        if isinstance(item, pikepdf.Dictionary) and item.get("/Type") == "/StructElem" and str(item.S) == kind
    ]


def fonts(pdf: pikepdf.Pdf) -> list[pikepdf.Object]:
    return [
        item for item in pdf.objects if isinstance(item, pikepdf.Dictionary) and item.get("/Type") == "/Font"
    ]


def test_a_file_without_a_language_is_refused() -> None:
    assert "names no language" in broken(lambda pdf: pdf.Root.__delitem__("/Lang"))


def test_a_file_without_a_title_is_refused() -> None:
    assert "has no title" in broken(lambda pdf: pdf.docinfo.__delitem__("/Title"))


def test_a_file_without_tags_is_refused() -> None:
    assert "is not tagged" in broken(lambda pdf: pdf.Root.__delitem__("/StructTreeRoot"))


def test_a_file_that_does_not_claim_pdf_ua_is_refused() -> None:
    assert "does not say that it is PDF/UA" in broken(lambda pdf: pdf.Root.__delitem__("/Metadata"))


def test_a_figure_without_words_is_refused() -> None:
    assert "a figure has no words" in broken(lambda pdf: elements(pdf, "/Figure")[0].__delitem__("/Alt"))


def test_a_heading_cell_without_scope_is_refused() -> None:
    assert "does not say which cells" in broken(lambda pdf: elements(pdf, "/TH")[0].A.__delitem__("/Scope"))


def test_a_script_or_an_attached_file_is_refused() -> None:
    def act(pdf: pikepdf.Pdf) -> None:
        pdf.Root.OpenAction = pikepdf.Dictionary(S=pikepdf.Name("/JavaScript"), JS=pikepdf.String("1"))
        pdf.attachments["note.txt"] = pikepdf.AttachedFileSpec(pdf, b"note", filename="note.txt")

    words = broken(act)
    assert "an action that starts by itself" in words
    assert "carries an attached file" in words


def test_a_font_of_another_name_is_refused() -> None:
    def rename(pdf: pikepdf.Pdf) -> None:
        fonts(pdf)[0].BaseFont = pikepdf.Name("/ABCDEF+Some-Other-Sans")

    assert "the font Some-Other-Sans is not one of the pinned fonts" in broken(rename)


def test_a_font_that_is_not_embedded_is_refused() -> None:
    def strip(pdf: pikepdf.Pdf) -> None:
        for font in fonts(pdf):
            if "/FontDescriptor" in font:
                for key in ("/FontFile2", "/FontFile3"):
                    if key in font.FontDescriptor:
                        del font.FontDescriptor[key]

    assert "is not embedded" in broken(strip)


def test_a_letter_without_a_glyph_is_refused() -> None:
    def spoil(pdf: pikepdf.Pdf) -> None:
        contents = pdf.pages[1].Contents
        head, _, tail = contents.read_bytes().partition(b"<")
        while tail[:4].strip(b"0123456789abcdefABCDEF"):
            more, _, tail = tail.partition(b"<")
            head += b"<" + more
        contents.write(head + b"<0000" + tail[4:])

    assert "holds a sign that no font has" in broken(spoil)


def test_a_file_that_is_no_pdf_is_refused() -> None:
    with pytest.raises(ProofError, match="cannot be read"):
        proof.prove(b"not a PDF")
