"""A document in another form: settings and styles that hold, its lettering, its room, what it still says."""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from generator.base.edition import LETTERS, PAPERS, PRINT_SIZES, Form, PaperName, PrintSize
from generator.base.errors import NoRoomError
from generator.figures.outlook import drawings
from generator.plan.outlook import outlook
from generator.press.layout import measure
from generator.sheets import narrow
from generator.sheets.cards import card_id, more_id
from generator.sheets.compose import compose
from generator.sheets.context import wording
from generator.sheets.document import Document, Subject, document_kind, kind_for
from generator.sheets.forms import form_of
from generator.sheets.high_cards import settle
from generator.sheets.packing import SPARE, Block, Part, Rooms, Sized, pack, too_high
from generator.sheets.style import greyed, larger, scaled, smaller, style_files
from tests.sheets.subjects import Texts, sample

forms = st.builds(
    Form, st.sampled_from(list(PAPERS)), st.sampled_from(PRINT_SIZES), st.booleans(), st.booleans()
)
points = st.floats(6.0, 66.0)
SIZE = sample("pier-drum").size
CAUTION = re.compile(r'<div class="caution">.*?</p></div>', re.DOTALL)
OURS = ("step-sheet", "work-plan")


@given(points, points, forms)
def test_what_is_larger_in_normal_print_is_not_smaller_in_any_other(
    one: float, two: float, form: Form
) -> None:
    low, high = sorted((one, two))
    assert larger(low, form) <= larger(high, form) + 1e-9
    assert smaller(low) <= smaller(high) + 1e-9
    assert larger(low, form) >= low
    assert smaller(low) <= low + 1e-9


@pytest.mark.parametrize("size", PRINT_SIZES[1:])
def test_instructions_have_the_height_that_is_asked_for_and_nothing_read_at_work_is_under_sixteen(
    size: PrintSize,
) -> None:
    form = Form("A4", size)
    assert larger(12.0, form) == LETTERS[form.print_size]
    assert larger(9.5, form) >= 16.0
    assert larger(8.0, form) >= 13.5


def test_only_lengths_in_points_grow() -> None:
    css = "a { font-size: 12pt; width: 12mm; content: '12ptx'; color: #12AA12; }"
    assert scaled(css, Form("A4", "large")) == css.replace("12pt;", "18.00pt;")
    assert scaled(css, Form("A5")) == css
    assert scaled(css, Form("A5"), small=True) == css.replace("12pt;", "10.00pt;")


def test_a_style_is_followed_by_its_variants_that_hold_and_by_no_other() -> None:
    assert style_files("card.css", Form("A4")) == ("style/card.css",)
    found = style_files("card.css", Form("A3", "larger"))
    assert found[0] == "style/card.css"
    assert found[-1] == "style/card.a3+larger.css"
    assert {"style/card.a3.css", "style/card.large-print.css", "style/card.narrow.css"} < set(found)
    assert "style/card.a5.css" not in found


@given(forms)
def test_a_form_is_narrow_where_a_picture_leaves_too_little_beside_it(form: Form) -> None:
    assert form.narrow == ("narrow" in form.tokens)
    if form.narrow:
        assert all(
            replace(form, print_size=size).narrow
            for size in PRINT_SIZES[PRINT_SIZES.index(form.print_size) :]
        )
    else:
        assert not replace(form, print_size="normal").narrow


def margins(html: str, *, first: bool) -> tuple[float, float]:
    """Margins above and below a page, mm, as the last rules for it say."""
    above = below = 0.0
    for selector, body in re.findall(r"@page( :first)? \{((?:[^{}]|\{[^{}]*\})*)\}", html):
        if selector and not first:
            continue
        if every := re.search(r"margin: (\S+)mm \S+mm (\S+)mm", body):
            above, below = float(every[1]), float(every[2])
        if top := re.search(r"margin-top: (\S+)mm", body):
            above = float(top[1])
        if bottom := re.search(r"margin-bottom: (\S+)mm", body):
            below = float(bottom[1])
    return above, below


def given_in(kind: str, form: Form) -> Subject:
    """The sample in a form, with what a kind needs."""
    plain = replace(sample("pier-drum"), form=form)
    if kind == "step-sheet":
        return plain
    ahead = outlook(plain.plan)
    drawn = drawings(plain.size, plain.shade, plain.measures, ahead, wording(plain), form)
    return replace(plain, figures=(*plain.figures, *drawn), outlook=ahead)


@pytest.mark.parametrize("kind", OURS)
@pytest.mark.parametrize("size", PRINT_SIZES)
@pytest.mark.parametrize("paper", list(PAPERS))
def test_room_and_margins_are_the_sheet(kind: str, size: PrintSize, paper: PaperName) -> None:
    form = Form(paper, size)
    template = kind_for(kind, SIZE, form)
    if form.large and paper == "A5":
        assert paper not in template.papers
        assert form_of(document_kind(kind), form) == Form("A4", size)
        return
    html = compose(kind, given_in(kind, form)).html
    for first, room in ((True, template.rooms.first), (False, template.rooms.other)):
        above, below = margins(html, first=first)
        assert -0.01 <= form.sheet.height - above - below - room <= 1.1
        assert min(above, below) >= 10.0


