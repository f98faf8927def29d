"""Made again: an unchanged call reads no recipe, and every kind of change is seen."""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, fields
from pathlib import Path
from typing import Any

import click
import pytest

from generator.answers import Done, Line, standing
from generator.base.errors import RimfoldError
from generator.cli.round import Request, one_round
from generator.cli.telling import Tally
from generator.hands import Alone
from generator.record.verify import verify
from tests.record.quick import RECIPE, quick_recipe

ROOT = Path(__file__).parents[2]
DOCUMENT = "steps-text"
"""No page is printed for it, so that it is made quickly; figures and cards come with it."""

_TELL = """
import sys
from generator.cli.run import run
code = run(sys.argv[1:])
print("read" if "yaml" in sys.modules or "generator.examine" in sys.modules else "answered", file=sys.stderr)
sys.exit(code)
"""


@dataclass
class Listener:
    """One who is told, and remembers."""

    brief: bool = False
    lines: list[Line] = field(default_factory=list)
    errors: list[RimfoldError] = field(default_factory=list)
    done: list[tuple[Done, list[Path], bool]] = field(default_factory=list)
    ends: list[Tally] = field(default_factory=list)

    def told(self, line: Line) -> None:
        self.lines.append(line)

    def begin(self, names: Sequence[str], to_make: int) -> None: ...

    def working(self, name: str) -> None: ...

    def made(self, done: Done, new: Iterable[Path], *, kept_answer: bool) -> None:
        self.done.append((done, list(new), kept_answer))

    def failed(self, error: RimfoldError, name: str = "") -> None:
        self.errors.append(error)

    def saved(self, files: Sequence[Path]) -> None: ...

    def summed_up(self, line: str) -> None: ...

    def end(self, tally: Tally) -> None:
        self.ends.append(tally)

    def close(self) -> None: ...

    @property
    def answered(self) -> bool:
        """Whether nobody had to look at the recipe."""
        assert self.done
        assert len({kept for _, _, kept in self.done}) == 1
        return self.done[0][2]


def asked(folder: Path, **wishes: Any) -> Request:
    usual: dict[str, Any] = {field.name: None for field in fields(Request)}
    usual |= {"recipes": (folder / "quick.yaml",), "sizes": (), "documents": (DOCUMENT,)}
    return Request(**(usual | {"out": folder / "out", "anew": False} | wishes))


def made_of(folder: Path, **wishes: Any) -> Listener:
    """``make``, in this process."""
    listener = Listener()
    # Starting other processes would be most of the time.
    one_round(asked(folder, **wishes), listener, standing(), Alone())
    return listener


def answers(folder: Path, **wishes: Any) -> bool:
    """Whether a call to ``make`` finds its answer."""
    listener = made_of(folder, **wishes)
    assert not listener.errors
    return listener.answered


def command(folder: Path, *more: str, installed: Path = ROOT) -> tuple[str, list[str]]:
    """``make`` in a process of its own: whether it read the recipe, and its output."""
    *_, how = (answer := _called(folder, more, {"PYTHONPATH": str(installed)})).stderr.splitlines()
    return how, answer.stdout.splitlines()


def _called(
    folder: Path, more: Iterable[str], changed: Mapping[str, str]
) -> subprocess.CompletedProcess[str]:
    answer = subprocess.run(
        [sys.executable, "-c", _TELL, "make", "quick.yaml", "--document", DOCUMENT, *more],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(ROOT), **changed},
        capture_output=True,
        text=True,
    )
    assert answer.returncode == 0, answer.stderr
    return answer


@pytest.fixture(autouse=True)
def _no_command_line() -> Iterator[None]:
    """As if the command line had been read."""
    with click.Context(click.Command("rimfold")):
        yield


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with a recipe, and what is kept of it."""
    folder = tmp_path_factory.mktemp("again")
    quick_recipe(folder)
    return folder


@pytest.fixture
def made(place: Path) -> Path:
    """The same, in the state in which it was made, and answered once."""
    quick_recipe(place)
    shutil.rmtree(place / "out" / "quick", ignore_errors=True)
    made_of(place)
    assert answers(place)
    return place


def contents(folder: Path) -> dict[str, bytes]:
    """Every file of the recipe's documents, the manifest too."""
    home = folder / "out" / "quick"
    return {str(path.relative_to(home)): path.read_bytes() for path in home.rglob("*") if path.is_file()}


