"""The bill of materials of a release: CycloneDX 1.6, checked against what that standard demands of it.

What the standard demands was read in its JSON schema (bom-1.6.schema.json, as packed in cyclonedx-python-lib
11.12): the fields that are required, the patterns, and that no others stand in the document. The whole bill
was also validated with that schema, strictly, when this was written.
"""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
import tomllib
from pathlib import Path
from typing import Any

import pytest

from tests.release.scripts import ROOT

LOCK = (ROOT / ".ci" / "requirements.lock").read_text(encoding="utf-8")
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]

TOP = {"bomFormat", "specVersion", "serialNumber", "version", "metadata", "components", "dependencies"}
SERIAL = r"urn:uuid:[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}"
PURL = r"pkg:pypi/[a-z0-9.-]+@[0-9][A-Za-z0-9.]*"
"""Package URL of type pypi (from memory): names in small letters, hyphens for underscores."""


def bom(**environment: str) -> str:
    done = subprocess.run(
        [sys.executable, str(ROOT / ".ci" / "bom")],
        env={**os.environ, **environment},
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


@pytest.fixture(scope="module")
def bill() -> dict[str, Any]:
    found: dict[str, Any] = json.loads(bom(PYTHONHASHSEED="1"))
    return found


def test_the_document_has_the_fields_that_the_standard_demands_and_no_others(bill: dict[str, Any]) -> None:
    assert set(bill) == TOP
    assert (bill["bomFormat"], bill["specVersion"]) == ("CycloneDX", "1.6")
    assert re.fullmatch(SERIAL, bill["serialNumber"])
    assert isinstance(bill["version"], int)
    assert bill["version"] >= 1


def test_each_component_has_type_and_name_and_a_reference_of_its_own(bill: dict[str, Any]) -> None:
    components = [bill["metadata"]["component"], *bill["components"]]
    for one in components:
        assert one["type"] in ("application", "library")
        assert one["name"]
        assert ("purl" in one) == (not one["bom-ref"].startswith("system:"))
        if "purl" in one:
            assert re.fullmatch(PURL, one["purl"])
            assert one["purl"].endswith(f"@{one['version']}")
        for each in one.get("licenses", []):
            assert set(each) in ({"expression"}, {"license"})
        for each in one.get("properties", []):
            assert set(each) == {"name", "value"}
    references = [one["bom-ref"] for one in components]
    assert len(references) == len(set(references))


def test_dependencies_name_components_that_are_there_each_once(bill: dict[str, Any]) -> None:
    references = {one["bom-ref"] for one in [bill["metadata"]["component"], *bill["components"]]}
    named = [link["ref"] for link in bill["dependencies"]]
    assert len(named) == len(set(named))
    for link in bill["dependencies"]:
        assert set(link) == {"ref", "dependsOn"}
        assert len(link["dependsOn"]) == len(set(link["dependsOn"]))
        assert {link["ref"], *link["dependsOn"]} <= references
    # Every component is there because something needs it.
    needed = {ref for link in bill["dependencies"] for ref in link["dependsOn"]}
    assert references - needed == {bill["metadata"]["component"]["bom-ref"]}


def test_the_bill_holds_what_the_lock_pins_for_one_who_uses_rimfold(bill: dict[str, Any]) -> None:
    held = {one["name"]: one for one in bill["components"]}
    direct = {re.match(r"[a-z0-9-]+", line)[0] for line in PROJECT["dependencies"]}  # type: ignore[index]
    assert direct <= set(held)
    # Needed only for an extra that the page engine asks for; and none of the tools of the workshop.
    assert {"brotli", "zopfli"} <= set(held)
    assert set(held).isdisjoint({"pytest", "ruff", "mypy", "hypothesis", "scipy", "hatchling"})
    for name, one in held.items():
        if "purl" in one:
            assert f"\n{name}=={one['version']} " in f"\n{LOCK}"
            for each in one["properties"]:
                assert f"sha256:{each['value']}" in LOCK


def test_each_package_of_the_bill_has_a_licence(bill: dict[str, Any]) -> None:
    assert [one["name"] for one in bill["components"] if "purl" in one and not one.get("licenses")] == []


def test_the_same_lock_gives_the_same_bill(bill: dict[str, Any]) -> None:
    again = bom(PYTHONHASHSEED="2", TZ="Asia/Tokyo")
    assert json.loads(again) == bill
    assert "timestamp" not in bill["metadata"]


def test_a_release_may_state_its_time(tmp_path: Path) -> None:
    dated = json.loads(bom(SOURCE_DATE_EPOCH="86400", TZ="Asia/Tokyo"))
    assert dated["metadata"]["timestamp"] == "1970-01-02T00:00:00Z"
