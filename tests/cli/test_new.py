"""``rimfold new``: plain questions on a terminal, bad answers asked again, nothing written if stopped."""

from __future__ import annotations

import fcntl
import os
import pty
import select
import subprocess
import sys
import termios
import time
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from click.testing import CliRunner, Result

from generator.cli.commands import rimfold as command
from generator.recipe.starter import starter
from tests.cli.test_commands import rimfold

ANSWERS = {
    "shape": "rectangle",
    "size": "28x17cm",
    "radius": "2 cm",
    "height": "19 cm",
    "use": "table",
    "struts": "3",
    "cloth": "Kelp print",
    "width": "137 cm",
    "direction": "one-way",
    "frays": "little",
    "kiss cut": "true",
    "lamp": "60 mm",
    "watts": "6",
    "hand": "right",
    "title": "Harbour light",
}


def asked(file: Path, *answers: str) -> Result:
    """The conversation with these answers, one a line."""
    return CliRunner().invoke(command, ["new", "--ask", str(file)], input="".join(f"{a}\n" for a in answers))


BAD = {
    "shape": ("hexagon", "“hexagon” is not known for “outline”"),
    "size": ("28", "gives 1 of the measures of the rectangle; expected LENGTHxWIDTH"),
    "radius": ("20 cm", "a corner radius of 200 mm is more than half the short side"),
    "height": ("19", "“19” has no unit; expected a length with its unit: mm, cm, m or in; write 19 cm"),
    "use": ("tabel", "“tabel” is not known for “use”; expected table or pendant; write table"),
    "struts": ("many", "“many” is not a whole number"),
    "width": ("20 cm", "is wider than the cloth whichever way it lies"),
    "kiss cut": ("perhaps", "“perhaps” is neither true nor false"),
    "lamp": ("16 cm", "expected a gap of at least 30 mm"),
    "watts": ("bright", "“bright” is not a wattage"),
}


@cache
def conversation() -> tuple[str, str]:
    """What is said where many first answers are bad, and the recipe that comes out."""
    with TemporaryDirectory() as folder:
        file = Path(folder) / "mine.yaml"
        answers = [line for key, good in ANSWERS.items() for line in (*BAD.get(key, ())[:1], good)]
        result = asked(file, *answers)
        assert result.exit_code == 0, result.output
        return result.output, file.read_text(encoding="utf-8")


def test_answers_become_a_commented_recipe_that_is_good(tmp_path: Path) -> None:
    _, text = conversation()
    file = tmp_path / "mine.yaml"
    file.write_text(text, encoding="utf-8")
    assert rimfold("check", file).stdout == f"{file}: good; sizes 28x17cm\n"
    assert text.count("#") > 30
    for line in ("title: Harbour light", "outline: rectangle", "use: table", "name: Kelp print", "watts: 6"):
        assert line in text
    assert "28x17cm: {length: 28 cm, width: 17 cm, corner_radius: 2 cm, height: 19 cm}" in text


def test_numbers_show_as_they_change() -> None:
    said = " ".join(conversation()[0].split())
    # By hand: 2 × (280 + 170) − (8 − 2π) × 20 = 865.66 once round; 19 cm instead of 21 leaves that as it is.
    assert "round the ring: 866 mm" in said
    assert "→ cloth to cut: 920 × 240 mm; panel: 878 × 220 mm" in said


@pytest.mark.parametrize("question", BAD)
def test_a_bad_answer_is_asked_again_with_the_reason(question: str) -> None:
    assert BAD[question][1] in " ".join(conversation()[0].split())


def test_the_reason_has_the_words_of_check(tmp_path: Path) -> None:
    said, text = conversation()
    file = tmp_path / "other.yaml"
    file.write_text(text.replace("use: table ", "use: tabel "), encoding="utf-8")
    told = rimfold("check", file).stderr
    assert told.startswith(f"{file}:")
    assert told.partition(": ")[2].strip() in " ".join(said.split())


def test_enter_takes_every_usual_answer_and_a_lamp_may_be_unknown(tmp_path: Path) -> None:
    file = tmp_path / "mine.yaml"
    result = asked(file, *[""] * 10, "-", "", "")
    assert result.exit_code == 0, result.output
    assert "no lamp is stated" in result.output
    assert "# lamp:" in file.read_text(encoding="utf-8")
    assert rimfold("check", file).returncode == 0