def test_an_unchanged_command_reads_no_recipe_writes_nothing_and_tells_the_same(tmp_path: Path) -> None:
    quick_recipe(tmp_path)
    first = command(tmp_path)
    before = {path: path.stat().st_mtime_ns for path in (tmp_path / "out" / "quick").rglob("*")}
    again = command(tmp_path)
    assert (first[0], again[0]) == ("read", "answered")
    assert len(first[1]) == 2
    assert again[1] == [f"{line}; unchanged" for line in first[1]]
    assert {path: path.stat().st_mtime_ns for path in (tmp_path / "out" / "quick").rglob("*")} == before


def files(line: str) -> list[str]:
    """The files and folders that a line of what was made names."""
    return re.findall(r"out/[\w./-]*\w", line)


def test_a_warning_that_was_kept_is_told_in_the_language_of_each_call(tmp_path: Path) -> None:
    recipe = quick_recipe(tmp_path)
    striped = "covering: {name: Net stripe, width: 150 cm, repeat: {around: 40 mm}}\n"
    recipe.write_text(RECIPE + striped, encoding="utf-8")

    def told(language: str) -> tuple[str, str, list[str]]:
        answer = _called(tmp_path, (), {"LC_ALL": language})
        *warnings, how = answer.stderr.splitlines()
        return how, "\n".join(warnings), answer.stdout.splitlines()

    how, english, made = told("en_GB.UTF-8")
    assert how == "read"
    assert "warning: the pattern jumps by" in english
    how, german, made_in_german = told("de_DE.UTF-8")
    assert how == "read"
    assert "Warnung: " in german
    assert "pattern" not in german
    assert len(german.splitlines()) == len(english.splitlines()) == 2
    # Documents are in the language of the recipe: nothing is made for another language of the terminal.
    assert [files(line) for line in made_in_german] == [files(line) for line in made]
    assert all("Größe" in line and line.endswith("; unverändert") for line in made_in_german)
    unchanged = [f"{line}; unchanged" for line in made]
    in_german, in_english = (german, made_in_german), (english, unchanged)
    for language, lines in (("de_AT", in_german), ("C", in_english), ("de_DE.UTF-8", in_german)):
        assert told(language) == ("answered", *lines)


def test_a_file_that_was_only_touched_or_copied_back_is_the_same_file(made: Path) -> None:
    (made / "quick.yaml").touch()
    copy = made / "copy.yaml"
    shutil.copy(made / "short-way.yaml", copy)
    copy.replace(made / "short-way.yaml")
    assert answers(made)


def _with_old_times(path: Path, text: str) -> None:
    """Another text of the same length, under the times of the first."""
    about = path.stat()
    assert len(text.encode()) == about.st_size
    path.write_text(text, encoding="utf-8")
    os.utime(path, ns=(about.st_atime_ns, about.st_mtime_ns))


def _replace(path: Path, old: str, new: str) -> None:
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")


INPUTS: Mapping[str, Callable[[Path], object]] = {
    "a value": lambda folder: _replace(folder / "quick.yaml", "250 mm", "260 mm"),
    "a note": lambda folder: _replace(folder / "quick.yaml", "rimfold: 1", "rimfold: 1  # a note"),
    "a value with the old times and size": lambda folder: _with_old_times(
        folder / "quick.yaml", RECIPE.replace("250 mm", "260 mm")
    ),
    "the technique": lambda folder: _replace(folder / "short-way.yaml", '"3"', '"4"'),
    "words in the technique": lambda folder: _replace(
        folder / "short-way.yaml", "change the layout", "begin anew"
    ),
}


@pytest.mark.parametrize("what", INPUTS)
def test_whatever_changes_in_what_was_read_is_seen(what: str, made: Path) -> None:
    INPUTS[what](made)
    assert not answers(made)
    assert answers(made)


def test_a_recipe_that_was_changed_and_changed_back_is_right_each_time(made: Path) -> None:
    before = contents(made)
    _replace(made / "quick.yaml", "Quick drum", "Quicker drum")
    assert not answers(made)
    assert contents(made) != before
    quick_recipe(made)
    made_of(made)
    assert contents(made) == before


