"""Wheel and source archive, built twice, in two places, at other times, under other masks: the same bytes."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tarfile
import zipfile
from pathlib import Path

import pytest

from tests.release.scripts import ROOT

PARTS = (
    "generator",
    "recipes",
    "templates",
    "tests",
    "README.md",
    "DEVELOPERS.md",
    "pyproject.toml",
    ".gitignore",
)
LONG_AGO = 1_000_000_000


def checkout(folder: Path, *, age: int, mask: int) -> Path:
    """A copy of what is built from, with times and permissions of its own."""
    kept = os.umask(mask)
    try:
        for part in PARTS:
            source = ROOT / part
            if source.is_dir():
                shutil.copytree(
                    source,
                    folder / part,
                    ignore=shutil.ignore_patterns("__pycache__"),
                    copy_function=shutil.copyfile,
                )
            else:
                folder.mkdir(parents=True, exist_ok=True)
                shutil.copyfile(source, folder / part)
    finally:
        os.umask(kept)
    for path in folder.rglob("*"):
        os.utime(path, (age, age))
    return folder


def built(folder: Path, **environment: str) -> dict[str, bytes]:
    kept = {
        name: value for name, value in os.environ.items() if name not in ("SOURCE_DATE_EPOCH", "PYTHONPATH")
    }
    done = subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "sdist", "-t", "wheel", "-d", "made"],
        cwd=folder,
        env=kept | environment,
        capture_output=True,
        text=True,
        check=False,
        timeout=300,
    )
    assert done.returncode == 0, done.stderr
    return {path.name: path.read_bytes() for path in (folder / "made").iterdir()}


@pytest.fixture(scope="module")
def twice(tmp_path_factory: pytest.TempPathFactory) -> tuple[dict[str, bytes], dict[str, bytes]]:
    one = checkout(tmp_path_factory.mktemp("one") / "here", age=LONG_AGO, mask=0o022)
    other = checkout(
        tmp_path_factory.mktemp("other") / "some where", age=2 * LONG_AGO - 300_000_000, mask=0o077
    )
    first = built(one, TZ="UTC", PYTHONHASHSEED="1", LC_ALL="C")
    return first, built(other, TZ="Pacific/Auckland", PYTHONHASHSEED="2", LC_ALL="C.UTF-8")


def test_both_builds_give_the_same_bytes(twice: tuple[dict[str, bytes], dict[str, bytes]]) -> None:
    first, second = twice
    assert sorted(first) == sorted(second)
    assert sorted(name.rpartition(".")[2] for name in first) == ["gz", "whl"]
    assert [name for name in first if first[name] != second[name]] == []


def test_the_archives_hold_no_time_owner_or_path_of_the_builder(
    twice: tuple[dict[str, bytes], dict[str, bytes]], tmp_path: Path
) -> None:
    for name, data in twice[0].items():
        path = tmp_path / name
        path.write_bytes(data)
        if name.endswith(".whl"):
            with zipfile.ZipFile(path) as wheel:
                assert len({item.date_time for item in wheel.infolist()}) == 1
        else:
            with tarfile.open(path) as source:
                members = source.getmembers()
                assert len({member.mtime for member in members}) == 1
                assert {(member.uid, member.uname) for member in members} == {(0, "")}
                assert not [
                    member for member in members if member.name.startswith("/") or ".." in member.name
                ]
