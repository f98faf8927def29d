"""The manifest beside what was made: what it names, how a partial make merges, what ``verify`` says."""

from __future__ import annotations

import hashlib
import io
import json
import os
import signal
from collections.abc import Iterator
from contextlib import chdir, redirect_stderr, redirect_stdout
from importlib.metadata import version
from pathlib import Path
from typing import Any

import pytest

from generator import __version__
from generator.base.assets import data_folder, font_files
from generator.base.errors import UsageError
from generator.cli.run import run
from generator.examine import examine
from generator.plan.work import Work
from generator.record.inputs import making_of, shipped_hash
from generator.record.manifest import NAME, Manifest, read_manifest
from generator.record.put import put
from generator.record.verify import verify
from tests.record.quick import quick_recipe

SHEET, FIGURE = "25/step-sheet.en.pdf", "25/figures/01-choose-use.en.svg"


class Bench:
    """A recipe, its work, and the folder in which its files are put."""

    def __init__(self, folder: Path) -> None:
        self.recipe = quick_recipe(folder / "recipes")
        self.home = folder / "out" / "quick"
        self.work = self.again()

    def again(self) -> Work:
        work = examine(self.recipe).work("25")
        assert work is not None
        return work

    def put(self, files: dict[str, bytes], *of_steps: str) -> None:
        put(
            self.home,
            self.work,
            {self.home / name: data for name, data in files.items()},
            [self.home / name for name in of_steps],
        )

    def told(self) -> dict[str, Any]:
        found: dict[str, Any] = json.loads((self.home / NAME).read_text(encoding="utf-8"))
        return found

    def states(self) -> dict[str, str]:
        (found,) = verify(self.home)
        return {str(one.path.relative_to(self.home)): one.state for one in found.files}

    def reasons(self) -> set[str]:
        (found,) = verify(self.home)
        return {reason for one in found.files for reason in one.reasons}


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[Bench]:
    with chdir(tmp_path):
        yield Bench(tmp_path)


