"""What the page says: what is wrong and where, what changed elsewhere, how to get what is missing."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterator
from html import unescape
from pathlib import Path

import pytest

from generator.base.assets import data_folder, languages
from generator.base.edition import Voice
from generator.page import form, shaping
from generator.page.look import values
from generator.sheets.document import document_kinds
from generator.sheets.wording import load_words
from tests.page.served import Served, serve

RECIPES = data_folder("recipes")
ON_DISK = "has changed on the disk"


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with serve(tmp_path_factory.mktemp("told") / "shades", "net-loft", "ferry-square") as page:
        (page.folder / "broken.yaml").write_text("title: Slip\nsizes: [\n", encoding="utf-8")
        text = (RECIPES / "ferry-square.yaml").read_text(encoding="utf-8")
        (page.folder / "late.yaml").write_text(text.replace("length: 4 h", "length: 2 h"), encoding="utf-8")
        yield page


def plain(html: str) -> str:
    """A page without its marks."""
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", html))


def test_a_class_that_ends_too_late_is_told_when_its_recipe_is_opened(served: Served) -> None:
    assert "/shade/late.yaml/check" in served.ask("GET", "/shade/late.yaml").text
    told = served.ask("GET", "/shade/late.yaml/check").text
    assert "does not end in time" in told
    assert 'href="#v/class/length"' in told
    good = plain(served.ask("GET", "/shade/ferry-square.yaml/check").text)
    assert good.strip() == ""


def test_the_card_of_a_class_that_ends_too_late_says_so_and_no_other(served: Served) -> None:
    start = served.ask("GET", "/").text
    asked = set(re.findall(r'hx-get="/shade/([^"]+)/mark"', start))
    assert asked == {"late.yaml", "ferry-square.yaml"}
    assert "does not end in time" in plain(served.ask("GET", "/shade/late.yaml/mark").text)
    assert served.ask("GET", "/shade/ferry-square.yaml/mark").status == 204
    file = served.folder / "late.yaml"
    kept = file.read_text(encoding="utf-8")
    file.write_text(kept.replace("length: 2 h", "length: 4 h"), encoding="utf-8")
    try:
        assert served.ask("GET", "/shade/late.yaml/mark").status == 204
    finally:
        file.write_text(kept, encoding="utf-8")


def test_a_screen_reader_hears_a_mistake_at_once_and_no_empty_places_for_one(served: Served) -> None:
    form_page = served.ask("GET", "/shade/ferry-square.yaml").text
    places = re.findall(r'<(?:div|span) class="said"[^>]*>', form_page)
    assert places
    # A place with a role is named by the reader although nothing stands in it: some dozens in a form.
    assert all('aria-live="polite"' in place and "role=" not in place for place in places)
    assert form_page.count('role="status"') <= 2
    # A whole run sheet that comes later is not read out of itself.
    waiting = re.search(r"<div [^>]*/run[^>]*>", served.ask("GET", "/shade/ferry-square.yaml/class").text)
    assert waiting
    assert "status" not in waiting[0]
    assert "live" not in waiting[0]


def test_a_window_is_told_when_the_file_is_another_one_by_now(served: Served) -> None:
    base = served.base("net-loft.yaml")
    address = f"/shade/net-loft.yaml/still?base={base}"
    assert served.ask("GET", address).status == 204
    file = served.folder / "net-loft.yaml"
    kept = file.read_text(encoding="utf-8")
    file.write_text(kept.replace("height: 220 mm", "height: 230 mm"), encoding="utf-8")
    try:
        assert ON_DISK in served.ask("GET", address).text
    finally:
        file.write_text(kept, encoding="utf-8")
    assert served.ask("GET", address).status == 204


def test_whoever_types_into_a_page_of_an_older_file_is_told_so_each_time(served: Served) -> None:
    fields = form.form_values((served.folder / "net-loft.yaml").read_text(encoding="utf-8"))
    fields |= {"base": "0" * 64, "v/title": "Another loft"}
    for address in ("change", "try"):
        answer = served.ask("POST", f"/shade/net-loft.yaml/{address}", fields).text
        assert ON_DISK in answer
        assert 'value="keep"' in answer
    assert "Another loft" not in (served.folder / "net-loft.yaml").read_text(encoding="utf-8")


def test_what_a_class_is_refused_for_stays_told_when_the_same_is_tried_again(served: Served) -> None:
    name = "ferry-square.yaml"
    fields = form.form_values((served.folder / name).read_text(encoding="utf-8"))
    fields |= {"base": served.base(name), "v/class/length": "2 h"}
    saved = served.ask("POST", f"/shade/{name}/change", fields).text
    assert "Not saved" in saved
    assert "length: 4 h" in (served.folder / name).read_text(encoding="utf-8")
    # The browser tries a choice a moment after it was sent to be saved.
    tried = served.ask("POST", f"/shade/{name}/try", fields).text
    for answer in (saved, tried):
        assert "does not end in time" in answer
        assert 'href="#v/class/length"' in answer
        # The shade itself is good, and is still shown.
        assert "<svg" in answer


def test_a_message_is_only_sent_to_a_field_that_the_page_has(served: Served) -> None:
    shutil.copy(RECIPES / "pier-drum.yaml", served.folder)
    page = served.ask("GET", "/shade/pier-drum.yaml").text
    ids = set(re.findall(r'id="([^"]+)"', page))
    names = re.findall(r'name="([^"]+)"', page)
    fields = form.form_values((served.folder / "pier-drum.yaml").read_text(encoding="utf-8"))
    sent = {name: value for name, value in fields.items() if name in names}
    sent |= {"base": served.base("pier-drum.yaml"), "v/lamp/watts": "many"}
    for address, described in (("try", False), ("change", True)):
        answer = served.ask("POST", f"/shade/pier-drum.yaml/{address}", sent).text
        aimed = set(re.findall(r'id="([^"]+)"[^>]*hx-swap-oob', answer))
        assert aimed <= ids
        assert "m/v/lamp/watts" in aimed
        # Whoever stands in a field does not hear its help again while typing.
        assert ("d/v/lamp/watts" in aimed) == described


def test_a_mistake_that_stands_beside_its_field_is_sent_once_and_taken_away_again(served: Served) -> None:
    name = "net-loft.yaml"
    fields = form.form_values((served.folder / name).read_text(encoding="utf-8"))
    fields |= {"base": served.base(name)}
    wrong = {**fields, "v/lamp/watts": 'a "few" & <more>'}
    first = served.ask("POST", f"/shade/{name}/try", wrong).text
    place = r'<div id="m/v/lamp/watts" hx-swap-oob="innerHTML">(.*?)</div>'
    (beside,) = re.findall(place, first, re.DOTALL)
    assert "is not a wattage" in plain(beside)
    (kept,) = re.findall(r'name="t/v/lamp/watts" value="([^"]*)"', beside)
    stands = {"t/v/lamp/watts": unescape(kept), "told": "v/lamp/watts"}
    again = served.ask("POST", f"/shade/{name}/try", wrong | stands).text
    assert re.findall(place, again, re.DOTALL) == []
    # Nor does the reader hear again and again that it is not saved.
    (standing,) = re.findall(r'name="t/state" value="([^"]*)"', first)
    heard = served.ask("POST", f"/shade/{name}/try", wrong | {"t/state": unescape(standing)}).text
    assert ('id="state"' in first, 'id="state"' in again, 'id="state"' in heard) == (True, True, False)
    mended = served.ask("POST", f"/shade/{name}/try", fields | {"t/state": unescape(standing)}).text
    assert 'id="state"' in mended
    other = served.ask("POST", f"/shade/{name}/try", {**wrong, "v/lamp/watts": "lots"} | stands).text
    assert len(re.findall(place, other, re.DOTALL)) == 1
    mended = served.ask("POST", f"/shade/{name}/try", fields | stands).text
    assert [each.strip() for each in re.findall(place, mended, re.DOTALL)] == [""]


def test_a_field_is_described_by_its_help_and_by_what_was_wrong_when_it_was_left(served: Served) -> None:
    form_page = served.ask("GET", "/shade/net-loft.yaml").text
    (described,) = re.findall(r'<input id="v/lamp/watts"[^>]*aria-describedby="([^"]*)"', form_page)
    ids = set(re.findall(r'id="([^"]+)"', form_page))
    assert described.split() == ["h/v/lamp/watts", "d/v/lamp/watts"]
    assert set(described.split()) <= ids
    live = set(re.findall(r'id="([^"]+)" aria-live', form_page))
    everywhere = {
        each for found in re.findall(r'aria-describedby="([^"]*)"', form_page) for each in found.split()
    }
    assert live
    assert not live & everywhere


@pytest.mark.parametrize("language", languages())
def test_what_is_not_there_is_told_in_the_language_of_the_page(served: Served, language: str) -> None:
    words = load_words(Voice(language))
    speaking: dict[str, str | None] = {"Accept-Language": language}
    for address, key in (("/nowhere", "fault.missing"), ("/shade/none.yaml", "fault.no-recipe")):
        answer = served.ask("GET", address, headers=speaking)
        assert answer.status == 404
        assert words.say(f"browser.{key}") in answer.text


@pytest.mark.parametrize(
    ("language", "slip", "words"),
    [
        ("en", "“22 mm”", "centimetres"),
        ("de", "„22 mm“", "Zentimeter"),
        ("fr", "«\N{NARROW NO-BREAK SPACE}22 mm\N{NARROW NO-BREAK SPACE}»", "centimètres"),
        ("es", "«22 mm»", "centímetros"),
    ],
)
def test_a_mistake_is_told_in_the_language_of_the_page(
    served: Served, language: str, slip: str, words: str
) -> None:
    name, speaking = "net-loft.yaml", {"Accept-Language": language}
    text = (served.folder / name).read_text(encoding="utf-8")
    typed = form.form_values(text) | {"base": served.base(name), "v/sizes/35x20/height": "22"}
    low = served.folder / "low.yaml"
    low.write_text(text.replace("220 mm}", "22 mm}"), encoding="utf-8")
    try:
        for answer in (
            served.ask("POST", f"/shade/{name}/try", typed, speaking),
            served.ask("POST", f"/shade/{name}/change", typed, speaking),
            served.ask("GET", "/", headers=speaking),
            served.ask("GET", "/shade/low.yaml", headers=speaking),
            served.ask("GET", "/shade/low.yaml/steps", headers=speaking),
            served.ask("GET", "/shade/low.yaml/print", headers=speaking),
        ):
            (before, after), *_ = re.findall(f"(.{{40}}){slip}(.*?)</", answer.text, re.DOTALL)
            assert words in after
            # What is in the language of the page is not marked as of another one.
            assert "lang=" not in before
    finally:
        low.unlink()
    assert served.base(name) == typed["base"]


@pytest.mark.parametrize("language", languages())
def test_every_document_says_what_it_is_for_and_how_to_get_it(served: Served, language: str) -> None:
    words = load_words(Voice(language))
    page = served.ask("GET", "/shade/net-loft.yaml/print", headers={"Accept-Language": language}).text
    for kind in document_kinds().values():
        assert words.has(f"browser.kind.{kind.name}")
        offered = f'value="{kind.name}"' in page
        assert offered == (not kind.of_kits and not kind.of_class)
        assert (words.say(f"browser.kind.{kind.name}") in page) == offered
    for purpose in ("kits", "class"):
        assert words.say(f"browser.print.no-{purpose}") in page
        assert f'value="add-{purpose}"' in page


def test_a_print_without_a_document_asks_for_one(served: Served) -> None:
    answer = served.ask("POST", "/shade/net-loft.yaml/print", {"lang": "en"})
    assert answer.status == 422
    assert "Choose at least one document." in answer.text


def test_a_recipe_that_cannot_be_read_says_in_which_line_and_shows_its_text(served: Served) -> None:
    card = plain(served.ask("GET", "/").text)
    assert "No picture: this recipe cannot be read." in card
    assert re.search(r"Line \d+:", card)
    page = served.ask("GET", "/shade/broken.yaml").text
    assert re.search(r"Line \d+:", plain(page))
    assert '<details class="group" id="g-file" open>' in page


def test_a_recipe_without_boxes_says_so_where_cutting_would_be_shown(served: Served) -> None:
    assert "counts no boxes" in served.ask("GET", "/shade/net-loft.yaml/cutting").text


LANGUAGES = {form.named(form.TICKED, form.SPOKEN): "shown"}


def ticked(*codes: str) -> dict[str, str]:
    return LANGUAGES | {form.named(form.TICKED, (*form.SPOKEN, code)): "yes" for code in codes}


def test_languages_are_ticked_kept_in_their_order_and_taken_away() -> None:
    text = (RECIPES / "net-loft.yaml").read_text(encoding="utf-8")
    assert form.languages_of(text) == ()
    assert form.filled(text, ticked()) == text
    german = form.filled(text, ticked("de"))
    assert form.languages_of(german) == ("de",)
    both = form.filled(german, ticked("de", "en"))
    assert form.languages_of(both) == ("de", "en")
    assert form.filled(both, form.form_values(both) | ticked("de", "en")) == both
    # A form that does not show them changes nothing.
    assert form.filled(both, form.form_values(both)) == both
    gone = form.filled(both, ticked())
    assert values(gone) == values(text)
    assert "languages" not in " ".join(form.unshown(both))


@pytest.mark.parametrize("path", sorted(RECIPES.glob("*.yaml")), ids=lambda path: path.stem)
def test_no_sample_is_called_after_measures_that_it_has_not(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    assert [shaping.better_name(text, size) for size in form.size_names(text)] == [""] * len(
        form.size_names(text)
    )


def test_a_size_that_has_changed_can_be_called_after_its_measures() -> None:
    text = (RECIPES / "pier-drum.yaml").read_text(encoding="utf-8")
    wider = form.filled(text, {"v/sizes/25/diameter": "280", "u/sizes/25/diameter": "mm"})
    assert shaping.better_name(wider, "25") == "28"
    called = shaping.ACTIONS["call-size"](wider, "25:28")
    assert form.size_names(called) == ("28", "35", "45")
    known = values(called)
    assert known["kits", "count", "28"] == values(text)["kits", "count", "25"]
    makes = [
        value for place, value in known.items() if place[:2] == ("class", "people") and place[-1] == "size"
    ]
    assert set(makes) == {"28", "35"}


def test_a_field_that_may_not_be_empty_says_so_itself(served: Served) -> None:
    for field in ("v/title", "v/sizes/35x20/height", "v/sizes/35x20/width", "v/lamp/diameter"):
        fields = form.form_values((served.folder / "net-loft.yaml").read_text(encoding="utf-8"))
        fields |= {"base": served.base("net-loft.yaml"), field: ""}
        answer = served.ask("POST", "/shade/net-loft.yaml/try", fields).text
        assert re.search(rf'id="m/{field}" hx-swap-oob="innerHTML">\s*<p class="wrong"', answer), field


def test_ages_are_written_as_a_list_and_taken_away_again() -> None:
    text = (RECIPES / "net-loft.yaml").read_text(encoding="utf-8")
    aged = form.filled(text, {"v/makers/ages/0": "9", "v/makers/ages/1": "11"})
    assert "ages: [9, 11]" in aged
    assert form.filled(aged, {"v/makers/ages/0": "", "v/makers/ages/1": ""}) == text


def test_a_tapered_shade_that_becomes_straight_is_as_wide_as_its_lower_ring() -> None:
    text = (RECIPES / "coble-oval.yaml").read_text(encoding="utf-8")
    straight = values(shaping.ACTIONS["outline"](text, "square"))
    (size,) = form.size_names(text)
    assert straight["sizes", size, "side"] == values(text)["sizes", size, "bottom", "length"]


def test_a_cost_that_no_list_of_prices_tells_is_not_left_out_without_a_word(served: Served) -> None:
    shutil.copy(RECIPES / "coble-oval.yaml", served.folder)
    assert "not covered by the list of prices" in served.ask("GET", "/shade/coble-oval.yaml").text
    assert "not covered" not in served.ask("GET", "/shade/net-loft.yaml").text


def test_only_fields_that_have_something_to_say_or_had_are_sent(served: Served) -> None:
    usual, high, watts = "v/covering/repeat/around", "v/sizes/35x20/height", "v/lamp/watts"
    page = served.ask("GET", "/shade/net-loft.yaml").text
    assert f'id="told" value="{usual}"' in page
    fields = form.form_values((served.folder / "net-loft.yaml").read_text(encoding="utf-8"))
    fields |= {"base": served.base("net-loft.yaml"), "told": usual, **beside(page)}
    for where, changed, sent, told in (
        ("try", {}, [], [usual]),
        ("try", {high: "2", watts: "many"}, [usual, watts, high], [usual, watts, high]),
        # One of the two is mended: its place is emptied, once.
        ("try", {high: "2"}, [watts], [usual, watts, high]),
        ("try", {high: "2"}, [], [usual, watts, high]),
        # When a field is left, what is wrong is put into the descriptions, and what is not is forgotten.
        ("change", {high: "2"}, [], [high]),
        ("change", {}, [usual, high], [usual]),
    ):
        answer = served.ask("POST", f"/shade/net-loft.yaml/{where}", {**fields, **changed}).text
        assert re.findall(r'id="m/([^"]+)"', answer) == sorted(sent)
        assert re.findall(r'id="told" value="([^"]*)"', answer) == ["\t".join(sorted(told))]
        for name in sent:
            fields.pop(f"t/{name}", None)
        fields |= {"told": "\t".join(told), **beside(answer)}


def test_what_no_field_of_the_page_is_called_is_not_answered(served: Served) -> None:
    fields = form.form_values((served.folder / "net-loft.yaml").read_text(encoding="utf-8"))
    fields |= {"base": served.base("net-loft.yaml"), "told": "v/nothing\t<b>", "t/v/other": "a", "t/<i>": "b"}
    answer = served.ask("POST", "/shade/net-loft.yaml/try", fields).text
    assert re.findall(r'id="m/([^"]+)"', answer) == ["v/covering/repeat/around"]
    assert not re.search("nothing|<b>|v/other|<i>", answer)


def beside(page: str) -> dict[str, str]:
    """What stands beside the fields of a page, as its form sends it."""
    return {name: unescape(text) for name, text in re.findall(r'name="(t/v/[^"]+)" value="([^"]*)"', page)}