@pytest.mark.parametrize(
    "wish",
    [{"spoken": "de"}, {"sizes": ("20",)}, {"units": "inch"}, {"grey": True}, {"documents": ("crib-sheet",)}],
)
def test_another_wish_is_another_question(wish: Mapping[str, Any], made: Path) -> None:
    out = made / "wished"
    made_of(made, out=out)
    assert answers(made, out=out)
    assert not answers(made, out=out, **wish)
    assert answers(made, out=out, **wish)
    shutil.rmtree(out)


def test_another_folder_has_answers_of_its_own(made: Path) -> None:
    assert not answers(made, out=made / "elsewhere")
    assert answers(made, out=made / "elsewhere")


OUTPUTS: Mapping[str, Callable[[Path], object]] = {
    "deleted": lambda home: (home / "20" / "steps-text.en.txt").unlink(),
    "edited": lambda home: _replace(home / "25" / "steps-text.en.txt", "Quick drum", "Quack drum"),
    "edited under its old times": lambda home: _with_old_times(
        home / "25" / "steps-text.en.txt",
        (home / "25" / "steps-text.en.txt").read_text(encoding="utf-8").replace("Quick drum", "Quack drum"),
    ),
    "emptied": lambda home: next((home / "20" / "figures").iterdir()).write_bytes(b""),
    "a manifest edited": lambda home: _replace(home / "manifest.json", '"recipe": "quick"', '"recipe": "x"'),
    "a manifest deleted": lambda home: (home / "manifest.json").unlink(),
    "a folder deleted": lambda home: shutil.rmtree(home / "25"),
}


@pytest.mark.parametrize("what", OUTPUTS)
def test_what_was_deleted_or_edited_is_put_back(what: str, made: Path) -> None:
    before = contents(made)
    OUTPUTS[what](made / "out" / "quick")
    assert contents(made) != before
    assert not answers(made)
    after = contents(made)
    assert {**after, "manifest.json": b""} == {**before, "manifest.json": b""}
    (found,) = verify(made / "out")
    assert found.good