def sha(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def test_the_manifest_names_each_file_its_hash_the_inputs_and_the_versions(bench: Bench) -> None:
    bench.put({SHEET: b"sheet", FIGURE: b"figure"})
    told = bench.told()
    assert told["recipe"] == "quick"
    assert {name: entry["sha256"] for name, entry in told["files"].items()} == {
        SHEET: sha(b"sheet"),
        FIGURE: sha(b"figure"),
    }
    assert told["files"][SHEET]["bytes"] == 5
    (making,) = told["makings"].values()
    inputs = making["inputs"]
    assert inputs["recipe"] == {
        "kind": "file",
        "name": "../../recipes/quick.yaml",
        "sha256": sha(bench.recipe.read_bytes()),
    }
    assert inputs["technique"]["name"] == "../../recipes/short-way.yaml"
    assert inputs["technique"]["sha256"] == sha((bench.recipe.parent / "short-way.yaml").read_bytes())
    house = data_folder("recipes") / "stock" / "house.yaml"
    assert inputs["house defaults"]["sha256"] == sha(house.read_bytes())
    assert inputs["font bold"]["sha256"] == sha(font_files()["bold"].read_bytes())
    assert {"stock", "templates", "program", "font regular", "font semibold"} <= set(inputs)
    assert making["versions"]["rimfold"] == __version__
    assert making["versions"]["weasyprint"] == version("weasyprint")
    assert making["versions"]["font-source-sans-pro"] == version("font-source-sans-pro")
    assert making["versions"]["pango"][:2] == "1."


def test_the_manifest_holds_no_path_of_this_machine_and_no_time(bench: Bench, tmp_path: Path) -> None:
    bench.put({SHEET: b"sheet"})
    text = (bench.home / NAME).read_text(encoding="utf-8")
    assert str(tmp_path) not in text
    assert str(Path.home()) not in text
    bench.put({SHEET: b"sheet"})
    assert (bench.home / NAME).read_text(encoding="utf-8") == text


def test_a_form_of_times_is_an_input_and_so_is_its_absence(bench: Bench) -> None:
    text = bench.recipe.read_text(encoding="utf-8")
    asked = "technique: rolled-edge\ntimes: gannetry-steps"
    bench.recipe.write_text(text.replace("technique: ./short-way.yaml", asked), encoding="utf-8")
    timed = making_of(bench.again(), bench.home).inputs["times"]
    form = data_folder("recipes") / "times" / "gannetry-steps.yaml"
    assert (timed.name, timed.sha256) == ("recipes/times/gannetry-steps.yaml", sha(form.read_bytes()))
    untimed = making_of(bench.work, bench.home).inputs["times"]
    assert (untimed.name, untimed.sha256) == ("recipes/times/short-way.yaml", "absent")


def test_a_list_of_parts_is_an_input(bench: Bench) -> None:
    listed = bench.recipe.parent / "my-kit.yaml"
    listed.write_bytes((data_folder("recipes") / "stock" / "kit.yaml").read_bytes())
    text = bench.recipe.read_text(encoding="utf-8")
    bench.recipe.write_text(f"{text}kits: {{count: {{25: 2}}, parts: ./my-kit.yaml}}\n", encoding="utf-8")
    bench.work = bench.again()
    bench.put({SHEET: b"sheet"})
    assert bench.states() == {SHEET: "good"}
    listed.write_text(listed.read_text(encoding="utf-8") + "# a note\n", encoding="utf-8")
    assert bench.states() == {SHEET: "stale"}
    assert bench.reasons() == {"the list of parts (recipes/my-kit.yaml) changed since"}


def test_every_sample_knows_the_files_that_it_was_read_from(bench: Bench) -> None:
    for recipe in sorted(data_folder("recipes").glob("*.yaml")):
        making = making_of(examine(recipe).works[0], bench.home)
        assert making.inputs["recipe"].sha256 == sha(recipe.read_bytes())
        way = data_folder("recipes").parent / making.inputs["technique"].name
        assert making.inputs["technique"].sha256 == sha(way.read_bytes())


def test_what_was_made_is_good_until_something_changes(bench: Bench) -> None:
    bench.put({SHEET: b"sheet", FIGURE: b"figure"})
    assert bench.states() == {SHEET: "good", FIGURE: "good"}


def test_a_file_that_was_changed_or_is_gone_is_told_alone(bench: Bench) -> None:
    bench.put({SHEET: b"sheet", FIGURE: b"figure", "25/step.svg": b"step"})
    (bench.home / SHEET).write_bytes(b"shee!")
    (bench.home / FIGURE).unlink()
    assert bench.states() == {SHEET: "changed", FIGURE: "missing", "25/step.svg": "good"}


@pytest.mark.parametrize("name", ["quick.yaml", "short-way.yaml"])
def test_a_changed_input_makes_files_stale_and_is_named(bench: Bench, name: str) -> None:
    bench.put({SHEET: b"sheet"})
    path = bench.recipe.parent / name
    path.write_text(path.read_text(encoding="utf-8") + "# a note\n", encoding="utf-8")
    assert bench.states() == {SHEET: "stale"}
    (reason,) = bench.reasons()
    assert reason.endswith(f"(recipes/{name}) changed since")
    path.unlink()
    (reason,) = bench.reasons()
    assert reason.endswith(f"(recipes/{name}) is not there")


def test_another_version_makes_files_stale_and_is_named(bench: Bench) -> None:
    bench.put({SHEET: b"sheet"})
    told = bench.told()
    (making,) = told["makings"].values()
    making["versions"]["weasyprint"] = "69.0"
    making["inputs"]["templates"]["sha256"] = "0" * 64
    (bench.home / NAME).write_text(json.dumps(told), encoding="utf-8")
    assert bench.states() == {SHEET: "stale"}
    assert bench.reasons() == {
        f"weasyprint was 69.0, is {version('weasyprint')}",
        "the templates (templates) changed since",
    }


def test_a_recipe_that_changes_while_its_pages_are_made_counts_as_changed(bench: Bench) -> None:
    bench.recipe.write_text(bench.recipe.read_text(encoding="utf-8") + "# later\n", encoding="utf-8")
    bench.put({SHEET: b"sheet"})
    assert bench.states() == {SHEET: "stale"}
    assert any("was being changed while it was made" in reason for reason in bench.reasons())


def test_a_partial_make_merges_and_each_file_keeps_its_own_making(bench: Bench) -> None:
    bench.put({"20/step-sheet.en.pdf": b"small", SHEET: b"sheet"})
    bench.recipe.write_text(bench.recipe.read_text(encoding="utf-8") + "# later\n", encoding="utf-8")
    bench.work = bench.again()
    bench.put({SHEET: b"sheet again"})
    assert bench.states() == {"20/step-sheet.en.pdf": "stale", SHEET: "good"}
    assert len(bench.told()["makings"]) == 2
    bench.put({"20/step-sheet.en.pdf": b"small again"})
    assert set(bench.states().values()) == {"good"}
    # The first making has no file any more.
    assert len(bench.told()["makings"]) == 1


def test_drawings_of_an_earlier_plan_leave_folder_and_manifest(bench: Bench) -> None:
    bench.put({FIGURE: b"old", "25/figures/02-trim.en.svg": b"old"}, "25/figures")
    (bench.home / "25" / "figures" / "mine.svg").write_text("kept", encoding="utf-8")
    bench.put({FIGURE: b"new"}, "25/figures")
    assert bench.states() == {FIGURE: "good"}
    assert sorted(os.listdir(bench.home / "25" / "figures")) == ["01-choose-use.en.svg", "mine.svg"]
    (found,) = verify(bench.home)
    assert [path.name for path in found.others] == ["mine.svg"]


@pytest.mark.parametrize(
    "text",
    [
        "",
        "{",
        "[]",
        "null",
        '{"manifest": 2, "recipe": "x", "files": {}, "makings": {}}',
        "[" * 100_000,
        "\ud800",
    ],
    ids=["empty", "cut", "list", "null", "newer", "deep", "no text"],
)
def test_a_manifest_that_cannot_be_read_is_told_and_the_next_make_writes_a_new_one(
    bench: Bench, text: str
) -> None:
    bench.home.mkdir(parents=True)
    (bench.home / NAME).write_text(text, encoding="utf-8", errors="surrogatepass")
    with pytest.raises(UsageError, match="cannot be read"):
        verify(bench.home)
    bench.put({SHEET: b"sheet"})
    assert bench.states() == {SHEET: "good"}


@pytest.mark.parametrize(
    "name", ["../secret", "/etc/passwd", "25/../../secret", "a\\..\\b", "", ".", "25//x"]
)
def test_a_manifest_never_leads_out_of_its_folder(bench: Bench, name: str) -> None:
    bench.put({SHEET: b"sheet"})
    told = bench.told()
    told["files"][name] = told["files"][SHEET]
    (bench.home / NAME).write_text(json.dumps(told), encoding="utf-8")
    assert read_manifest(bench.home) is None


def test_parts_of_the_installation_are_not_looked_for_outside_it() -> None:
    for name in ("recipes/../../secret", "templates/../pyproject.toml", "font/../x", "elsewhere", ""):
        assert shipped_hash(name) == "absent"


def test_the_order_in_which_sizes_are_put_does_not_show(bench: Bench) -> None:
    files = {f"{size}/step-sheet.en.pdf": f"sheet {size}".encode() for size in (20, 25)}
    for name, data in files.items():
        bench.put({name: data})
    one = (bench.home / NAME).read_bytes()
    (bench.home / NAME).unlink()
    for name, data in reversed(files.items()):
        bench.put({name: data})
    assert (bench.home / NAME).read_bytes() == one


def test_two_builds_at_once_leave_a_manifest_that_agrees_with_the_files(bench: Bench) -> None:
    children = []
    for which in range(2):
        child = os.fork()
        if child == 0:
            code = 1
            try:
                for number in range(12):
                    names = (SHEET, FIGURE, f"{which}/own.pdf")
                    bench.put({name: f"{name} {which} {number}".encode() for name in names})
                code = 0
            finally:
                os._exit(code)
        children.append(child)
    assert [os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) for child in children] == [0, 0]
    assert bench.states() == dict.fromkeys((SHEET, FIGURE, "0/own.pdf", "1/own.pdf"), "good")
    # The set of one build, not a mixture.
    assert len({(bench.home / name).read_bytes()[len(name) :] for name in (SHEET, FIGURE)}) == 1


