"""What the page shows is what the command line says."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from generator.base.assets import data_folder
from generator.base.edition import Voice
from generator.base.errors import InputError
from generator.cli.run import run
from generator.examine import examine
from generator.page.fields import dimensions, sections
from generator.page.form import form_values
from generator.page.look import accept, look, place_of_said, values
from generator.page.pictures import Pictures
from generator.recipe.described import describe
from generator.sheets.wording import load_words

SAMPLES = sorted(data_folder("recipes").glob("*.yaml"))


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: path.stem)
def test_every_sample_is_shown_with_its_picture_numbers_and_times(path: Path) -> None:
    seen = look(path, path.read_text(encoding="utf-8"), None, Voice())
    assert seen.work is not None
    assert Pictures().whole(path.name, seen.work, Voice()).svg.startswith(("<svg", "<?xml"))
    assert len(seen.numbers) == 5
    assert seen.first
    assert seen.practised


@pytest.mark.parametrize("name", ["pier-drum", "ferry-square", "beacon-50"])
def test_the_five_numbers_are_those_of_the_command_line(
    name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    path = data_folder("recipes") / f"{name}.yaml"
    text = path.read_text(encoding="utf-8")
    size = next(iter(examine(path, alone=True).works)).size.name
    assert run(["measures", str(path), "--size", size, "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    shown = json.dumps(told)
    for _, value in look(path, text, size, Voice()).numbers:
        for number in value.replace("×", " ").replace("and", " ").replace("mm", " ").split():
            assert number in shown


FAULTS = [
    ("height: 220 mm}", "height: 22}", "v/sizes/35x20/height"),
    ("width: 150 cm", "width: wide", "v/covering/width"),
    ("use: table", "use: tabel", "v/use"),
    ("watts: 6", "watts: many", "v/lamp/watts"),
    ("length: 350 mm", "length: 30 mm", "v/sizes/35x20/length"),
    ("title: Net loft", "titel: Net loft", ""),
]


@pytest.mark.parametrize(("old", "new", "field"), FAULTS)
def test_a_mistake_stands_beside_its_field_in_the_words_of_the_command_line(
    old: str, new: str, field: str
) -> None:
    path = data_folder("recipes") / "net-loft.yaml"
    text = path.read_text(encoding="utf-8").replace(old, new)
    seen = look(path, text, None, Voice())
    assert not seen.good
    assert any(place_of_said(said, set(form_values(text))) == field for said in seen.said)
    with pytest.raises(InputError) as caught:
        examine(path, text)
    lines = str(caught.value).splitlines()
    for said in seen.said:
        assert any(line.endswith(said.text) for line in lines)


def test_what_is_accepted_is_what_check_accepts() -> None:
    for path in SAMPLES[:4]:
        examined, said = accept(path, path.read_text(encoding="utf-8"))
        assert examined is not None
        assert said == ()
    path = data_folder("recipes") / "pier-drum.yaml"
    late = path.read_text(encoding="utf-8").replace("length: 6 h", "length: 2 h")
    examined, said = accept(path, late)
    assert examined is None
    assert "does not end in time" in said[0].text
    assert said[0].place[0] == "class"


def test_every_field_of_the_form_is_a_key_of_the_schema_with_its_help() -> None:
    describe()
    words = load_words(Voice())
    for fields in (*sections().values(), *dimensions().values()):
        for field in fields:
            assert field.help
            assert words.raw(f"browser.help.{field.key}") == field.help, field.key


@pytest.mark.parametrize("language", ["de", "fr", "es"])
def test_help_and_labels_are_said_in_each_language(language: str) -> None:
    english, words = load_words(Voice()), load_words(Voice(language))
    same = [
        key
        for key in english.keys()  # noqa: SIM118 - a catalogue is no mapping
        if key.startswith("browser.help.") and english.raw(key) == words.raw(key)
    ]
    assert same == []


def test_a_text_that_is_no_recipe_shows_what_is_wrong() -> None:
    path = data_folder("recipes") / "net-loft.yaml"
    for text in ("", "{", "a: [", "\0", "- 1\n- 2\n"):
        seen = look(path, text, None, Voice())
        assert not seen.good
        assert seen.said
        assert values(text) == {} or text.startswith("-")
