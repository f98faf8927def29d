"""What ``make`` tells a program in JSON, and what it opens."""

from __future__ import annotations

import json
import os
import pty
import re
import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pytest

from generator.answers import Done, Output
from generator.cli.opening import AT_ONCE, OPENERS, to_open
from generator.cli.round import OfRecipe, Round
from tests.cli.test_commands import Answer, rimfold
from tests.record.quick import quick_recipe

ROOT = Path(__file__).parents[2]


def told(answer: Answer) -> list[dict[str, Any]]:
    """Every line of the output is an event, and nothing stands elsewhere."""
    assert answer.stderr == ""
    return [json.loads(line) for line in answer.stdout.splitlines()]


def made(recipe: Path, *more: object) -> Answer:
    return rimfold(
        "make", recipe, "--document", "steps-text", "--out", recipe.parent / "out", "--json", *more
    )


def test_every_file_is_an_event_and_the_end_counts_them(tmp_path: Path) -> None:
    recipe = quick_recipe(tmp_path)
    first = told(made(recipe, "--size", "20"))
    assert [event["event"] for event in first] == ["begin", *["made"] * 8, "end"]
    assert first[0] == {"event": "begin", "what": ["quick, size 20"], "count": 1}
    files = [event for event in first if event["event"] == "made"]
    home = tmp_path / "out" / "quick" / "20"
    assert {event["file"] for event in files} == {str(path) for path in home.rglob("*") if path.is_file()}
    assert {event["kept"] for event in files} == {False}
    assert {key: first[-1][key] for key in ("made", "kept", "failed")} == {"made": 8, "kept": 0, "failed": 0}
    assert first[-1]["seconds"] > 0

    again = told(made(recipe, "--size", "20"))
    kept = [event["file"] for event in again if event["event"] == "made" and event["kept"]]
    assert kept == [event["file"] for event in files]
    assert {key: again[-1][key] for key in ("made", "kept", "failed")} == {"made": 0, "kept": 8, "failed": 0}


def test_one_file_that_was_lost_is_the_one_that_is_not_kept(tmp_path: Path) -> None:
    recipe = quick_recipe(tmp_path)
    made(recipe, "--size", "20")
    lost = tmp_path / "out" / "quick" / "20" / "steps-text.en.html"
    lost.unlink()
    events = told(made(recipe, "--size", "20"))
    assert [event["file"] for event in events if event.get("kept") is False] == [str(lost)]


def test_faults_have_their_places_and_good_recipes_are_made_all_the_same(tmp_path: Path) -> None:
    good = quick_recipe(tmp_path)
    bad = quick_recipe(tmp_path, "bad.yaml")
    text = bad.read_text(encoding="utf-8").replace("diameter: 250 mm", "diameter: 250")
    bad.write_text(text.replace("watts: 6", "wats: 6"), encoding="utf-8")
    answer = made(bad, good, "--size", "20")
    events = told(answer)
    assert answer.returncode == 2
    faults = [event for event in events if event["event"] == "failed"]
    lines = dict(enumerate(bad.read_text(encoding="utf-8").splitlines(), 1))
    assert [(event["file"], lines[event["line"]].strip()[:4]) for event in faults] == [
        (str(bad), "25: "),
        (str(bad), "lamp"),
    ]
    assert lines[faults[0]["line"]][faults[0]["column"] - 1 :].startswith("250")
    assert all(event["message"].startswith(f"{bad}:{event['line']}:{event['column']}: ") for event in faults)
    assert (events[-1]["made"], events[-1]["failed"]) == (8, 1)


def test_warnings_and_what_is_left_out_are_told_in_lines(tmp_path: Path) -> None:
    recipe = quick_recipe(tmp_path)
    text = recipe.read_text(encoding="utf-8")
    recipe.write_text(text.replace("lamp: {diameter: 60 mm, kind: LED, watts: 6}\n", ""), encoding="utf-8")
    lines = [
        event["line"]
        for event in told(made(recipe, "--size", "20", "--document", "class-pack"))
        if event["event"] == "told"
    ]
    assert any(": warning: " in line for line in lines)
    assert "quick: no class-pack, since the recipe has no class" in lines