def test_a_run_that_is_cut_off_before_the_manifest_is_told_and_the_next_completes(bench: Bench) -> None:
    bench.put({SHEET: b"old", FIGURE: b"old"})
    child = os.fork()
    if child == 0:
        real = os.replace

        def die_at_the_second(source: str, target: Path) -> None:
            if Path(target).name.endswith(".svg"):
                os.kill(os.getpid(), signal.SIGKILL)
            real(source, target)

        os.replace = die_at_the_second  # type: ignore[assignment]
        try:
            bench.put({SHEET: b"new", FIGURE: b"new"})
        finally:
            os._exit(1)
    assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == -signal.SIGKILL
    assert bench.states() == {SHEET: "changed", FIGURE: "good"}
    bench.put({SHEET: b"new", FIGURE: b"new"})
    assert bench.states() == {SHEET: "good", FIGURE: "good"}
    assert not list(bench.home.rglob(".rimfold-*"))


def rimfold(*arguments: object) -> tuple[int, str, str]:
    out, err = io.StringIO(), io.StringIO()
    with redirect_stdout(out), redirect_stderr(err):
        code = run([str(argument) for argument in arguments])
    return code, out.getvalue(), err.getvalue()


def test_the_command_says_per_file_what_is_so_and_ends_with_a_code(bench: Bench, tmp_path: Path) -> None:
    bench.put({SHEET: b"sheet", FIGURE: b"figure"})
    assert rimfold("verify")[:2] == (0, "out/quick: all 2 files are as they were made, and up to date\n")
    (bench.home / FIGURE).unlink()
    bench.recipe.write_text(bench.recipe.read_text(encoding="utf-8") + "# later\n", encoding="utf-8")
    (bench.home / "note.txt").write_text("mine", encoding="utf-8")
    code, out, err = rimfold("verify", "out")
    assert (code, err) == (3, "")
    assert out.splitlines() == [
        f"out/quick/{FIGURE}: missing: it was made, and is not there",
        f"out/quick/{SHEET}: out of date: the recipe (recipes/quick.yaml) changed since",
        "out/quick/note.txt: not from this recipe, left alone",
        "out/quick: 1 out of date, 1 missing of 2 files; "
        "to renew them: rimfold make recipes/quick.yaml --out out",
    ]


def test_the_command_tells_machines_as_json(bench: Bench) -> None:
    bench.put({SHEET: b"sheet"})
    code, out, _ = rimfold("verify", "out", "--json")
    told = json.loads(out)
    assert (code, told["good"]) == (0, True)
    assert told["folders"]["out/quick"]["files"] == {SHEET: {"state": "good", "reasons": []}}
    (bench.home / SHEET).write_bytes(b"other")
    code, out, _ = rimfold("verify", bench.home, "--json")
    told = json.loads(out)
    assert (code, told["good"]) == (3, False)
    assert told["folders"][str(bench.home)]["files"][SHEET]["state"] == "changed"


def test_a_folder_without_a_manifest_is_told(tmp_path: Path) -> None:
    for folder in (tmp_path, tmp_path / "none"):
        code, out, err = rimfold("verify", folder)
        assert (code, out) == (2, "")
        assert "holds no manifest.json; name a folder that rimfold make has made" in err


def test_a_manifest_reads_back_as_it_was_written(bench: Bench) -> None:
    bench.put({SHEET: b"sheet"})
    found = read_manifest(bench.home)
    assert found is not None
    assert found.text() == (bench.home / NAME).read_text(encoding="utf-8")
    assert Manifest.model_validate_json(found.text()) == found
