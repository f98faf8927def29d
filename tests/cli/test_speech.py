"""In which language the command line tells what is wrong: the first of --lang, else the environment's."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path

import pytest

from generator.cli.run import run
from generator.cli.speech import language_of

BAD = "rimfold: 1\ntitle: Slip\noutline: circle\ndiameter: 35\nheight: 22 cm\nsizes: {}\n"
ENGLISH = "“35” has no unit"


@pytest.mark.parametrize(
    ("environment", "language"),
    [
        ({}, "en"),
        ({"LANG": "de_DE.UTF-8"}, "de"),
        ({"LANG": "fr_CA"}, "fr"),
        ({"LANG": "es"}, "es"),
        ({"LANG": "de_AT@euro"}, "de"),
        ({"LANG": "de-CH"}, "de"),
        ({"LANG": "C"}, "en"),
        ({"LANG": "C.UTF-8"}, "en"),
        ({"LANG": "POSIX"}, "en"),
        ({"LANG": "tr_TR.UTF-8"}, "en"),
        ({"LANG": "../de"}, "en"),
        ({"LANG": "de_DE", "LC_MESSAGES": "fr_FR"}, "fr"),
        ({"LANG": "de_DE", "LC_MESSAGES": "fr_FR", "LC_ALL": "es_ES"}, "es"),
        ({"LANG": "de_DE", "LC_MESSAGES": "", "LC_ALL": ""}, "de"),
        ({"LANG": "de_DE", "LC_ALL": "C"}, "en"),
        ({"LC_CTYPE": "de_DE.UTF-8"}, "en"),
    ],
)
def test_the_first_that_says_a_language_holds(environment: Mapping[str, str], language: str) -> None:
    assert language_of(environment) == language


@pytest.fixture
def bad(tmp_path: Path) -> Path:
    path = tmp_path / "slip.yaml"
    path.write_text(BAD, encoding="utf-8")
    return path


def speaking(monkeypatch: pytest.MonkeyPatch, language: str) -> None:
    monkeypatch.setenv("LC_ALL", language)


@pytest.mark.parametrize("command", ["check", "measures", "steps", "make"])
def test_a_mistake_is_told_in_english_where_nobody_asks_otherwise(
    command: str, bad: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run([command, str(bad)]) == 2
    assert f"{bad}:4:11: {ENGLISH}" in capsys.readouterr().err


@pytest.mark.parametrize("command", ["check", "measures", "steps", "make"])
@pytest.mark.parametrize(
    ("language", "words"), [("es_ES.UTF-8", "«35»"), ("de_DE.UTF-8", "„35“"), ("fr_FR.UTF-8", "35")]
)
def test_a_mistake_is_told_in_the_language_of_the_environment(
    command: str,
    language: str,
    words: str,
    bad: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    speaking(monkeypatch, language)
    assert run([command, str(bad)]) == 2
    told = capsys.readouterr().err
    assert told.startswith(f"{bad}:4:11: ")
    assert words in told
    assert "has no unit" not in told
    assert "expected" not in told


def test_the_language_of_the_documents_is_that_of_the_mistakes(
    bad: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    speaking(monkeypatch, "es_ES.UTF-8")
    assert run(["make", str(bad), "--lang", "de,fr"]) == 2
    assert "„35“" in capsys.readouterr().err
    assert run(["make", str(bad), "--lang", "en"]) == 2
    assert ENGLISH in capsys.readouterr().err


@pytest.mark.parametrize(
    ("arguments", "german"),
    [
        (["mak"], "einen Befehl „mak“ gibt es nicht; so schreiben: make"),
        (["make"], "es fehlt: RECIPE..."),
        (["make", "--papr", "A4", "a.yaml"], "eine Option --papr gibt es hier nicht; so schreiben: --paper"),
        (["make", "--paper", "A9", "a.yaml"], "das ist kein Wert für --paper; erwartet: einer von A5"),
        (["make", "a.yaml", "--size"], "der Option --size fehlt ihr Wert"),
        (["fit", "a.yaml"], "es fehlt: --cloth"),
        (
            ["make", "a.yaml", "--document", "stepsheet"],
            "ein Dokument „stepsheet“ gibt es nicht; es gibt: box-",
        ),
        (["make", "a.yaml", "--lang", "xx"], "für „xx“ gibt es keine Texte; es gibt: de, en, es, fr"),
        (["make", "a.yaml", "--watch", "--scheduler", "h:1"], "--watch macht nur auf diesem Rechner"),
        (
            ["quick", "hexagon", "30cm", "--height", "20cm"],
            "eine Form „hexagon“ gibt es nicht; erwartet: eine von ",
        ),
        (
            ["quick", "circle", "30cm", "--height", "20cm", "--watts", "9W"],
            "--watts sagt nicht, wie breit die Lampe ist",
        ),
        (["verify", "nowhere"], "in nowhere liegt kein manifest.json"),
        (["proof", "nowhere.pdf"], "nicht lesbar: nowhere.pdf: die Datei oder den Ordner gibt es nicht"),
        (["page", "nowhere"], "nowhere ist kein Ordner; den Ordner mit den Rezepten nennen"),
    ],
    ids=lambda given: " ".join(given) if isinstance(given, list) else "",
)
def test_what_is_wrong_with_a_command_line_is_told_in_the_language_too(
    arguments: list[str],
    german: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    speaking(monkeypatch, "en_GB.UTF-8")
    assert run(arguments) == 2
    english = capsys.readouterr().err
    speaking(monkeypatch, "de_DE.UTF-8")
    assert run(arguments) == 2
    told = capsys.readouterr().err
    assert german in told
    assert not set(english.splitlines()) & set(filter(None, told.splitlines()))


def test_a_program_is_told_in_english(
    bad: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    speaking(monkeypatch, "de_DE.UTF-8")
    assert run(["make", str(bad), "--json"]) == 2
    events = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    assert any(ENGLISH in event.get("message", "") for event in events)
