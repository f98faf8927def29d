"""Handouts and cards for the wall, read back from their printed pages."""

from __future__ import annotations

import io
import re
import shutil
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import page as checker
import pikepdf
import pytest

from generator.base.assets import data_folder
from generator.base.edition import ENGLISH
from generator.build import Made, make, make_whole
from generator.cli.run import run
from generator.examine import examine
from generator.jobs import jobs_for
from generator.plan.work import Work
from generator.press.reading import sheets
from generator.sheets.wall import LETTERS, groups, wall_steps, words_of
from generator.sheets.wording import Catalogue, load_words

RECIPES = data_folder("recipes")
MM = 25.4 / 72
CLASS = """
class:
  people:
    - {name: Ines Marlow}
    - {name: Odd, recipe: ./ferry-square.yaml, cloth: {name: Blue ticking, width: 150 cm}}
    - {}
  start: "10:00"
  length: 6 h
  tables: [{length: 200 cm, depth: 80 cm, count: 4}]
  skill: first-time
  cloth: in-class
"""


@dataclass(frozen=True)
class Printed:
    """A document as it lies in its folder."""

    made: Made
    pdf: bytes

    @property
    def pages(self) -> list[str]:
        """The words of each page."""
        return [" ".join(run.text for run in sheet.runs) for sheet in sheets(self.pdf)]

    @property
    def paper(self) -> set[tuple[int, ...]]:
        """Sizes of its pages, mm."""
        with pikepdf.open(io.BytesIO(self.pdf)) as file:
            return {tuple(round(float(side) * MM) for side in page.mediabox[2:]) for page in file.pages}


def read(made: Made) -> Printed:
    ((path, pages),) = made.documents
    printed = Printed(made, path.read_bytes())
    assert len(printed.pages) == pages
    return printed


@cache
def drum() -> tuple[Work, ...]:
    return examine(RECIPES / "pier-drum.yaml").works


@pytest.fixture(scope="module")
def handout(tmp_path_factory: pytest.TempPathFactory) -> Printed:
    return read(make(drum()[1], ("handout",), tmp_path_factory.mktemp("handout")))


@pytest.fixture(scope="module")
def mixed(tmp_path_factory: pytest.TempPathFactory) -> Printed:
    """A class of three: an oval, a square on somebody's own cloth, an oval again."""
    folder = tmp_path_factory.mktemp("class")
    text = (RECIPES / "net-loft.yaml").read_text("utf-8")
    (folder / "net-loft.yaml").write_text(text + CLASS, encoding="utf-8")
    shutil.copy(RECIPES / "ferry-square.yaml", folder)
    examined = examine(folder / "net-loft.yaml")
    assert examined.roster is not None
    return read(make_whole(examined.works, ("handouts",), folder / "out", examined.roster))


@pytest.fixture(scope="module")
def wall(tmp_path_factory: pytest.TempPathFactory) -> Printed:
    return read(make_whole(drum(), ("wall-cards",), tmp_path_factory.mktemp("wall")))


def words(work: Work) -> Catalogue:
    return load_words(ENGLISH).bound(work.plan, work.measures)


def squeezed(text: str) -> str:
    return re.sub(r"[\s\u200b]", "", text)


def test_a_handout_is_two_sheets_of_a4(handout: Printed) -> None:
    assert len(handout.pages) == 4
    assert handout.paper == {(210, 297)}
    assert handout.made.listed[0].endswith("(4 pages, 2 sheets of paper printed on both sides)")


@pytest.mark.parametrize("kind", ["handout", "mixed", "wall"])
def test_there_is_no_failure_in_the_machine_checker(kind: str, request: pytest.FixtureRequest) -> None:
    printed = request.getfixturevalue(kind)
    report = checker.validate_pdf_bytes(printed.pdf, profile="ua1")
    assert [(failure.rule_id, failure.message) for failure in report.failures] == []
    assert report.is_compliant


def test_no_step_is_lost_and_each_caution_stands_before_it_on_its_page(handout: Printed) -> None:
    work, page, place = drum()[1], 0, 0
    said = words(work)
    texts = [squeezed(text) for text in handout.pages]
    for step in work.plan.steps:
        title = squeezed(said.say(f"{step.task.key}.title"))
        first = squeezed("".join(part.text for part in said.brief(step.task.key)[0]))
        while first not in texts[page][place:]:
            page, place = page + 1, 0
        at = texts[page].index(first, place)
        head = texts[page].rindex(title, 0, at)
        assert head >= place
        for name in step.task.cautions:
            part = squeezed(said.say(f"caution.{name}.avoid"))
            assert head < texts[page].index(part, head) < at, step.id
        assert squeezed(said.say(f"{step.task.key}.check")) in texts[page][at:]
        place = at
    assert page == 3


