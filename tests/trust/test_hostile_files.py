"""Two thousand and more files that nobody should have written: each is answered in words, at its place."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from generator.base.errors import InputError
from generator.cli.run import run
from generator.plan.build import load_technique
from generator.plan.expressions import Expression, ExpressionError, Kind, parse
from tests.trust.bombs import BOMBS, OF_WAYS
from tests.trust.hostile import RECIPE, WAY, WRONG, answered, bad_recipe, bad_way

ROOT = Path(__file__).parents[2]
RECIPES, WAYS = 1600, 1000
BATCH = 200


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    shutil.copy(WAY, tmp_path)
    return tmp_path


def test_the_recipe_that_is_made_hostile_is_sound_but_for_its_ages(folder: Path) -> None:
    found = answered(folder, [RECIPE])
    assert (found.accepted, found.refused) == (1, 0)


@pytest.mark.parametrize("first", range(0, RECIPES, BATCH))
def test_bad_recipes_are_refused_in_words_at_their_place_and_nothing_is_written(
    folder: Path, first: int
) -> None:
    found = answered(folder, [bad_recipe(seed) for seed in range(first, first + BATCH)])
    # A value may be replaced by another that will do; most are not.
    assert found.refused > 0.9 * BATCH
    assert found.slowest < 1
    assert sorted(os.listdir(folder)) == ["recipe.yaml", "short-way.yaml"]


@pytest.mark.parametrize("first", range(0, WAYS, BATCH))
def test_bad_techniques_are_refused_in_words_at_their_place(folder: Path, first: int) -> None:
    found = answered(folder, [bad_way(seed) for seed in range(first, first + BATCH)], ways=True)
    assert found.refused > 0.9 * BATCH
    assert found.slowest < 1
    assert sorted(os.listdir(folder)) == ["short-way.yaml", "way.yaml"]


def test_each_wrong_value_in_a_title_is_text_or_refused(folder: Path) -> None:
    fields = (
        "title: Test",
        "name: Linen",
        "kind: LED",
        "name: Gannetry Steps Workroom",
        "link: https://example.org/a",
    )
    one_size = "\n".join(line for line in RECIPE.split("\n") if not line.startswith("  30:"))
    texts = [
        one_size.replace(field, f"{field.split(':')[0]}: {value}") for field in fields for value in WRONG
    ]
    found = answered(folder, texts)
    assert found.accepted + found.refused == len(fields) * len(WRONG)
    assert found.slowest < 1


NAMES: dict[str, Kind] = {"p": "number", "taper": "truth", "use": "text"}
SIGNS = st.sampled_from(
    ["(", ")", "[", "]", "{{", "}}", "{%", "%}", "{#", "#}", "p", "taper", "use", "1", "0", "1e9", "'a'", '"',
     "'", "+", "-", "*", "/", "//", "**", "%", "~", "|", ".", ",", ":", "==", "<", " in ", " and ", " or ",
     "not ", " if ", " else ", " is ", "__class__", "\n", "\\", "é", "\U0001d7d9"]
)  # fmt: skip


def parsed(text: str, kind: Kind) -> Expression | None:
    """The expression, or None if it is refused in words; anything else fails."""
    try:
        return parse(text, kind, NAMES)
    except ExpressionError as error:
        return None if error.wrong and error.expected and error.fix else pytest.fail("no words")


KINDS: st.SearchStrategy[Kind] = st.sampled_from(("number", "text", "truth"))


@given(st.lists(SIGNS, max_size=25).map("".join), KINDS)
@settings(max_examples=500, suppress_health_check=[HealthCheck.too_slow])
@example("1e9\U0001d7d9", "number")
@example("1) + (2", "number")
def test_an_expression_yields_what_it_should_or_is_refused(text: str, kind: Kind) -> None:
    found = parsed(text, kind)
    if found is None:
        return
    assert found.names <= set(NAMES)
    try:
        value = found.value({"p": 0.5, "taper": True, "use": "table"})
    except ExpressionError:
        return
    assert isinstance(value, {"number": int | float, "text": str, "truth": bool}[kind])


@given(st.text(max_size=220), KINDS)
@settings(max_examples=200)
def test_any_text_as_an_expression_is_one_or_is_refused(text: str, kind: Kind) -> None:
    found = parsed(text, kind)
    assert found is None or found.kind == kind


def test_brackets_that_close_what_they_did_not_open_are_refused() -> None:
    for text in ("1) + (2", "1 if taper else 2) + (1"):
        with pytest.raises(ExpressionError, match="cannot be read"):
            parse(text, "number", NAMES)


CHILD = """
import json, resource, sys, time
from pathlib import Path
from generator.base.errors import InputError
from generator.examine import examine
from generator.plan.build import load_technique
examine(Path(sys.argv[1]) / "sound.yaml")
limit = int(sys.argv[2])
resource.setrlimit(resource.RLIMIT_AS, (limit, limit))
told = {}
for path in sorted(Path(sys.argv[1]).glob("bomb-*")):
    before = time.process_time()
    try:
        if path.name.startswith("bomb-way"):
            load_technique(f"./{path.name}", path.parent)
        else:
            examine(path)
        words = ""
    except InputError as error:
        words = str(error)
    told[path.name] = [time.process_time() - before, words]
peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
status = Path("/proc/self/status")
if status.exists():
    # What getrusage says counts the memory of whoever started this process too.
    peak = next(int(line.split()[1]) for line in status.read_text().splitlines() if line.startswith("VmHWM"))
print(json.dumps({"told": told, "peak": peak}))
"""
ADDRESSES = 1_200_000_000
"""Bytes of address space for the child: the libraries alone reserve about half of it."""
PEAK = 250_000
"""Kilobytes of memory that it may really use."""


def test_files_that_try_to_grow_are_refused_in_a_second_and_in_bounded_memory(folder: Path) -> None:
    (folder / "sound.yaml").write_text(RECIPE, encoding="utf-8")
    for name, text in BOMBS.items():
        (folder / f"bomb-{name}.yaml").write_text(text, encoding="utf-8")
    for name, text in OF_WAYS.items():
        (folder / f"bomb-way-{name}.yaml").write_text(text, encoding="utf-8")
    with open(folder / "bomb-gigantic.yaml", "wb") as file:
        file.write(b"rimfold: 1\n")
        file.truncate(20 * 1024**3)
    os.mkfifo(folder / "bomb-pipe.yaml")
    (folder / "bomb-folder.yaml").mkdir()
    (folder / "bomb-circle.yaml").symlink_to("bomb-circle.yaml")
    (folder / "bomb-zero.yaml").symlink_to("/dev/zero")
    done = subprocess.run(
        [sys.executable, "-c", CHILD, str(folder), str(ADDRESSES)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
    )
    assert done.returncode == 0, done.stderr[-2000:]
    answer = json.loads(done.stdout)
    assert len(answer["told"]) == len(BOMBS) + len(OF_WAYS) + 5
    for name, (seconds, words) in answer["told"].items():
        assert words.startswith(f"{folder}/{name}:"), f"{name} was accepted"
        assert len(words) < 150_000
        assert seconds < 1, name
    assert answer["peak"] < PEAK


@pytest.mark.parametrize("name", ["billion-laughs", "deep"])
def test_make_writes_nothing_for_a_bomb_and_shows_no_traceback(
    tmp_path: Path, name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    recipe = tmp_path / "bomb.yaml"
    recipe.write_text(BOMBS[name], encoding="utf-8")
    assert run(["make", str(recipe), "--out", str(tmp_path / "out")]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err.startswith(f"{recipe}:")
    assert "Traceback" not in told.err
    assert os.listdir(tmp_path) == ["bomb.yaml"]


def test_a_message_is_one_line_of_bounded_length_whatever_it_quotes(folder: Path) -> None:
    way = WAY.read_text(encoding="utf-8").replace(
        "stages: [prepare, finish]", f'stages: ["a\\nb", {"x" * 9000}]'
    )
    (folder / "way.yaml").write_text(way, encoding="utf-8")
    found = answered(folder, [way], ways=True)
    assert found.refused == 1
    with pytest.raises(InputError, match="…"):
        load_technique("./way.yaml", folder)
