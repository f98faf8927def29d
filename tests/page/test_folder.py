"""The recipes of one folder: what was before can be had back, and nothing is overwritten unseen."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from generator.base.assets import data_folder
from generator.base.edition import Voice
from generator.base.errors import UsageError
from generator.page.folder import ChangedMeanwhileError, NotThereError, RecipeFolder


@pytest.fixture
def folder(tmp_path: Path) -> RecipeFolder:
    (tmp_path / "one.yaml").write_text("title: One\n", encoding="utf-8")
    (tmp_path / "notes.txt").write_text("no recipe", encoding="utf-8")
    return RecipeFolder(tmp_path)


def test_recipes_are_the_yaml_files_of_the_folder(folder: RecipeFolder) -> None:
    assert folder.names() == ["one.yaml"]


@pytest.mark.parametrize(
    "name", ["../one.yaml", "one", ".one.yaml", "a/b.yaml", "", "one.yaml\n", "none.yaml"]
)
def test_a_name_that_is_no_file_of_the_folder_is_refused(folder: RecipeFolder, name: str) -> None:
    with pytest.raises(NotThereError):
        folder.read(name)


def test_a_link_that_leads_out_is_no_recipe(
    folder: RecipeFolder, tmp_path_factory: pytest.TempPathFactory
) -> None:
    outside = tmp_path_factory.mktemp("outside") / "two.yaml"
    outside.write_text("title: Two\n", encoding="utf-8")
    (folder.folder / "two.yaml").symlink_to(outside)
    assert folder.names() == ["one.yaml"]
    with pytest.raises(NotThereError):
        folder.read("two.yaml")


def test_each_change_can_be_undone_and_done_again(folder: RecipeFolder) -> None:
    first = folder.read("one.yaml")
    second = folder.save("one.yaml", first.digest, "title: Two\n")
    third = folder.save("one.yaml", second.digest, "title: Three\n")
    assert folder.can("one.yaml") == (True, False)
    back = folder.undo("one.yaml", third.digest)
    assert back == second
    assert folder.undo("one.yaml", back.digest) == first
    assert folder.can("one.yaml") == (False, True)
    assert folder.redo("one.yaml", first.digest) == second
    other = folder.save("one.yaml", second.digest, "title: Other\n")
    assert folder.can("one.yaml") == (True, False)
    assert folder.redo("one.yaml", other.digest) == other


def test_a_file_that_has_changed_meanwhile_is_not_overwritten(folder: RecipeFolder) -> None:
    first = folder.read("one.yaml")
    path = folder.folder / "one.yaml"
    path.write_text("title: From an editor\n", encoding="utf-8")
    with pytest.raises(ChangedMeanwhileError):
        folder.save("one.yaml", first.digest, "title: Mine\n")
    with pytest.raises(ChangedMeanwhileError):
        folder.undo("one.yaml", first.digest)
    assert path.read_text(encoding="utf-8") == "title: From an editor\n"


def test_saving_the_same_writes_nothing_and_leaves_nothing_to_undo(folder: RecipeFolder) -> None:
    first = folder.read("one.yaml")
    before = (folder.folder / "one.yaml").stat()
    folder.save("one.yaml", first.digest, first.text)
    after = (folder.folder / "one.yaml").stat()
    assert (before.st_ino, before.st_mtime_ns) == (after.st_ino, after.st_mtime_ns)
    assert folder.can("one.yaml") == (False, False)


def test_a_new_recipe_never_takes_the_place_of_another(folder: RecipeFolder) -> None:
    assert folder.free("One") == "one-2.yaml"
    assert folder.free("Ünï ../ shade") == "n-shade.yaml"
    with pytest.raises(UsageError):
        folder.create("one.yaml", "title: Again\n")
    assert folder.read("one.yaml").text == "title: One\n"


def test_a_file_that_is_no_text_is_told_in_words(folder: RecipeFolder) -> None:
    (folder.folder / "odd.yaml").write_bytes(b"\xff\xfe\x00")
    with pytest.raises(UsageError, match="cannot be read"):
        folder.read("odd.yaml")


def test_a_look_is_worked_out_once_and_anew_when_a_file_that_it_hangs_on_changes(tmp_path: Path) -> None:
    samples = data_folder("recipes")
    text = (samples / "net-loft.yaml").read_text(encoding="utf-8")
    text = f"{text}\ntechnique: ./own.yaml\n" if "technique:" not in text else text
    text = re.sub(r"technique: [\w-]+", "technique: ./own.yaml", text)
    technique = (samples / "techniques" / "rolled-edge.yaml").read_text(encoding="utf-8")
    (tmp_path / "own.yaml").write_text(technique, encoding="utf-8")
    (tmp_path / "loft.yaml").write_text(text, encoding="utf-8")
    folder = RecipeFolder(tmp_path)
    first = folder.look("loft.yaml", text, None, Voice())
    assert first.good
    assert folder.look("loft.yaml", text, None, Voice()) is first
    # Neither the recipe's own file, which the text stands for, nor one that nobody names.
    (tmp_path / "loft.yaml").write_text(f"{text}\n", encoding="utf-8")
    (tmp_path / "other.yaml").write_text("title: Other\n", encoding="utf-8")
    assert folder.look("loft.yaml", text, None, Voice()) is first
    assert folder.look("loft.yaml", text, None, Voice("de")).numbers != first.numbers
    (tmp_path / "own.yaml").write_text(f"{technique}\n# changed\n", encoding="utf-8")
    assert folder.look("loft.yaml", text, None, Voice()) is not first
