"""Every rule of the proof has a planted fault that it catches, on real pages through our own press."""

from __future__ import annotations

import io
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

import pikepdf
import pytest

from generator.base.errors import PageFault, PressError, ProofError
from generator.base.registry import kinds
from generator.press import engine, proof
from generator.press.imposition import impose
from generator.press.press import press
from generator.press.wish import Wish
from tests.press.pages import GOOD_FIGURES, GOOD_NUMBERS, GOOD_PAGE, IMAGE, figure, label, page


@dataclass(frozen=True)
class Planted:
    """A page with a fault, or a good page that was tampered with afterwards."""

    body: str = ""
    svg: str = ""
    css: str = ""
    wish: Wish = field(default_factory=Wish)
    tamper: Callable[[pikepdf.Pdf], None] | None = None
    page: int | None = 1
    text: str = ""


def _rename(pdf: pikepdf.Pdf) -> None:
    font = next(o for o in pdf.objects if isinstance(o, pikepdf.Dictionary) and o.get("/Type") == "/Font")
    font.BaseFont = pikepdf.Name("/ABCDEF+Some-Other-Sans")


CAUTION = '<div class="caution"><p>Blades cut.</p></div>'
DO = '<ol class="do"><li>Cut along the rule.</li></ol>'
LINES = "".join(f"<p>Line {word}</p>" for word in "one two three four five six seven".split() * 6)  # noqa: SIM905

PLANTED: Mapping[tuple[str, str], Planted] = {
    ("clipped", "a label beyond the viewBox"): Planted(IMAGE, label("seam tape", 74, 20), text="seam tape"),
    ("clipped", "a turned label that overflows"): Planted(
        IMAGE, label("panel height", 0, 0, 'transform="translate(10 12) rotate(-90)"'), text="panel height"
    ),
    ("clipped", "a hidden second line"): Planted(
        '<p style="height: 15pt; overflow: hidden">first line<br>second line</p>', text="second line"
    ),
    ("overprint", "overlapping labels"): Planted(
        IMAGE, label("seam tape", 5, 20) + label("rim", 10, 21.5), text="rim"
    ),
    ("overflow", "a line that may not be broken"): Planted(
        '<p style="width: 30mm; white-space: nowrap">a line that may not be broken</p>',
        text="a line that may not be broken",
    ),
    ("overflow", "a long word"): Planted(
        '<p style="width: 30mm">Lampenschirmrandversäuberung</p>', text="Lampenschirmrandversäuberung"
    ),
    ("edge", "text off the page"): Planted(
        '<p style="position: absolute; left: 250mm; top: 20mm; width: 40mm">gone</p>', text="gone"
    ),
    ("margin", "text beyond the margin"): Planted(
        '<p style="position: absolute; left: -10mm; top: 20mm">aside</p>', text="aside"
    ),
    ("margin", "a block too high for its page"): Planted(
        '<div style="display: flex"><div style="height: 267mm"></div>'
        '<div style="padding-top: 266mm"><p style="margin: 0">below</p></div></div>',
        page=2,
        text="below",
    ),
    ("lettering", "letters that are too small"): Planted('<p style="font-size: 7pt">tiny</p>', text="tiny"),
    ("hidden", "a label under a shape"): Planted(
        IMAGE,
        label("seam tape", 5, 20) + '<rect x="0" y="10" width="40" height="20" fill="#F1EDE4"/>',
        text="seam tape",
    ),
    ("contrast", "pale words"): Planted('<p style="color: #8A8A8A">pale words</p>', text="pale words"),
    ("contrast", "words that grey drowns"): Planted(
        '<p style="color: black; background: red">in red</p>', text="in red"
    ),
    ("graphics", "a pale line"): Planted(
        IMAGE, '<path d="M5 5 L70 35" fill="none" stroke="#B5B5B5" stroke-width="0.5"/>'
    ),
    ("graphics", "a tint without an outline"): Planted(
        IMAGE, '<circle cx="40" cy="20" r="15" fill="#D9D9D9"/>'
    ),
    ("graphics", "an arrow that grey drowns"): Planted(
        IMAGE,
        '<rect x="5" y="5" width="60" height="30" fill="#FF0000" stroke="#1B1B1B" stroke-width="0.5"/>'
        '<path d="M10 20 L60 20" fill="none" stroke="#1B1B1B" stroke-width="0.7"/>',
    ),
    ("broken", "a card that goes on on the next page"): Planted(
        f'<section class="card"><h1>Roll</h1>{LINES}{LINES}</section>', page=2
    ),
    ("broken", "a cell of a leaflet that goes on"): Planted(
        f'<section class="cell">{LINES}{LINES}</section>', page=2
    ),
    ("cautions", "a caution after what it guards"): Planted(
        f'<section class="card"><h1>Trim</h1>{DO}{CAUTION}</section>', text="Blades cut."
    ),
    ("cautions", "a caution that only looks to be above"): Planted(
        f'<section class="card"><h1>Trim</h1><div style="height: 20mm"></div>{DO}'
        f'<div style="position: relative; top: -24mm">{CAUTION}</div></section>',
        text="Blades cut.",
    ),
    ("cautions", "a caution that only is read first"): Planted(
        f'<section class="card"><h1>Trim</h1><div style="position: relative; top: 30mm">{CAUTION}</div>{DO}'
        "</section>",
        text="Blades cut.",
    ),
    ("cautions", "a caution overleaf of its step"): Planted(
        f'<section class="card"><h1>Trim</h1>{CAUTION}<div style="break-before: page">{DO}</div></section>',
        text="Blades cut.",
    ),
    ("cautions", "a caution alone at the foot of a page"): Planted(
        f'<h1>Cut</h1>{CAUTION}<p style="break-before: page">Lay out the cloth.</p>', text="Blades cut."
    ),
    ("numbers", "a number from nowhere"): Planted(
        "<p>Cut 1113 mm.</p>", wish=Wish(numbers=frozenset({"1112"})), text="Cut 1113 mm."
    ),
    ("scale", "a full-scale page without its bar"): Planted("<p>A pattern</p>", wish=Wish(bar=100.0)),
    ("fonts", "another font"): Planted(tamper=_rename, page=None),
    ("tags", "a file without a title"): Planted(
        tamper=lambda pdf: pdf.docinfo.__delitem__("/Title"), page=None
    ),
}  # fmt: skip


