"""No failure in axe, in every light and language; nothing is lost at twice the size or on a tablet."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, expect

from tests.page.browser import windows
from tests.page.served import Served, serve

PAGES = (
    "/", "/shade/pier-drum.yaml", "/shade/beacon-50.yaml", "/shade/pier-drum.yaml/steps",
    "/shade/pier-drum.yaml/cutting", "/shade/pier-drum.yaml/class", "/shade/pier-drum.yaml/print",
    "/shade/none.yaml",
)  # fmt: skip
LOOKS: tuple[dict[str, Any], ...] = (
    {"color_scheme": "light"},
    {"color_scheme": "dark"},
    {"color_scheme": "light", "contrast": "more"},
    {"color_scheme": "dark", "contrast": "more"},
    {"forced_colors": "active"},
)


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with serve(tmp_path_factory.mktemp("seen") / "shades", "pier-drum", "beacon-50") as page:
        yield page


CONTRAST = ["color-contrast"]
PATIENCE = 60_000


def failures(page: Page) -> list[str]:
    """What axe finds, a line each.

    Contrast is not asked within drawings: there axe takes the ground of turned words for that of the page.
    Here it is seen that they stand on white paper in every light.
    """
    axe = Axe()
    found = axe.run(page, options={"rules": {rule: {"enabled": False} for rule in CONTRAST}}).response[
        "violations"
    ]
    outside = {"exclude": [[".paper svg"]]}
    found += axe.run(page, context=outside, options={"runOnly": CONTRAST}).response["violations"]
    return [f"{each['id']}: {node['html'][:160]}" for each in found for node in each["nodes"]]


def on_white(page: Page) -> bool:
    """Whether all drawings with words stand on white."""
    grounds: list[str] = page.evaluate(
        "() => [...document.querySelectorAll('.paper')].map(e => getComputedStyle(e).backgroundColor)"
    )
    return set(grounds) <= {"rgb(255, 255, 255)"}


def opened(page: Page, address: str) -> None:
    page.goto(address)
    page.wait_for_load_state("networkidle")
    page.evaluate("() => document.querySelectorAll('details').forEach(each => { each.open = true })")


@pytest.mark.parametrize("look", LOOKS, ids=lambda look: "-".join(look.values()))
def test_no_page_fails_axe(served: Served, look: dict[str, Any]) -> None:
    with windows(served, **look) as (page,):
        for path in PAGES:
            opened(page, served.origin + path)
            assert failures(page) == [], path
            assert on_white(page), path


@pytest.mark.parametrize("language", ["de", "fr", "es"])
def test_no_page_fails_axe_in_another_language(served: Served, language: str) -> None:
    with windows(served, locale=language) as (page,):
        for path in ("/", "/shade/pier-drum.yaml", "/shade/pier-drum.yaml/print"):
            opened(page, served.origin + path)
            assert page.locator("html").get_attribute("lang") == language
            assert failures(page) == [], path


@pytest.mark.parametrize("size", [(640, 450), (768, 1024), (390, 800)], ids=["200%", "tablet", "telephone"])
def test_nothing_is_wider_than_the_window(served: Served, size: tuple[int, int]) -> None:
    """WCAG 2.2, 1.4.10: at 200 % of 1280 pixels, on a tablet held upright, on a telephone."""
    with windows(served, viewport={"width": size[0], "height": size[1]}) as (page,):
        for path in PAGES:
            opened(page, served.origin + path)
            wide = page.evaluate("() => document.documentElement.scrollWidth")
            assert wide <= size[0], path


def test_targets_are_large(served: Served) -> None:
    """WCAG 2.2, 2.5.5: what is pressed is 44 pixels high, save links within a text."""
    with windows(served) as (page,):
        for path in PAGES[:2]:
            opened(page, served.origin + path)
            small = page.evaluate(
                "() => [...document.querySelectorAll('main button, main select, main input:not([type=hidden])"
                ":not([type=radio]):not([type=checkbox]), main summary')]"
                ".filter(e => e.offsetParent && e.getBoundingClientRect().height < 44)"
                ".map(e => e.outerHTML.slice(0, 120))"
            )
            assert small == [], path


def test_a_mistake_is_heard_alone_while_typing_and_with_the_help_when_one_comes_back(served: Served) -> None:
    """A reader that reads the description of its field as often as that changes would read the help again."""
    with windows(served) as (page,):
        opened(page, f"{served.origin}/shade/beacon-50.yaml")
        watts, beside = page.locator('[id="v/lamp/watts"]'), page.locator('[id="m/v/lamp/watts"]')
        aside = page.locator('[id="v/lamp/diameter"]')
        help_text = page.locator('[id="h/v/lamp/watts"]').inner_text()
        expect(watts).to_have_accessible_description(help_text)
        watts.press_sequentially("x")
        expect(beside).to_contain_text("expected", timeout=PATIENCE)
        page.wait_for_load_state("networkidle")
        expect(watts).to_be_focused()
        expect(watts).to_have_accessible_description(help_text)
        # What is wrong there stays as it is while something else is typed, and is not heard again.
        page.evaluate(
            "() => { window.heard = 0; new MutationObserver(found => { window.heard += found.length })"
            ".observe(document.getElementById('m/v/lamp/watts'), {childList: true, subtree: true}) }"
        )
        aside.focus()
        expect(watts).to_have_accessible_description(re.compile(f"{re.escape(help_text)}.*expected"))
        aside.press_sequentially("x")
        expect(page.locator('[id="m/v/lamp/diameter"]')).not_to_be_empty(timeout=PATIENCE)
        page.wait_for_load_state("networkidle")
        assert page.evaluate("() => window.heard") == 0
        assert failures(page) == []
        watts.fill("6")
        expect(beside).to_be_empty(timeout=PATIENCE)
        aside.focus()
        expect(watts).to_have_accessible_description(help_text)
