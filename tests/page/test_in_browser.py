"""The page as people use it: a shade from nothing, a mistake, a print, two windows, a crash, keys alone."""

from __future__ import annotations

import http.client
import json
import re
import threading
import time
from collections.abc import Iterator
from pathlib import Path

import pypdfium2 as pdfium
import pytest
from playwright.sync_api import Page, expect

from generator.cli.run import run
from tests.page.browser import windows
from tests.page.served import Served, serve

PATIENCE = 60_000


@pytest.fixture
def served(tmp_path: Path) -> Iterator[Served]:
    with serve(tmp_path / "shades", "net-loft") as page:
        yield page


def saved(page: Page) -> None:
    expect(page.locator("#state")).to_contain_text("Saved.", timeout=PATIENCE)


def height(page: Page, size: str) -> str:
    return f'[id="v/sizes/{size}/height"]'


def test_a_shade_from_nothing_a_mistake_mended_and_its_sheet_printed(
    served: Served, capsys: pytest.CaptureFixture[str]
) -> None:
    begun = time.monotonic()
    with windows(served) as (page,):
        page.get_by_label("What it is called").fill("Quay lantern")
        page.get_by_label("Square", exact=True).check()
        page.get_by_role("button", name="Make this shade").click()
        expect(page).to_have_url(f"{served.origin}/shade/quay-lantern.yaml")
        side = page.locator('[id="v/sizes/30/side"]')
        side.fill("26")
        expect(page.locator("#look table")).to_contain_text("1001 × 250 mm", timeout=PATIENCE)
        side.blur()
        saved(page)
        # A height in the wrong unit is a mistake, told beside the field, and not saved.
        high = page.locator(height(page, "30"))
        high.fill("2")
        high.blur()
        beside = page.locator('[id="m/v/sizes/30/height"]')
        expect(beside).to_contain_text("expected", timeout=PATIENCE)
        expect(page.locator("#state")).to_contain_text("Not saved while something is wrong")
        assert "height: 22 cm" in (served.folder / "quay-lantern.yaml").read_text(encoding="utf-8")
        high.fill("24")
        high.blur()
        saved(page)
        expect(beside).to_be_empty()
        page.get_by_role("link", name="Print", exact=True).click()
        page.get_by_role("button", name="Make them").click()
        expect(page.locator("#run")).to_contain_text("All done.", timeout=PATIENCE)
        assert page.locator(".pages img").count() > 5
        page.locator(".pages img").first.scroll_into_view_if_needed()
        expect(page.locator(".pages img").first).to_have_js_property("naturalWidth", 360, timeout=PATIENCE)
        with page.expect_download() as coming:
            page.get_by_role("link", name="Keep step-sheet.en.pdf").click()
        file = served.folder / "downloaded.pdf"
        coming.value.save_as(file)
    assert time.monotonic() - begun < 120
    recipe = served.folder / "quay-lantern.yaml"
    assert run(["check", str(recipe)]) == 0
    capsys.readouterr()
    assert run(["measures", str(recipe), "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    with pdfium.PdfDocument(file) as pdf:
        text = " ".join(pdf[at].get_textpage().get_text_bounded() for at in range(len(pdf)))
    (measures,) = (size["measures"] for size in told["sizes"].values())
    for key in ("cloth_length", "cloth_width", "panel_length", "panel_height", "perimeter", "tape_total"):
        assert re.search(rf"(?<!\d){measures[key]['shown']:g}(?!\d)", text), key


def test_two_windows_on_one_recipe_do_not_overwrite_each_other(served: Served) -> None:
    with windows(served, 2) as (one, two):
        for page in (one, two):
            page.goto(f"{served.origin}/shade/net-loft.yaml")
        one.locator(height(one, "35x20")).fill("230")
        one.locator(height(one, "35x20")).blur()
        saved(one)
        two.locator(height(two, "35x20")).fill("250")
        two.locator(height(two, "35x20")).blur()
        expect(two.locator("#state")).to_contain_text("has changed on the disk", timeout=PATIENCE)
        kept = (served.folder / "net-loft.yaml").read_text(encoding="utf-8")
        assert "height: 230 mm" in kept
        two.get_by_role("button", name="Save what stands here").click()
        two.wait_for_load_state("networkidle")
        assert "height: 250 mm" in (served.folder / "net-loft.yaml").read_text(encoding="utf-8")
        two.get_by_role("button", name="Undo").click()
        two.wait_for_load_state("networkidle")
        assert (served.folder / "net-loft.yaml").read_text(encoding="utf-8") == kept


def test_a_window_that_is_looked_at_again_says_that_its_file_has_changed(served: Served) -> None:
    with windows(served) as (page,):
        page.goto(f"{served.origin}/shade/net-loft.yaml")
        page.evaluate("window.dispatchEvent(new Event('focus'))")
        page.wait_for_load_state("networkidle")
        expect(page.locator("#state")).not_to_contain_text("has changed on the disk")
        file = served.folder / "net-loft.yaml"
        file.write_text(
            file.read_text(encoding="utf-8").replace("height: 220 mm", "height: 230 mm"), encoding="utf-8"
        )
        page.evaluate("window.dispatchEvent(new Event('focus'))")
        expect(page.locator("#state")).to_contain_text("has changed on the disk", timeout=PATIENCE)
        page.get_by_role("link", name="Show what is in the file").click()
        expect(page.locator(height(page, "35x20"))).to_have_value("230")


def test_what_is_chosen_is_saved_and_stays_told_so(served: Served) -> None:
    file = served.folder / "net-loft.yaml"
    with windows(served) as (page,):
        page.goto(f"{served.origin}/shade/net-loft.yaml")
        page.get_by_label("Use", exact=True).select_option("pendant")
        saved(page)
        for language in ("Deutsch", "Français"):
            page.get_by_label(language, exact=True).check()
        page.wait_for_load_state("networkidle")
        saved(page)
        text = file.read_text(encoding="utf-8")
        assert "use: pendant" in text
        assert "languages: [de, fr]" in text
        page.get_by_role("link", name="Print", exact=True).click()
        expect(page.get_by_label("Deutsch", exact=True)).to_be_checked()
        expect(page.get_by_label("English", exact=True)).not_to_be_checked()


def test_many_pages_are_shown_and_the_page_still_answers(served: Served) -> None:
    with windows(served) as (page,):
        page.goto(f"{served.origin}/shade/net-loft.yaml/print")
        page.get_by_role("button", name="Make them").click()
        expect(page.locator("#run")).to_contain_text("All done.", timeout=PATIENCE)
        page.evaluate("document.querySelectorAll('.pages img').forEach(each => { each.loading = 'eager' })")
        pictures = page.locator(".pages img")
        for at in range(pictures.count()):
            expect(pictures.nth(at)).to_have_js_property("naturalWidth", 360, timeout=PATIENCE)
        assert pictures.count() > 5
    assert served.process.poll() is None
    assert served.ask("GET", "/").status == 200


def test_a_page_whose_server_is_killed_while_it_saves_leaves_a_whole_file(tmp_path: Path) -> None:
    with serve(tmp_path / "shades", "net-loft") as page:
        file = page.folder / "net-loft.yaml"
        whole = file.read_text(encoding="utf-8")
        base = page.base("net-loft.yaml")
        fields = {"base": base, "v/sizes/35x20/height": "233", "u/sizes/35x20/height": "mm"}
        sender = threading.Thread(target=_send, args=(page, fields), daemon=True)
        sender.start()
        end = time.monotonic() + 20
        while time.monotonic() < end and page.process.poll() is None:
            if any(page.folder.glob(".rimfold-*")) or "233" in file.read_text(encoding="utf-8"):
                break
        page.kill()
        sender.join(20)
        text = file.read_text(encoding="utf-8")
        assert text in (whole, whole.replace("height: 220 mm", "height: 233 mm"))
    with serve(tmp_path / "shades") as again:
        assert again.ask("GET", "/shade/net-loft.yaml").status == 200


def _send(page: Served, fields: dict[str, str]) -> None:
    try:
        page.ask("POST", "/shade/net-loft.yaml/change", fields)
    except (OSError, http.client.HTTPException):
        return


def test_the_keyboard_alone_makes_and_changes_a_shade(served: Served) -> None:
    with windows(served) as (page,):
        keys = page.keyboard
        _tab_to(page, "What it is called")
        keys.type("Rope walk")
        keys.press("Tab")
        keys.press("ArrowDown")
        _tab_to(page, "Make this shade")
        keys.press("Enter")
        expect(page).to_have_url(f"{served.origin}/shade/rope-walk.yaml")
        _tab_to(page, "Height")
        keys.press("Control+a")
        keys.type("19")
        keys.press("Tab")
        saved(page)
        assert "height: 19 cm" in (served.folder / "rope-walk.yaml").read_text(encoding="utf-8")


def _tab_to(page: Page, name: str) -> None:
    """Press the tabulator until something of this name is reached; what is reached can be seen to be."""
    for _ in range(80):
        page.keyboard.press("Tab")
        found = page.evaluate(
            "() => { const e = document.activeElement; const l = e.labels && e.labels[0];"
            " return [(l ? l.innerText : e.innerText || '').trim(), getComputedStyle(e).outlineStyle] }"
        )
        if found[0] == name:
            assert found[1] != "none"
            return
    pytest.fail(f"no {name} is reached by the tabulator")


def test_the_class_says_at_once_what_another_tool_would_change(tmp_path: Path) -> None:
    with serve(tmp_path / "shades", "pier-drum") as served, windows(served) as (page,):
        page.goto(f"{served.origin}/shade/pier-drum.yaml/class")
        before, wait_before = page.locator("#end").inner_text(), wait(page)
        assert wait_before > 10
        page.get_by_label("Iron", exact=False).first.fill("6")
        expect(page.locator("#end")).not_to_have_text(before, timeout=PATIENCE)
        assert wait(page) < wait_before
        kept = (served.folder / "pier-drum.yaml").read_text(encoding="utf-8")
        assert "iron: 2" in kept


def wait(page: Page) -> int:
    """The longest wait for an iron that the page tells of, minutes; 0 for none."""
    found = re.search(r"iron, (\d+) min", page.locator("#end").inner_text(), re.IGNORECASE)
    return int(found[1]) if found else 0
