"""When an answer of an earlier call is believed, file by file."""

from __future__ import annotations

import json
import os
import time
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest

from generator.answers import YOUNG, Done, Line, Output, question, recall, remember
from generator.record.store import Store


class Kept:
    """An answer to a question, kept in a store, and the files that it hangs on."""

    def __init__(self, folder: Path, name: str = "drum.yaml") -> None:
        self.out = folder / "out"
        self.recipe = folder / name
        self.sheet = self.out / "drum" / "35" / "step-sheet.en.pdf"
        self.sheet.parent.mkdir(parents=True)
        self.recipe.write_bytes(b"a recipe")
        self.sheet.write_bytes(b"a sheet")
        (self.out / "drum" / "manifest.json").write_bytes(b"{}")
        self.store = Store(self.out)
        self.key = question("here", self.recipe, self.out, ("de",))

    def remember(self, read: bytes = b"a recipe", written: bytes = b"a sheet") -> bool:
        done = Done("drum, size 35", "drum: …", (), (Output(str(self.sheet), "document"),))
        return remember(
            self.store,
            self.key,
            self.out,
            [Line("a warning", warning=True)],
            [done],
            {self.recipe: sha256(read).hexdigest()},
            {self.sheet: sha256(written).hexdigest()},
        )

    @property
    def holds(self) -> bool:
        return recall(self.store, self.key, self.out) is not None

    @property
    def noted(self) -> dict[str, Any]:
        """The answer as it stands in the store."""
        return dict(json.loads((self.out / ".rimfold" / self.key[:2] / self.key).read_bytes()))


@pytest.fixture
def kept(tmp_path: Path) -> Kept:
    return Kept(tmp_path)


def test_an_answer_says_what_was_told_and_what_stands_where(kept: Kept) -> None:
    assert kept.remember()
    found = recall(kept.store, kept.key, kept.out)
    assert found is not None
    assert found.lines == (Line("a warning", warning=True),)
    assert found.done[0].files == (Output(str(kept.sheet), "document"),)
    assert found.readings == {kept.recipe: sha256(b"a recipe").hexdigest()}


def test_nothing_is_kept_where_a_file_is_no_longer_the_one_that_was_read_or_written(kept: Kept) -> None:
    assert not kept.remember(read=b"an older recipe")
    assert not kept.remember(written=b"an older sheet")
    assert not kept.holds


def test_times_count_only_once_a_file_is_old_enough(kept: Kept) -> None:
    kept.remember()
    assert {seen["marks"] for seen in kept.noted["read"]} == {None}
    assert kept.holds
    time.sleep(YOUNG / 1e9 + 0.1)
    assert kept.holds
    about = os.stat(kept.recipe)
    marks = [about.st_size, about.st_mtime_ns, about.st_ctime_ns, about.st_ino]
    assert [seen["marks"] for seen in kept.noted["read"]] == [marks]
    # A time that lies ahead, as on a disk of another machine, never counts.
    ahead = time.time_ns() + 3_600_000_000_000
    os.utime(kept.recipe, ns=(ahead, ahead))
    assert kept.holds
    assert [seen["marks"] for seen in kept.noted["read"]] == [None]


@pytest.mark.parametrize("which", ["recipe", "sheet"])
def test_other_bytes_in_the_same_number_under_the_same_time_are_seen(which: str, kept: Kept) -> None:
    kept.remember()
    time.sleep(YOUNG / 1e9 + 0.1)
    assert kept.holds
    file: Path = getattr(kept, which)
    about = file.stat()
    file.write_bytes(file.read_bytes()[::-1])
    os.utime(file, ns=(about.st_atime_ns, about.st_mtime_ns))
    assert file.stat().st_size == about.st_size
    assert not kept.holds


@pytest.mark.parametrize("number", range(5))
def test_every_part_of_a_question_counts(number: int, tmp_path: Path) -> None:
    def asked(changed: int) -> str:
        parts = ["here", "drum.yaml", "out", "de", "A4"]
        if changed >= 0:
            parts[changed] += "x"
        return question(parts[0], tmp_path / parts[1], tmp_path / parts[2], parts[3:])

    assert asked(number) != asked(-1)


def test_the_same_name_in_another_folder_is_another_question(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    keys = set()
    for name in ("one", "two"):
        (tmp_path / name).mkdir()
        monkeypatch.chdir(tmp_path / name)
        keys.add(question("here", Path("drum.yaml"), Path("out"), ()))
    assert len(keys) == 2


def test_a_name_that_is_no_text_is_a_question_whose_answer_is_not_kept(tmp_path: Path) -> None:
    try:
        kept = Kept(tmp_path, os.fsdecode(b"drum\xff.yaml"))
    except OSError:
        pytest.skip("this disk takes no such name")
    assert not kept.remember()
    assert not kept.holds


@pytest.mark.parametrize("text", ["", "[]", "{}", '{"lines": 1}', '{"lines": [], "done": [], "read": "x"}'])
def test_an_answer_that_cannot_be_read_is_none(text: str, kept: Kept) -> None:
    kept.remember()
    (kept.out / ".rimfold" / kept.key[:2] / kept.key).write_text(text, encoding="utf-8")
    assert not kept.holds
