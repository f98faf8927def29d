"""``make --watch`` as a person uses it: a file is saved, a line says what came of it, Ctrl-C ends it."""

from __future__ import annotations

import json
import os
import queue
import signal
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import suppress
from pathlib import Path
from typing import IO

import pytest

from tests.record.quick import quick_recipe

ROOT = Path(__file__).parents[2]
PATIENCE = 120.0
"""Seconds until a line must be there; a loaded machine is slow."""


class Running:
    """The command in a process of its own, its lines as they come."""

    def __init__(self, folder: Path, *more: str) -> None:
        self.process = subprocess.Popen(
            [
                sys.executable,
                "-m",
                "generator",
                "make",
                "quick.yaml",
                "--document",
                "steps-text",
                *more,
            ],
            cwd=folder,
            env={**os.environ, "PYTHONPATH": str(ROOT)},
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
            start_new_session=True,
        )
        self.out, self.err = (self._lines(each) for each in (self.process.stdout, self.process.stderr))

    @staticmethod
    def _lines(stream: IO[str] | None) -> queue.Queue[str]:
        assert stream is not None
        lines: queue.Queue[str] = queue.Queue()

        def take() -> None:
            for line in stream:
                lines.put(line.rstrip("\n"))

        threading.Thread(target=take, daemon=True).start()
        return lines

    def line(self) -> str:
        """The next line of the output."""
        return self.out.get(timeout=PATIENCE)

    def complaint(self) -> str:
        """The next line of the error stream."""
        return self.err.get(timeout=PATIENCE)

    def end(self) -> tuple[int, list[str]]:
        """Ctrl-C, which reaches every process of a terminal: the exit code, and all lines not read yet."""
        os.killpg(self.process.pid, signal.SIGINT)
        code = self.process.wait(PATIENCE)
        rest = []
        for lines in (self.out, self.err):
            while True:
                try:
                    rest.append(lines.get(timeout=0.5))
                except queue.Empty:
                    break
        return code, rest


Watch = Callable[..., Running]


@pytest.fixture
def watch(tmp_path: Path) -> Iterator[Watch]:
    """Start a watch over a recipe in a folder, and wait until all of it is made."""
    running: list[Running] = []
    quick_recipe(tmp_path)

    def start(*more: str) -> Running:
        running.append(Running(tmp_path, "--watch", *more))
        return running[-1]

    yield start
    for each in running:
        with suppress(ProcessLookupError):
            os.killpg(each.process.pid, signal.SIGKILL)
        each.process.wait()


def replace(path: Path, old: str, new: str) -> None:
    """Save a file as many editors do: another file is written and takes its place."""
    text = path.read_text(encoding="utf-8")
    assert old in text
    other = path.with_name(f".{path.name}.new")
    other.write_text(text.replace(old, new), encoding="utf-8")
    other.replace(path)


def test_what_is_saved_is_made_again_with_a_line_each_until_ctrl_c(watch: Watch, tmp_path: Path) -> None:
    running = watch()
    recipe, way = tmp_path / "quick.yaml", tmp_path / "short-way.yaml"
    assert [running.line().partition(":")[0] for _ in range(2)] == ["quick, size 20", "quick, size 25"]
    text = tmp_path / "out" / "quick" / "25" / "steps-text.en.txt"
    before = text.read_text(encoding="utf-8")

    replace(recipe, "diameter: 250 mm", "diameter: 260 mm")
    line = running.line()
    assert line.startswith("quick.yaml: diameter changed; ")
    # Two texts, three figures and three cards a size; those of the other size stay.
    assert line.endswith(" of 16 files are new")
    assert 0 < int(line.split("; ")[1].split()[0]) <= 8
    assert text.read_text(encoding="utf-8") != before

    replace(recipe, "rimfold: 1", "rimfold: 1  # a note")
    assert running.line() == "quick.yaml: no value changed; none of 16 files is new"
    replace(recipe, "# a note", "# another note")
    assert running.line() == "quick.yaml: no value changed; none of 16 files is new"

    replace(recipe, "watts: 6", "wats: 6")
    assert "“wats” is not a key" in running.complaint()
    assert running.line() == "quick.yaml: the recipe changed; nothing is made until its fault is mended"

    replace(recipe, "wats: 6", "watts: 5")
    assert running.line().startswith("quick.yaml: lamp watts changed; ")

    replace(way, "change the layout", "begin anew")
    assert running.line().startswith("quick.yaml: short-way.yaml changed; ")
    assert "egin anew" in text.read_text(encoding="utf-8")

    way.rename(tmp_path / "elsewhere.yaml")
    assert "there is no such file" in running.complaint()
    assert running.line().startswith("quick.yaml: short-way.yaml changed; nothing is made")
    (tmp_path / "elsewhere.yaml").rename(way)
    assert running.line().startswith("quick.yaml: short-way.yaml changed; ")

    assert running.end() == (0, [])


