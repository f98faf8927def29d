"""What a shell completes, asked of the shells themselves where they are here."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from generator.cli.commands import rimfold as group
from generator.cli.completion import SHELLS
from generator.sheets.document import document_kinds
from tests.cli.test_commands import rimfold

ROOT = Path(__file__).parents[2]


@pytest.fixture
def programs(tmp_path: Path) -> Path:
    """A folder with the command ``rimfold``."""
    command = tmp_path / "rimfold"
    command.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m generator "$@"\n', encoding="utf-8")
    command.chmod(0o755)
    return tmp_path


def in_bash(programs: Path, *words: str) -> list[str]:
    """What bash offers for the last of some words, by the script that the command prints."""
    script = (
        'eval "$(rimfold completion bash)"\n'
        'COMP_WORDS=("$@"); COMP_CWORD=$(($# - 1)); _rimfold_completion rimfold\n'
        'printf "%s\\n" "${COMPREPLY[@]}"\n'
    )
    answer = subprocess.run(
        ["bash", "--norc", "-c", script, "bash", *words],
        env={**os.environ, "PYTHONPATH": str(ROOT), "PATH": f"{programs}:{os.environ['PATH']}"},
        capture_output=True,
        text=True,
    )
    assert answer.returncode == 0, answer.stderr
    return answer.stdout.split()


def test_bash_offers_commands_and_every_option_of_make(programs: Path) -> None:
    assert set(in_bash(programs, "rimfold", "")) == set(group.commands)
    known = {
        name for option in group.commands["make"].params for name in option.opts if name.startswith("--")
    }
    assert {"--watch", "--open", "--json", "--anew"} <= known
    assert known <= set(in_bash(programs, "rimfold", "make", "--"))


def test_bash_offers_kinds_of_documents_papers_and_further_languages(programs: Path) -> None:
    kinds = in_bash(programs, "rimfold", "make", "--document", "")
    assert set(kinds) == set(document_kinds())
    assert in_bash(programs, "rimfold", "make", "--document", "crib") == ["crib-sheet"]
    assert in_bash(programs, "rimfold", "make", "--paper", "l") == ["letter"]
    assert in_bash(programs, "rimfold", "make", "--lang", "en,d") == ["en,de"]
    assert set(in_bash(programs, "rimfold", "make", "--lang", "en,")) == {"en,de", "en,fr", "en,es"}


def in_fish(programs: Path, line: str) -> dict[str, str]:
    """What fish offers for the end of a line, each with what it says of it."""
    if shutil.which("fish") is None:
        pytest.skip("there is no fish here")
    answer = subprocess.run(
        ["fish", "--no-config", "-c", "rimfold completion fish | source; complete -C $argv[1]", line],
        env={
            **os.environ,
            "PYTHONPATH": str(ROOT),
            "PATH": f"{programs}:{os.environ['PATH']}",
            "HOME": str(programs),
            "XDG_CONFIG_HOME": str(programs),
        },
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=120,
    )
    assert answer.returncode == 0, answer.stderr
    offered = (line.partition("\t") for line in answer.stdout.splitlines())
    return {word: told for word, _, told in offered}


def in_zsh(programs: Path, line: str) -> list[str]:
    """The words of a line when somebody has typed it in zsh, pressed the key for completion, then return."""
    if shutil.which("zsh") is None:
        pytest.skip("there is no zsh here")
    typed = "\n".join(
        (
            "zmodload zsh/zpty",
            "zpty shell zsh -f -i",
            # The function takes the command's place when the line is run, and tells its words.
            'zpty -w shell \'rimfold() { print -rl -- BEG"IN" "$@" EN"D" }; '
            "autoload -Uz compinit; compinit -u -D; "
            'eval "$(command rimfold completion zsh)"; print REA"DY"\'',
            "zpty -r shell told '*READY*'",
            "zpty -w shell \"$1\"$'\\t'",
            "zpty -r shell told '*END*'",
            'print -r -- "$told"',
            "zpty -d shell",
        )
    )
    answer = subprocess.run(
        ["zsh", "-f", "-c", typed, "zsh", line],
        env={
            **os.environ,
            "PYTHONPATH": str(ROOT),
            "PATH": f"{programs}:{os.environ['PATH']}",
            "HOME": str(programs),
            "TERM": "dumb",
        },
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=120,
    )
    assert answer.returncode == 0, answer.stderr
    return answer.stdout.partition("BEGIN")[2].partition("END")[0].split()


def test_fish_offers_commands_options_and_values_each_with_all_of_its_help(programs: Path) -> None:
    assert in_fish(programs, "rimfold mak") == {"make": "Print the sheets of one or more recipes."}
    document = in_fish(programs, "rimfold make --docu")
    # The help has commas, and so has a list of languages.
    assert document == {"--document": "Which document; if left out, all that are not made only on request."}
    assert list(in_fish(programs, "rimfold make --lang en,d")) == ["en,de"]
    assert list(in_fish(programs, "rimfold make recipes/tide")) == ["recipes/tide-drum.yaml"]


def test_fish_offers_a_value_with_the_option_that_it_is_tied_to(programs: Path) -> None:
    assert list(in_fish(programs, "rimfold make --document=crib")) == ["--document=crib-sheet"]
    assert list(in_fish(programs, "rimfold make --lang=en,d")) == ["--lang=en,de"]
    assert list(in_fish(programs, "rimfold make --out=recip")) == ["--out=recipes/"]


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("rimfold mak", ["make"]),
        ("rimfold make --docu", ["make", "--document"]),
        ("rimfold make --document crib", ["make", "--document", "crib-sheet"]),
        ("rimfold make --document=crib", ["make", "--document=crib-sheet"]),
        ("rimfold make --lang en,d", ["make", "--lang", "en,de"]),
        ("rimfold make recipes/tide", ["make", "recipes/tide-drum.yaml"]),
        # A slash at the end is the shell's, which takes it away again.
        ("rimfold make --out=recip", ["make", "--out=recipes"]),
    ],
)
def test_zsh_completes_a_line_as_it_is_typed(programs: Path, typed: str, words: list[str]) -> None:
    assert in_zsh(programs, typed) == words


@pytest.mark.parametrize("shell", SHELLS)
def test_a_script_names_the_command_and_its_shell_reads_it(shell: str) -> None:
    answer = rimfold("completion", shell)
    assert (answer.returncode, answer.stderr) == (0, "")
    assert f"_RIMFOLD_COMPLETE={shell}_complete" in answer.stdout
    if shutil.which(shell) is None:
        pytest.skip(f"there is no {shell} here")
    read = subprocess.run([shell, "-n"], input=answer.stdout, capture_output=True, text=True)
    assert (read.returncode, read.stderr) == (0, "")


@pytest.mark.parametrize("shell", SHELLS)
def test_whatever_the_shell_its_script_is_answered_with_the_options(shell: str) -> None:
    words = {"COMP_WORDS": "rimfold make --an", "COMP_CWORD": "2" if shell != "fish" else "--an"}
    answer = subprocess.run(
        [sys.executable, "-m", "generator"],
        env={**os.environ, "PYTHONPATH": str(ROOT), "_RIMFOLD_COMPLETE": f"{shell}_complete", **words},
        capture_output=True,
        text=True,
    )
    assert answer.returncode == 0, answer.stderr
    assert "--anew" in answer.stdout
    assert "--watch" not in answer.stdout


def test_a_shell_that_nobody_knows_is_told() -> None:
    answer = rimfold("completion", "tcsh")
    assert answer.returncode == 2
    assert "'tcsh' is not one of 'bash', 'zsh', 'fish'" in answer.stderr


def test_exit_codes_stand_in_the_help_and_in_the_readme() -> None:
    told = rimfold("--help").stdout
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    for code in range(4):
        assert f"\n    {code}  " in told
        assert f"\n| {code} | " in readme