def test_everybody_gets_two_sheets_in_the_order_of_the_list(mixed: Printed) -> None:
    pages = mixed.pages
    assert len(pages) == 12
    owners = ["Ines Marlow", "Odd", ""]
    titles = ["Net loft 35x20", "Ferry square 26", "Net loft 35x20"]
    for person, (owner, title) in enumerate(zip(owners, titles, strict=True)):
        own = pages[4 * person : 4 * person + 4]
        assert all(title in page and owner in page for page in own)
        assert [f"Page {number} of 4" in page for number, page in enumerate(own, 1)] == [True] * 4
        assert not any(other in page for page in own for other in set(owners) - {owner, ""})
    assert mixed.made.listed[0].endswith("(12 pages, 6 sheets of paper printed on both sides)")


def test_each_of_them_shows_their_own_measures_and_cloth(mixed: Printed) -> None:
    # By hand: the square is cut 1015 × 240 (the demo's own value), the oval 985 × 270.
    fronts = [mixed.pages[number] for number in (0, 4, 8)]
    assert ["1015 × 240 mm" in front for front in fronts] == [False, True, False]
    assert ["985 × 270 mm" in front for front in fronts] == [True, False, True]
    assert ["Blue ticking, 1500 mm wide" in front for front in fronts] == [False, True, False]


def test_a_recipe_without_a_class_has_no_handouts_and_a_line_says_so() -> None:
    found = jobs_for(drum(), drum(), ("handouts",))
    assert found.jobs == ()
    assert found.skipped == ("pier-drum: no handouts, since the recipe has no class",)


def test_a_card_for_the_wall_hangs_for_each_of_four_steps(wall: Printed) -> None:
    work = drum()[0]
    assert [step.id for step in wall_steps(work)] == ["laminate", "stop-and-orient", "roll", "tuck-plain-end"]
    assert wall.paper == {(297, 420)}
    assert len(wall.pages) == 4
    said = words(work)
    for step, page in zip(wall_steps(work), wall.pages, strict=True):
        assert f"{step.number} {said.say(f'{step.task.key}.title')}" in " ".join(page.split())
        for name in step.task.cautions:
            hazard = page.index(said.say(f"caution.{name}.hazard"))
            assert hazard < page.index("".join(part.text for part in said.brief(step.task.key)[0])[:20])


def test_numbers_that_differ_stand_in_the_table_and_nowhere_else(wall: Printed) -> None:
    roll = wall.pages[2]
    assert len(groups(drum(), ENGLISH)) == 1
    # A quarter, a half and three quarters of π (D + 0.65): ring, two tapes of 0.15, one sheet of 0.35.
    for diameter, row in (
        (250, "197, 394 and 591 mm"),
        (350, "275, 551 and 826 mm"),
        (450, "354, 708 and 1062 mm"),
    ):
        around = 3.14159265 * (diameter + 0.65)
        assert [round(around * k / 4) for k in (1, 2, 3)] == [int(n) for n in re.findall(r"\d+", row)]
        assert roll.count(row) == 1
    assert f"edges at {LETTERS[0]}" in " ".join(roll.split())
    # What all sizes share stands in the sentence.
    assert "50 to 100 mm" in wall.pages[0]
    assert "10 mm" in roll


def test_words_on_the_wall_are_read_from_across_a_room(wall: Printed) -> None:
    """34 pt for a line and 32 pt in a picture, as the project's table of printed formats has it."""
    for sheet in sheets(wall.pdf):
        sizes = [min(letter.thing.size for letter in run.letters) for run in sheet.runs]
        assert min(sizes) >= 18 - 0.1
        assert sum(size >= 32 - 0.1 for size in sizes) >= len(sizes) / 2


def test_sizes_that_are_told_in_other_words_have_cards_of_their_own(tmp_path: Path) -> None:
    path = tmp_path / "two-ways.yaml"
    path.write_text(
        "rimfold: 1\ntitle: Two ways\noutline: circle\nsizes:\n"
        "  30: {diameter: 300 mm, height: 200 mm}\n"
        "  40: {diameter: 400 mm, height: 200 mm}\n"
        "  50: {diameter: 350 mm, height: 200 mm, panel: {stock_length: 700 mm}, "
        "ring: {first_strut: 275 mm}}\n",
        encoding="utf-8",
    )
    works = examine(path).works
    found = groups(works, ENGLISH)
    assert [[work.size.name for work in group] for group in found] == [["30", "40"], ["50"]]
    assert "each joint" in words_of(found[1][0], ENGLISH).say("rolled-edge.roll.brief.1")


def test_the_terminal_tells_pages_and_sheets(
    tmp_path: Path, handout: Printed, capsys: pytest.CaptureFixture[str]
) -> None:
    recipe = tmp_path / "plain.yaml"
    recipe.write_text(
        "rimfold: 1\ntitle: Plain\noutline: circle\nsizes:\n  30: {diameter: 300 mm, height: 200 mm}\n",
        encoding="utf-8",
    )
    assert run(["make", str(recipe), "--document", "handouts", "--out", str(tmp_path / "out")]) == 0
    assert "plain: no handouts, since the recipe has no class" in capsys.readouterr().out
    assert not (tmp_path / "out").exists()