def test_a_wish_that_nobody_can_meet_is_an_event_too(tmp_path: Path) -> None:
    answer = made(quick_recipe(tmp_path), "--lang", "xx")
    failed, end = told(answer)
    assert answer.returncode == 2
    assert "there is no wording in “xx”" in failed["message"]
    assert (failed["file"], failed["line"], failed["column"]) == (None, None, None)
    assert (end["event"], end["failed"]) == ("end", 1)


CRIB_SHEET = ("--document", "crib-sheet", "--size", "20")
OPENER = """#!/bin/sh
printf '%s\\n' "$#" "$@" >> "$OPENED"
"""


@pytest.fixture(scope="module")
def printed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a crib sheet that was made; a shell would take its name for several commands."""
    folder = tmp_path_factory.mktemp("opened") / "a $(touch oops); b"
    assert _opened(quick_recipe(folder).parent, folder)[0].returncode == 0
    return folder


def _opened(folder: Path, programs: Path) -> tuple[subprocess.CompletedProcess[str], Path]:
    """``make --open`` where only some programs are there; where an opener writes what it was given."""
    given = programs / "given"
    answer = subprocess.run(
        [sys.executable, "-m", "generator", "make", "quick.yaml", "--open", *CRIB_SHEET],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(ROOT), "PATH": str(programs), "OPENED": str(given)},
        capture_output=True,
        text=True,
    )
    assert not (folder / "oops").exists()
    return answer, given


@pytest.mark.parametrize("opener", OPENERS)
def test_what_was_made_is_opened_by_the_systems_opener_and_by_no_shell(
    opener: str, printed: Path, tmp_path: Path
) -> None:
    (tmp_path / opener).write_text(OPENER, encoding="utf-8")
    (tmp_path / opener).chmod(0o755)
    answer, given = _opened(printed, tmp_path)
    assert (answer.returncode, answer.stderr) == (0, "")
    until = time.monotonic() + 30
    while not given.exists() and time.monotonic() < until:
        time.sleep(0.05)
    sheet = printed / "out" / "quick" / "20" / "crib-sheet.en.pdf"
    assert given.read_text(encoding="utf-8").splitlines() == ["1", str(sheet)]


def test_where_nothing_opens_files_it_is_told_and_no_failure(printed: Path, tmp_path: Path) -> None:
    answer, _ = _opened(printed, tmp_path)
    assert answer.returncode == 0
    assert answer.stderr == "nothing here opens files (looked for xdg-open and open)\n"


def test_few_documents_are_opened_one_by_one_and_of_many_their_folders() -> None:
    def found(count: int) -> Round:
        files = tuple(
            Output(f"out/drum/{size}/{name}.en.pdf", "document")
            for size in range(count)
            for name in ("step-sheet",)
        )
        drawing = Output("out/drum/0/figures/01-x.svg", "figure")
        of = OfRecipe(done=[Done("drum", "drum: …", (), (*files, drawing))])
        return Round(recipes={Path("drum.yaml"): of})

    assert to_open(found(AT_ONCE)) == [Path(f"out/drum/{size}/step-sheet.en.pdf") for size in range(AT_ONCE)]
    assert to_open(found(AT_ONCE + 1)) == [Path("out/drum")]
    assert to_open(found(0)) == []


def test_on_a_terminal_a_bar_says_what_is_made_how_many_of_how_many_and_how_long_yet(tmp_path: Path) -> None:
    quick_recipe(tmp_path)
    terminal, inner = pty.openpty()
    command = [sys.executable, "-m", "generator", "make", "quick.yaml", "--document", "steps-text"]
    working = subprocess.Popen(
        command,
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(ROOT), "COLUMNS": "200", "TERM": "xterm"},
        stdout=inner,
        stderr=subprocess.PIPE,
    )
    os.close(inner)
    shown = b""
    while True:
        try:
            part = os.read(terminal, 65536)
        except OSError:  # where its other end is closed, Linux says EIO
            break
        if not part:
            break
        shown += part
    os.close(terminal)
    assert working.wait() == 0
    text = re.sub(r"\x1b\[[0-9;?]*[A-Za-z]", "", shown.decode())
    assert re.search(r"0/2 (-:--:--|\d+:\d\d:\d\d) quick, size 20", text)
    assert re.search(r"1/2 (-:--:--|\d+:\d\d:\d\d) quick, size 25", text)
    lines = [line for line in re.split(r"[\r\n]+", text) if line.startswith("quick, size ")]
    assert [line.partition(":")[0] for line in lines] == ["quick, size 20", "quick, size 25"]