def test_what_is_no_terminal_is_told_and_gets_the_starter(tmp_path: Path) -> None:
    answer = rimfold("new", tmp_path / "mine.yaml")
    assert answer.returncode == 0
    assert "no terminal" in answer.stdout
    assert "as with --yes" in answer.stdout
    assert (tmp_path / "mine.yaml").read_text(encoding="utf-8") == starter()


def test_yes_takes_every_usual_answer_without_a_word_of_a_terminal(tmp_path: Path) -> None:
    answer = rimfold("new", "--yes", tmp_path / "mine.yaml")
    assert answer.returncode == 0
    assert "terminal" not in answer.stdout
    assert (tmp_path / "mine.yaml").read_text(encoding="utf-8") == starter()


def test_answers_that_end_too_soon_write_nothing(tmp_path: Path) -> None:
    result = asked(tmp_path / "mine.yaml", "rectangle", "28x17cm")
    assert result.exit_code == 1
    assert list(tmp_path.iterdir()) == []


def test_a_file_that_is_there_is_refused_before_anything_is_asked(tmp_path: Path) -> None:
    file = tmp_path / "mine.yaml"
    file.write_text("mine", encoding="utf-8")
    result = CliRunner().invoke(command, ["new", "--ask", str(file)], input="")
    assert "already there" in str(result.exception)
    assert "What shape" not in result.output
    assert file.read_text(encoding="utf-8") == "mine"


class Terminal:
    """A program at the other end of a real terminal."""

    def __init__(self, *arguments: object) -> None:
        self.end, other = pty.openpty()
        command_line = [sys.executable, "-m", "generator", *map(str, arguments)]
        # Its own controlling terminal, so that the keys for stopping reach it.
        self.process = subprocess.Popen(
            command_line,
            stdin=other,
            stdout=other,
            stderr=other,
            start_new_session=True,
            preexec_fn=lambda: fcntl.ioctl(0, termios.TIOCSCTTY, 0),
        )
        os.close(other)
        self.said = ""

    def wait_for(self, words: str, seconds: float = 60.0) -> None:
        """Read until the program has said so much."""
        until = time.monotonic() + seconds
        while words not in self.said:
            assert time.monotonic() < until, self.said
            if select.select([self.end], [], [], 0.2)[0]:
                try:
                    self.said += os.read(self.end, 4096).decode("utf-8", "replace")
                except OSError:  # the program has closed its end
                    break
        assert words in self.said

    def say(self, text: str) -> None:
        """Type."""
        os.write(self.end, text.encode())


@contextmanager
def terminal(*arguments: object) -> Iterator[Terminal]:
    """It is ended by its id whatever happens."""
    held = Terminal(*arguments)
    try:
        yield held
    finally:
        if held.process.poll() is None:
            held.process.kill()
        held.process.wait()
        os.close(held.end)


def test_in_a_real_terminal_it_asks_by_itself_and_writes_what_was_answered(tmp_path: Path) -> None:
    file = tmp_path / "mine.yaml"
    with terminal("new", file) as held:
        held.wait_for("What shape are the rings?")
        held.say("square\n")
        held.wait_for("How large is a ring")
        held.say("26cm\n")
        held.wait_for("corner radius")
        held.say("45 mm\n")
        held.wait_for("How high")
        held.say("19 cm\n")
        held.wait_for("flex")
        held.say("table\n")
        for words in (
            "arms",
            "called",
            "wide is the cloth",
            "turned",
            "threads",
            "scored",
            "bulb",
            "wattage",
        ):
            held.wait_for(words)
            held.say("\n")
        held.wait_for("Which hand")
        held.say("\n")
        held.wait_for("What shall the shade be called?")
        held.say("\n")
        held.wait_for("your recipe")
        assert held.process.wait(20) == 0
    assert "26cm: {side: 26 cm, corner_radius: 45 mm, height: 19 cm}" in file.read_text(encoding="utf-8")
    assert rimfold("check", file).returncode == 0


def test_control_c_stops_it_and_writes_nothing(tmp_path: Path) -> None:
    with terminal("new", tmp_path / "mine.yaml") as held:
        held.wait_for("What shape are the rings?")
        held.say("\n")
        held.wait_for("How large")
        # The words are there a little before the answer is waited for.
        time.sleep(1.0)
        held.say("\x03")
        held.wait_for("stopped")
        assert held.process.wait(20) == 1
    assert "Traceback" not in held.said
    assert list(tmp_path.iterdir()) == []
