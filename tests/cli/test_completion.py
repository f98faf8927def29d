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
