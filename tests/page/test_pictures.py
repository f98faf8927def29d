"""The picture at the side: a small one at once, the one with labels after it, never an old one over a new."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from threading import Event

import pytest
from playwright.sync_api import Error, Page, Route, expect
from shapely import Polygon

from generator.base.assets import data_folder
from generator.base.edition import Voice
from generator.examine import examine
from generator.figures.model import Job
from generator.figures.silhouette import set_silhouette, site
from generator.figures.upright import stand
from generator.figures.view import bench
from generator.page import form
from generator.page.pictures import Pictures
from generator.page.silhouettes import picture_in, picture_of
from generator.plan.work import Work
from generator.sheets.wording import load_words
from tests.page.browser import windows
from tests.page.served import Served, serve

SAMPLES = sorted(data_folder("recipes").glob("*.yaml"))
NAME = "fog-cone.yaml"
PATIENCE = 60_000
HEIGHT = '[id="v/sizes/35/height"]'
SMALL, LABELLED = "#look figure svg.silhouette", "#look figure svg:not(.silhouette)"
PATH = re.compile(r'class="(body|rim)" d="M([^"]+)Z"')
ASKED = re.compile(r'hx-get="(/shade/[^"]+/picture\?of=[0-9a-f]+)"')


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with serve(tmp_path_factory.mktemp("pictures") / "shades", "fog-cone", "tide-drum") as page:
        yield page


def first_of(path: Path) -> Work:
    return examine(path, alone=True).works[0]


def drawn(svg: str) -> dict[str, Polygon]:
    """Body and upper rim of a small picture, as they lie on its paper."""
    return {
        name: Polygon([tuple(map(float, point.split())) for point in data.split("L")])
        for name, data in PATH.findall(svg)
    }


def across(shape: Polygon) -> float:
    left, _, right, _ = shape.bounds
    return right - left


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_the_small_picture_has_the_place_and_the_paper_of_the_one_with_labels(path: Path) -> None:
    work = first_of(path)
    words = load_words(Voice()).bound(work.plan, work.measures)
    figure, setting = set_silhouette(work.size, work.shade, work.measures, words, work.plan)
    job = Job(work.size, work.shade, work.measures, work.plan, work.plan.steps[0], words, setting.slot)
    small = picture_in(job, setting)
    papers = [
        [round(float(value), 1) for value in re.findall(r'viewBox="([^"]+)"', svg)[0].split()]
        for svg in (small, figure.svg)
    ]
    assert papers[0] == papers[1]
    at = site(job, setting.more)
    left = work.size.makers.hand == "left"
    wall = stand(work.size, work.shade, bench(left), at.place, at.points).body
    assert drawn(small)["body"].symmetric_difference(wall).area < 0.02 * wall.area


@pytest.mark.parametrize(("sample", "low", "high"), [("fog-cone", 350.0, 200.0), ("beacon-50", 500.0, 280.0)])
def test_a_taper_is_small_in_its_true_proportions(sample: str, low: float, high: float) -> None:
    picture = drawn(picture_of(first_of(data_folder("recipes") / f"{sample}.yaml").shade))
    assert across(picture["body"]) == pytest.approx(low, rel=0.002)
    assert across(picture["rim"]) == pytest.approx(high, rel=0.002)


def test_a_change_that_no_picture_shows_keeps_the_one_with_labels() -> None:
    path = data_folder("recipes") / NAME
    text, pictures, voice = path.read_text(encoding="utf-8"), Pictures(), Voice()
    labelled = pictures.whole(NAME, first_of(path), voice)
    assert not labelled.awaited
    for field, value, same in (("v/title", "Fog bank", True), ("v/sizes/35/height", "230", False)):
        other = form.filled(text, {**form.form_values(text), field: value})
        shown = pictures.at_once(NAME, examine(path, other, alone=True).works[0], voice)
        assert (shown == labelled) == same, field
        assert bool(shown.awaited) != same


def tried(served: Served, height: str) -> str:
    text = (served.folder / NAME).read_text(encoding="utf-8")
    fields = form.form_values(text) | {"base": served.base(NAME), "v/sizes/35/height": height, "size": "35"}
    answer = served.ask("POST", f"/shade/{NAME}/try", fields)
    assert answer.status == 200
    return answer.text


def test_an_answer_has_the_small_picture_and_says_where_the_other_is(served: Served) -> None:
    answer = tried(served, "231")
    assert 'class="silhouette"' in answer
    assert 'role="img"' not in answer
    (address,) = ASKED.findall(answer)
    later = served.ask("GET", address)
    assert later.status == 200
    assert 'role="img"' in later.text
    assert ">231<" in later.text
    # It has been drawn by now: who types the same once more has it at once.
    again = tried(served, "231")
    assert 'role="img"' in again
    assert not ASKED.search(again)


def test_a_picture_that_is_not_kept_is_not_drawn_and_nothing_is_said(served: Served) -> None:
    (address,) = ASKED.findall(tried(served, "232"))
    for asked in (
        f"/shade/{NAME}/picture",
        f"/shade/{NAME}/picture?of={'0' * 32}",
        address.replace(NAME, "tide-drum.yaml"),
        address.replace(NAME, "none.yaml"),
    ):
        answer = served.ask("GET", asked)
        assert (answer.status, answer.text) == (204, "")


def test_the_whole_page_has_the_picture_with_labels_from_the_start(served: Served) -> None:
    page = served.ask("GET", f"/shade/{NAME}").text
    aside = page[page.index('<aside class="look"') : page.index("</aside>")]
    assert 'role="img"' in aside
    assert "silhouette" not in re.sub(r'data-figure="silhouette"|id="[^"]*"', "", aside)
    assert not ASKED.search(page)


def typed(page: Page, value: str) -> None:
    field = page.locator(HEIGHT)
    field.fill(value)


def open_page(served: Served, page: Page) -> None:
    page.goto(f"{served.origin}/shade/{NAME}")
    page.wait_for_load_state("networkidle")


def test_in_a_browser_the_small_one_comes_first_then_the_other_and_nothing_moves(served: Served) -> None:
    with windows(served) as (page,):
        open_page(served, page)
        before = page.locator("#look").bounding_box()
        typed(page, "233")
        expect(page.locator(SMALL)).to_be_visible(timeout=PATIENCE)
        small = page.locator("#look figure").bounding_box()
        expect(page.locator(LABELLED)).to_contain_text("233", timeout=PATIENCE)
        assert page.locator(SMALL).count() == 0
        assert page.locator("#look figure").bounding_box() == small
        assert page.locator("#look").bounding_box() == before
        # Nobody is told each time.
        assert page.locator("#look figure").evaluate("e => e.closest('[aria-live], [role=status]')") is None


def test_in_a_browser_a_picture_that_is_overtaken_never_comes_to_stand_over_the_next(served: Served) -> None:
    held: list[Route] = []
    came = Event()

    def hold(route: Route) -> None:
        if came.is_set():
            route.continue_()
        else:
            held.append(route)
            came.set()

    with windows(served) as (page,):
        open_page(served, page)
        page.route("**/picture?of=*", hold)
        page.evaluate(
            "() => { window.seen = []; new MutationObserver(() => window.seen.push("
            "document.querySelector('#look figure').textContent)).observe("
            "document.querySelector('#look'), {childList: true, subtree: true}) }"
        )
        typed(page, "234")
        page.wait_for_function(f"() => document.querySelector({SMALL!r})")
        while not came.is_set():
            page.wait_for_timeout(50)
        # The first picture is under way; what is typed does not wait for it.
        typed(page, "235")
        expect(page.locator(LABELLED)).to_contain_text("235", timeout=PATIENCE)
        with suppress(Error):  # the browser has given it up
            held[0].fulfill(body="<svg><text>234</text></svg>", content_type="text/html")
        page.wait_for_timeout(300)
        expect(page.locator(LABELLED)).to_contain_text("235")
        assert not any("234" in text for text in page.evaluate("() => window.seen"))