def test_a_store_that_was_deleted_or_damaged_costs_time_and_nothing_else(made: Path) -> None:
    before = contents(made)
    for file in (made / "out" / ".rimfold").glob("??/*"):
        file.write_bytes(file.read_bytes()[: file.stat().st_size // 2])
    assert not answers(made)
    assert answers(made)
    shutil.rmtree(made / "out" / ".rimfold")
    assert not answers(made)
    assert contents(made) == before


def test_anew_asks_nobody(made: Path) -> None:
    assert not answers(made, anew=True)


def test_warnings_are_told_again_and_a_faulty_recipe_is_read_each_time(made: Path) -> None:
    _replace(made / "quick.yaml", "lamp: {diameter: 60 mm, kind: LED, watts: 6}\n", "")
    first, again = made_of(made), made_of(made)
    assert (first.answered, again.answered) == (False, True)
    assert [line for line in first.lines if line.warning and ": warning: " in line.text]
    assert first.lines == again.lines
    _replace(made / "quick.yaml", "250 mm", "250")
    for _ in range(2):
        faulty = made_of(made)
        assert ["has no unit" in str(error) for error in faulty.errors] == [True]
        assert (faulty.done, faulty.ends[0].failed) == ([], 1)


def test_of_several_recipes_only_the_one_that_changed_is_read(made: Path) -> None:
    other = quick_recipe(made, "other.yaml")
    recipes = (made / "quick.yaml", other)
    made_of(made, recipes=recipes)
    _replace(other, "250 mm", "240 mm")
    found = made_of(made, recipes=recipes)
    assert [(done.name, kept) for done, _, kept in found.done] == [
        ("quick, size 20", True),
        ("quick, size 25", True),
        ("other, size 20", False),
        ("other, size 25", False),
    ]
    # The smaller size is as it was.
    assert {
        path.parent.parent.name if path.suffix == ".svg" else path.parent.name
        for _, new, _ in found.done
        for path in new
    } == {"25"}


def _append(path: Path, text: str) -> None:
    path.write_text((path.read_text(encoding="utf-8") if path.exists() else "") + text, encoding="utf-8")


def test_another_installation_gives_no_old_answers(tmp_path: Path) -> None:
    installed = tmp_path / "installed"
    for name in ("generator", "recipes", "templates"):
        shutil.copytree(ROOT / name, installed / name, ignore=shutil.ignore_patterns("__pycache__"))
    quick_recipe(tmp_path)
    one = ("--size", "20")
    assert command(tmp_path, *one, installed=installed)[0] == "read"
    changes: Mapping[str, Callable[[Path], object]] = {
        "program": lambda home: _append(home / "generator" / "jobs.py", "# another one\n"),
        "words": lambda home: _append(home / "templates" / "wording" / "en" / "sheet.po", "# another one\n"),
        "house defaults": lambda home: _append(home / "recipes" / "stock" / "house.yaml", "# another one\n"),
        "technique": lambda home: _append(home / "recipes" / "techniques" / "trimmed-edge.yaml", "# note\n"),
        "new form of times": lambda home: shutil.copy(
            home / "recipes" / "times" / "gannetry-steps.yaml", home / "recipes" / "times" / "other.yaml"
        ),
    }
    for what, change in changes.items():
        change(installed)
        assert command(tmp_path, *one, installed=installed)[0] == "read", what
    assert command(tmp_path, *one, installed=installed)[0] == "answered"


_OPENED = """
import json, os, sys
from pathlib import Path
opened = set()
sys.addaudithook(lambda event, args: opened.add(args[0]) if event == "open" else None)
from generator.base.readings import readings
from generator.examine import examine
with readings() as read:
    examine(Path(sys.argv[1]))
names = {os.path.abspath(os.fsdecode(name)) for name in opened if isinstance(name, (str, bytes))}
print(json.dumps([sorted(name for name in names if name.endswith(".yaml")), sorted(map(str, read))]))
"""


@pytest.mark.parametrize("name", ["pier-drum", "coble-oval", "beacon-50"])
def test_every_file_that_the_interpreter_opened_for_a_recipe_is_known(name: str, tmp_path: Path) -> None:
    # The interpreter itself tells what it opens (audit hooks, PEP 578): lists, techniques, other recipes.
    for path in (ROOT / "recipes").glob("*.yaml"):
        shutil.copy(path, tmp_path)
    recipe = tmp_path / f"{name}.yaml"
    if name == "pier-drum":
        shutil.copy(ROOT / "recipes" / "stock" / "class.yaml", tmp_path / "prices.yaml")
        shutil.copy(ROOT / "recipes" / "stock" / "kit.yaml", tmp_path / "parts.yaml")
        shutil.copy(ROOT / "recipes" / "techniques" / "rolled-edge.yaml", tmp_path / "way.yaml")
        _replace(recipe, "technique: rolled-edge", "technique: ./way.yaml")
        _replace(recipe, "kits:\n", "kits:\n  parts: ./parts.yaml\n")
        _replace(recipe, "class:\n", "class:\n  stock: ./prices.yaml\n")
    answer = subprocess.run(
        [sys.executable, "-c", _OPENED, str(recipe)],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
    )
    assert answer.returncode == 0, answer.stderr
    opened, known = json.loads(answer.stdout)
    assert str(recipe) in opened
    assert set(opened) <= set(known)
    if name == "pier-drum":
        assert {str(tmp_path / f"{each}.yaml") for each in ("prices", "parts", "way")} <= set(opened)


class Saver(Listener):
    """One who saves the recipe once more when the first size is made."""

    def __init__(self, recipe: Path) -> None:
        super().__init__()
        self.recipe = recipe

    def made(self, done: Done, new: Iterable[Path], *, kept_answer: bool) -> None:
        if not self.done:
            _replace(self.recipe, "Quick drum", "Other drum")
        super().made(done, new, kept_answer=kept_answer)


def test_a_file_that_is_changed_while_it_is_made_from_is_not_taken_for_what_was_made(made: Path) -> None:
    one_round(asked(made, anew=True), Saver(made / "quick.yaml"), standing(), Alone())
    assert not answers(made)
    text = (made / "out" / "quick" / "25" / "steps-text.en.txt").read_text(encoding="utf-8")
    assert "Other drum 25" in text
