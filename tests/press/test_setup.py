"""What the set-up pins, and that its scripts name nothing of one machine."""

from __future__ import annotations

import re
import subprocess
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
LOCK = (ROOT / ".ci" / "requirements.lock").read_text(encoding="utf-8")
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
PINNED = re.compile(
    r"^([a-z0-9-]+)==(\S+)( ;[^\\]*)? \\\n((?:    --hash=sha256:[0-9a-f]{64}(?: \\)?\n)+)", re.M
)


def name_of(requirement: str) -> str:
    match = re.match(r"[A-Za-z0-9_.-]+", requirement)
    assert match is not None
    return re.sub(r"[-_.]+", "-", match[0]).lower()


def test_the_lock_holds_pinned_packages_with_hashes_and_nothing_else() -> None:
    assert PINNED.sub("", LOCK).strip() == ""
    assert len(PINNED.findall(LOCK)) > 40


def test_the_lock_names_no_address_and_no_path() -> None:
    assert not [line for line in LOCK.splitlines() if "://" in line or " @ " in line or "/" in line]


def test_every_package_that_the_project_names_is_pinned() -> None:
    wanted = [*PROJECT["project"]["dependencies"], *PROJECT["dependency-groups"]["dev"]]
    wanted += PROJECT["build-system"]["requires"]
    pinned = {match[0] for match in PINNED.findall(LOCK)}
    assert len(wanted) > 20
    assert {name_of(requirement) for requirement in wanted} - pinned == set()


def test_a_package_is_pinned_once_for_all_machines() -> None:
    names = [match[0] for match in PINNED.findall(LOCK)]
    assert len(names) == len(set(names))


@pytest.mark.parametrize("script", ["setup", "run", "lock", "audit", "browser"])
def test_the_scripts_can_be_read_and_name_no_address(script: str) -> None:
    path = ROOT / ".ci" / script
    assert subprocess.run(["bash", "-n", str(path)], check=False, timeout=20).returncode == 0
    text = path.read_text(encoding="utf-8")
    assert not re.search(r"https?://|--index-url|--find-links|/home/|/root/", text)


def test_the_checks_run_the_readme_s_test_command_exactly() -> None:
    lines = (ROOT / ".ci" / "run").read_text(encoding="utf-8").splitlines()
    assert "bash .ci/setup && .venv/bin/pytest -n auto --dist loadfile" in lines