def test_a_program_is_told_what_was_saved_and_what_came_of_it(watch: Watch, tmp_path: Path) -> None:
    running = watch("--json", "--size", "20")

    def events_to(last: str) -> list[dict[str, object]]:
        found: list[dict[str, object]] = []
        while not found or found[-1]["event"] != last:
            found.append(json.loads(running.line()))
        return found

    first = events_to("end")
    assert first[0] == {"event": "begin", "what": ["quick, size 20"], "count": 1}
    assert first[-1]["made"] == 8
    replace(tmp_path / "quick.yaml", "height: 160 mm", "height: 170 mm")
    again = events_to("told")
    assert again[0] == {"event": "saved", "file": "quick.yaml"}
    assert again[1]["event"] == "begin"
    assert str(again[-1]["line"]).startswith("quick.yaml: height changed; ")
    (end,) = [event for event in again if event["event"] == "end"]
    assert end["made"] == sum(event.get("kept") is False for event in again)
    assert running.end() == (0, [])


def test_a_recipe_that_is_faulty_or_not_there_at_first_is_waited_for(watch: Watch, tmp_path: Path) -> None:
    recipe = tmp_path / "quick.yaml"
    text = recipe.read_text(encoding="utf-8")
    recipe.unlink()
    running = watch("--size", "20")
    assert "there is no such file" in running.complaint()
    recipe.write_text(text, encoding="utf-8")
    line = running.line()
    assert line.startswith("quick.yaml: the recipe changed; ")
    assert line.endswith("8 of 8 files are new")
    assert running.end() == (0, [])


def test_a_wish_that_nobody_can_meet_ends_it_at_once(watch: Watch) -> None:
    running = watch("--document", "no-such-kind")
    assert "no-such-kind" in running.complaint()
    assert running.process.wait(PATIENCE) == 2


def test_a_warning_is_told_when_it_comes_and_not_again_until_it_has_gone(
    watch: Watch, tmp_path: Path
) -> None:
    recipe = tmp_path / "quick.yaml"
    lamp = "lamp: {diameter: 60 mm, kind: LED, watts: 6}"
    running = watch("--size", "20")
    running.line()
    replace(recipe, lamp, "# no lamp")
    assert ": warning: no lamp" in running.complaint()
    running.line()
    replace(recipe, "height: 160 mm", "height: 170 mm")
    assert running.line().startswith("quick.yaml: height changed; ")
    replace(recipe, "# no lamp", lamp)
    running.line()
    # The next complaint comes from this save, and the one before it brought none.
    replace(recipe, lamp, "# none at all")
    assert ": warning: no lamp" in running.complaint()
    running.line()
    assert running.end() == (0, [])


@pytest.mark.parametrize("moment", ["begin", "saved"])
def test_ctrl_c_ends_it_at_any_moment_without_a_word(moment: str, watch: Watch, tmp_path: Path) -> None:
    running = watch("--json")
    while json.loads(running.line())["event"] != ("end" if moment == "saved" else moment):
        pass
    if moment == "saved":
        replace(tmp_path / "quick.yaml", "diameter: 250 mm", "diameter: 260 mm")
        assert json.loads(running.line())["event"] == "saved"
    code, rest = running.end()
    assert code == 0
    # What was told before it came is JSON; there is no traceback, and nothing that was made is half there.
    assert {json.loads(line)["event"] for line in rest} <= {"begin", "made", "told"}
    assert list((tmp_path / "out").rglob("*.part")) == []