def caught(planted: Planted) -> tuple[PageFault, ...]:
    """The faults that the press, or the proof of the file by itself, tells."""
    with pytest.raises(ProofError) as refused:
        _prove(planted)
    return refused.value.faults


def _prove(planted: Planted) -> None:
    if planted.tamper is None:
        figures = {"dock": figure(planted.svg)} if planted.svg else {}
        press(page(planted.body, planted.css), figures, planted.wish)
        return
    with pikepdf.open(io.BytesIO(engine.render(GOOD_PAGE, GOOD_FIGURES))) as pdf:
        planted.tamper(pdf)
        out = io.BytesIO()
        pdf.save(out)
    proof.prove(out.getvalue(), planted.wish)


@pytest.mark.parametrize(("rule", "what"), PLANTED)
def test_a_planted_fault_is_caught_by_its_rule(rule: str, what: str) -> None:
    planted = PLANTED[rule, what]
    found = [fault for fault in caught(planted) if fault.rule == rule]
    assert found, what
    assert found[0].page == planted.page
    assert found[0].text == planted.text if planted.text else True
    assert found[0].fix
    if planted.text:
        assert found[0].at is not None


def test_every_rule_has_a_planted_fault() -> None:
    assert {rule for rule, _ in PLANTED} == set(kinds("generator.press.checks"))


def test_a_warning_of_the_engine_is_a_failure() -> None:
    with pytest.raises(PressError, match="complained"):
        press(page("<p>text</p>", "p { colour: red }"))


def test_a_sign_that_no_font_has_is_a_failure() -> None:
    with pytest.raises((PressError, ProofError)):
        press(page("<p>\u2702</p>"))


def test_a_fault_is_told_with_file_page_place_text_and_what_to_do() -> None:
    with pytest.raises(ProofError) as refused:
        press(page('<p style="margin: 0; font-size: 7pt">tiny</p>'))
    (line,) = str(refused.value.in_file("step-sheet.en.pdf")).splitlines()
    assert line.startswith("step-sheet.en.pdf, page 1, 20 mm from the left, ")
    assert " mm from the top: the text “tiny” is 7.0 pt high, the least is 8 pt; " in line


def test_no_more_than_twenty_faults_are_told_and_all_are_counted() -> None:
    words = "".join(f'<p style="font-size: 7pt">tiny {letter}</p>' for letter in "abcdefghijklmnopqrstuvwxyz")
    with pytest.raises(ProofError) as refused:
        press(page(words))
    assert len(refused.value.faults) == 26
    assert str(refused.value).splitlines()[-1] == "and 6 more"


def test_a_good_page_passes_by_itself_and_says_which_rules_were_asked() -> None:
    pdf = press(GOOD_PAGE, GOOD_FIGURES).pdf
    found = proof.prove_alone(pdf, Wish(numbers=GOOD_NUMBERS))
    assert (found.pages, found.faults) == (2, ())
    assert set(found.rules) | set(found.left_out) == set(kinds("generator.press.checks"))
    assert set(found.left_out) == {"overflow", "scale"}


def test_pages_on_sheets_for_a_printer_get_the_rules_that_hold_for_them() -> None:
    html = page("<h1>One</h1>", "@page { size: A5; margin: 10mm }")
    sheets = impose(press(html).pdf, "booklet")
    found = proof.prove_alone(sheets, Wish(print_sheets=True))
    assert found.faults == ()
    assert {"tags", "edge", "margin", "broken", "cautions"} < set(found.left_out)
    assert {"clipped", "contrast", "fonts", "hidden", "lettering", "overprint"} == set(found.rules)


@pytest.mark.parametrize(
    ("planted", "lacking"),
    [(("overprint", "overlapping labels"), True), (("contrast", "pale words"), False)],
)
def test_a_page_with_too_little_room_is_told_from_one_that_is_wrong(
    planted: tuple[str, str], lacking: bool
) -> None:
    assert proof.lacks_room(ProofError(caught(PLANTED[planted]))) == lacking


def test_a_large_letter_may_stand_out_of_its_place_sideways_but_nothing_else_beyond_the_margin() -> None:
    style = "font-size: 24pt; font-weight: 700; line-height: 30pt; position: relative"
    press(page(f'<h1 style="{style}">joint</h1>'))
    for moved in ("left: -1.5pt", "top: -23.5pt"):
        with pytest.raises(ProofError, match="“joint” stands beyond the margin"):
            press(page(f'<h1 style="{style}; {moved}">joint</h1>'))
