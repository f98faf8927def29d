"""Files that cannot be read at all."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from generator.base.errors import RecipeError
from generator.recipe.source import BYTE_LIMIT
from tests.recipe.reading import LAMP, PLAIN, read_file, read_text


def _told(path: Path) -> str:
    with pytest.raises(RecipeError) as caught:
        read_file(path)
    (fault,) = caught.value.faults
    return str(fault)


def test_a_missing_file_names_the_closest_one(tmp_path: Path) -> None:
    (tmp_path / "pier-drum.yaml").write_text(PLAIN)
    told = _told(tmp_path / "pier-drm.yaml")
    assert told == (
        f"{tmp_path}/pier-drm.yaml:1:1: there is no such file; expected a file with a recipe; "
        "did you mean pier-drum.yaml?"
    )


def test_a_missing_file_in_a_missing_folder_is_told(tmp_path: Path) -> None:
    assert "there is no such file" in _told(tmp_path / "no" / "such.yaml")


def test_a_folder_names_a_recipe_in_it(tmp_path: Path) -> None:
    (tmp_path / "drum.yaml").write_text(PLAIN)
    assert "this is a folder" in _told(tmp_path)
    assert _told(tmp_path).endswith("name a file in it, such as drum.yaml")


def test_a_device_is_never_read() -> None:
    assert "this is not an ordinary file" in _told(Path("/dev/zero"))


def test_a_name_with_a_zero_byte_is_told() -> None:
    assert _told(Path("a\0b.yaml")).startswith("a?b.yaml:1:1: there is no such file")


@pytest.mark.skipif(os.geteuid() == 0, reason="the superuser may read everything")
def test_a_file_that_may_not_be_read_is_told(tmp_path: Path) -> None:
    path = tmp_path / "locked.yaml"
    path.write_text(PLAIN)
    path.chmod(0)
    assert "may not be read" in _told(path)


def test_a_file_of_the_largest_size_is_read_and_a_larger_one_is_not(tmp_path: Path) -> None:
    text = (PLAIN + LAMP).encode()
    path = tmp_path / "large.yaml"
    path.write_bytes(text + b"#" * (BYTE_LIMIT - len(text)))
    assert len(read_file(path).sizes) == 1
    path.write_bytes(text + b"#" * (BYTE_LIMIT - len(text) + 1))
    assert "this file is too large; expected at most 256 kB" in _told(path)


def test_a_byte_that_is_no_text_is_told_at_its_line_and_column(tmp_path: Path) -> None:
    path = tmp_path / "old.yaml"
    path.write_bytes("rimfold: 1\ntitle: Gr\u00fc\u00df".encode() + b"\xe9e\n")
    # "title: Grüß" has eleven characters, so the bad byte stands in column 12.
    assert ":2:12: the byte 0xE9 is not UTF-8 text" in _told(path)


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-be"])
def test_utf_16_is_told_by_name_where_it_carries_its_mark(tmp_path: Path, encoding: str) -> None:
    path = tmp_path / "wide.yaml"
    path.write_bytes(("\ufeff" if encoding.endswith("be") else "").encode(encoding) + PLAIN.encode(encoding))
    assert "this file is saved as UTF-16" in _told(path)


def test_a_byte_order_mark_is_no_fault(tmp_path: Path) -> None:
    assert len(read_text(tmp_path, b"\xef\xbb\xbf" + PLAIN.encode()).sizes) == 1


def test_a_bad_byte_after_a_byte_order_mark_is_told_in_the_right_column(tmp_path: Path) -> None:
    path = tmp_path / "old.yaml"
    path.write_bytes(b"\xef\xbb\xbfti\xe9\n")
    assert ":1:3: the byte 0xE9" in _told(path)


@pytest.mark.parametrize("name", ["..yaml", "...yaml"])
def test_a_name_that_would_write_outside_the_folder_of_documents_is_refused(
    tmp_path: Path, name: str
) -> None:
    path = tmp_path / name
    path.write_text(PLAIN)
    assert "cannot name the folder of its documents" in _told(path)


def test_the_file_is_named_as_the_user_named_it(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "sub").mkdir()
    (tmp_path / "sub" / "a.yaml").write_text("rimfold: 2\n")
    monkeypatch.chdir(tmp_path)
    with pytest.raises(RecipeError) as caught:
        read_file(Path("sub/a.yaml"))
    assert str(caught.value).startswith("sub/a.yaml:1:")