@pytest.mark.parametrize("form", [Form("A5"), Form("A4", "large"), Form("Letter", "larger")])
@pytest.mark.parametrize("kind", OURS)
def test_in_one_column_every_block_stands_right_below_the_one_before(kind: str, form: Form) -> None:
    subject = given_in(kind, form)
    document = compose(kind, subject)
    ids = {block.id for block in document.blocks}
    placed = [part for part in measure(document.html, subject.drawings).placed if part.id in ids]
    order = [block.id for block in document.blocks if block.id in {part.id for part in placed}]
    assert [part.id for part in placed] == order
    # What lies between two blocks would make a page longer than the packing knows.
    for before, after in pairwise(placed):
        assert after.top == pytest.approx(before.bottom, abs=0.05), after.id
    assert max(part.height for part in placed) <= document.rooms.other


@pytest.mark.parametrize(
    "form", [Form("A5"), Form("A3"), Form("Letter"), Form("A4", "large"), Form("A3", "larger")]
)
def test_every_form_says_the_same_steps_checks_and_cautions(form: Form) -> None:
    """Whatever is left out for want of room, it is none of these."""
    usual, other = (
        Texts(compose("step-sheet", given_in("step-sheet", each)).html) for each in (Form(), form)
    )
    cards = [name for name in usual.ids() if name.startswith("step-")]
    assert [name for name in other.ids() if name.startswith("step-")] == cards
    for caution in CAUTION.findall(compose("step-sheet", given_in("step-sheet", Form())).html):
        assert caution in compose("step-sheet", given_in("step-sheet", form)).html
    assert {measure for measure, _ in usual.measured} == {measure for measure, _ in other.measured}


def test_grey_leaves_no_colour_on_a_page() -> None:
    html = compose("step-sheet", given_in("step-sheet", Form(grey=True))).html
    found = set(re.findall(r"(?:#|%23)([0-9A-Fa-f]{6})\b", html))
    assert found
    assert all(len({one[:2], one[2:4], one[4:]}) == 1 for one in found)


@given(st.text("0123456789ABCDEF", min_size=6, max_size=6))
def test_a_grey_is_as_light_as_its_colour(colour: str) -> None:
    red, green, blue = bytes.fromhex(colour)
    shade = bytes.fromhex(greyed(f"#{colour}")[1:])
    assert len(set(shade)) == 1
    assert min(red, green, blue) <= shade[0] <= max(red, green, blue)


def test_a_list_longer_than_a_page_is_broken_below_any_of_its_rows() -> None:
    rules = list(narrow.rows("things"))
    assert rules[1].joined
    assert not rules[2].joined
    rows = [Sized(rule, 10.0) for rule in rules[:51]]
    pages = pack(rows, Rooms(100.6, 100.6)).pages
    assert [len(page) for page in pages] == [10, 10, 10, 10, 10, 1]


def test_a_card_is_too_high_where_no_page_holds_it_with_its_heading() -> None:
    rules = (Block("stage"), Block("first", joined=True), Block("second"), Block("third"))
    heights = {"stage": 12.0, "first": 92.0, "second": 98.0, "third": 120.0}
    over = too_high(rules, heights, Rooms(100.0, 100.0), heights.keys() - {"stage"})
    assert over == {"first": pytest.approx(4.0 + SPARE), "third": pytest.approx(20.0 + SPARE)}


def test_a_card_has_the_first_picture_that_is_low_enough_and_two_pages_where_none_is() -> None:
    subject = replace(sample("pier-drum"), form=Form("A4", "larger"))
    document = compose("step-sheet", subject)
    places = dict(
        zip(kind_for("step-sheet", SIZE, subject.form).lower, (99.0, 72.0, 63.0, 54.0), strict=True)
    )
    room = document.rooms.other
    first, second, third = (card_id(step) for step in subject.plan.steps[1:4])
    words = {first: room - 100.0, second: room - 70.0, third: room - 20.0}
    usual = {figure.number: 132.0 for figure in subject.figures}

    def redrawn(wish: Mapping[str, str]) -> Subject:
        heights = usual | {
            step.number: places[wish[card_id(step)]] for step in subject.plan.steps if card_id(step) in wish
        }
        boxes = tuple(replace(figure, height=heights[figure.number]) for figure in subject.figures)
        return replace(subject, figures=boxes)

    def measured(_: Document, shown: Subject, names: Collection[str]) -> Mapping[str, float]:
        cards = {name: step for step in shown.plan.steps for name in (card_id(step), more_id(step))}
        return {
            name: words[card_id(step)] / (2.0 if more_id(step) in names else 1.0)
            + shown.figure_of(step).height
            for name, step in cards.items()
            if name in names
        }

    given = {block.id: 50.0 for block in document.blocks if not block.id.endswith("-more")}
    given |= measured(document, redrawn({}), words)
    found = settle(document, subject, given, redrawn, measured)
    assert found.redrawn == {first: "half-a4-large", second: "half-a4-lower"}
    assert found.turned.keys() == {third}
    assert max(found.heights.values()) <= room
    assert document.arrange([Part(*each) for each in found.heights.items()]).over == {}


def test_a_card_that_no_page_holds_is_told_as_a_want_of_room_so_that_smaller_print_is_tried() -> None:
    subject = replace(sample("pier-drum"), form=Form("A4", "larger"))
    document = compose("step-sheet", subject)
    step = subject.plan.steps[3]
    high = document.rooms.other + subject.figure_of(step).height + 30
    heights = [Part(block.id, high if block.id == card_id(step) else 50) for block in document.blocks]
    with pytest.raises(
        NoRoomError, match=f"step {step.number} in the step-sheet of Pier drum 35 is .* higher than"
    ):
        document.arrange(heights)
    assert document.arrange([Part(block.id, 50) for block in document.blocks]).over == {}
