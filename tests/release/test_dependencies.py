"""Each direct dependency stands in DEVELOPERS.md with its reason, and with the licence that it states."""

from __future__ import annotations

import re
import subprocess
import tomllib
from importlib.metadata import distribution

import pytest

from tests.release.scripts import ROOT, script

PYPROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
TEXT = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
TABLE = TEXT.partition("## Why each dependency")[2].partition("\n## ")[0]


def normal(name: str) -> str:
    return re.sub(r"[-_.]+", "-", name).lower()


def rows() -> dict[str, tuple[set[str], str]]:
    """Licences and reason by package."""
    found = {}
    for line in TABLE.splitlines():
        cells = [cell.strip() for cell in line.strip("|").split("|")]
        if len(cells) != 3 or cells[0] in ("library", "---"):
            continue
        names, licences = cells[0].split(", "), cells[1].split(", ")
        paired = len(names) > 1 and len(names) == len(licences)
        for place, name in enumerate(names):
            found[normal(name)] = ({licences[place]} if paired else set(licences), cells[2])
    return found


def direct() -> list[str]:
    wanted = [*PYPROJECT["project"]["dependencies"], *PYPROJECT["dependency-groups"]["dev"]]
    wanted += PYPROJECT["build-system"]["requires"]
    for extra in PYPROJECT["project"]["optional-dependencies"].values():
        wanted += extra
    return sorted({normal(re.match(r"[A-Za-z0-9_.-]+", line)[0]) for line in wanted})  # type: ignore[index]


def test_the_table_names_every_direct_dependency_and_no_other() -> None:
    assert sorted(rows()) == direct()


@pytest.mark.parametrize("name", direct())
def test_each_has_its_reason_and_its_licence(name: str) -> None:
    licences, reason = rows()[name]
    assert len(reason.split()) >= 1
    stated = script("bom").licence(distribution(name))
    assert stated is not None
    words = stated.get("expression") or stated["license"]["name"]
    told = set(re.split(r" AND | OR |, ", words))
    assert licences <= told, f"{name} says {words}"


def test_the_audit_can_be_read_and_says_what_it_lacks() -> None:
    path = ROOT / ".ci" / "audit"
    assert subprocess.run(["bash", "-n", str(path)], check=False, timeout=20).returncode == 0
    done = subprocess.run(
        ["/bin/bash", str(path)],
        env={"PATH": "/nowhere"},
        capture_output=True,
        text=True,
        check=False,
        timeout=20,
    )
    assert done.returncode == 1
    assert "pip install pip-audit" in done.stderr
