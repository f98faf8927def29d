"""What is kept comes back whole or not at all, and the oldest goes first."""

from __future__ import annotations

import json
import os
from dataclasses import replace
from pathlib import Path

import pytest

from generator.base.message import Message, Name, Number, catalogued, joined, message
from generator.record.store import File, Piece, Store, key_of

SHEET = Piece((File("25/step-sheet.en.pdf", b"%PDF \n\0 sheet", "document", 12),), "printed on A4")
BOTH = Piece((File("25/a.txt", b"", "text"), File("25/b.svg", "ü".encode(), "figure")))
ONE, OTHER, THIRD = key_of(["one"]), key_of(["other"]), key_of(["third"])


def test_what_was_kept_comes_back_as_it_was(tmp_path: Path) -> None:
    store = Store(tmp_path)
    assert store.get(ONE) is None
    assert not store.has(ONE)
    store.keep(ONE, SHEET)
    store.keep(OTHER, BOTH)
    assert store.has(ONE)
    assert store.get(ONE) == SHEET
    assert Store(tmp_path).get(OTHER) == BOTH


def test_a_note_comes_back_as_the_sentence_that_it_was(tmp_path: Path) -> None:
    kind, form = (
        catalogued("kind.crib-sheet", "crib-sheet"),
        joined([message("large"), Number("1.5 mm"), "A4"]),
    )
    note = message("the {kind} has no room on {form} ({count})", kind=kind, form=form, count=3)
    store = Store(tmp_path)
    store.keep(ONE, replace(SHEET, note=note))
    kept = store.get(ONE)
    assert kept is not None
    assert (kept.note, type(kept.note)) == (note, Message)
    assert isinstance(kept.note, Message)
    assert kept.note.template == note.template
    assert kept.note.values == note.values
    assert [type(value) for value in kept.note.values.values()] == [Name, Message, int]
    inner = kept.note.values["form"]
    assert isinstance(inner, Message)
    assert inner.joins
    assert [type(part) for part in inner.values.values()] == [Message, Number, str]


@pytest.mark.parametrize("note", [{"text": "a"}, {"text": "a", "template": "{b}", "values": {}}, [1], None])
def test_a_note_that_is_none_is_not_taken(tmp_path: Path, note: object) -> None:
    store = Store(tmp_path)
    store.keep(ONE, SHEET)
    (path,) = (path for path in tmp_path.rglob("*") if path.is_file())
    whole = path.read_bytes()
    path.write_bytes(whole.replace(b'"note": "printed on A4"', f'"note": {json.dumps(note)}'.encode()))
    assert path.read_bytes() != whole
    assert store.get(ONE) is None


@pytest.mark.parametrize("at", [0, 10, -1, -5])
def test_a_piece_that_was_damaged_is_not_taken(tmp_path: Path, at: int) -> None:
    store = Store(tmp_path)
    store.keep(ONE, SHEET)
    (path,) = (path for path in tmp_path.rglob("*") if path.is_file())
    data = bytearray(path.read_bytes())
    data[at] ^= 0xFF
    path.write_bytes(data)
    assert store.get(ONE) is None


def test_a_piece_that_was_cut_off_is_not_taken(tmp_path: Path) -> None:
    store = Store(tmp_path)
    store.keep(ONE, SHEET)
    (path,) = (path for path in tmp_path.rglob("*") if path.is_file())
    whole = path.read_bytes()
    for length in range(len(whole)):
        path.write_bytes(whole[:length])
        assert store.get(ONE) is None


def test_what_has_not_been_used_for_longest_goes_first(tmp_path: Path) -> None:
    store = Store(tmp_path)
    sizes = {}
    for age, key in ((300, ONE), (200, OTHER), (100, THIRD)):
        store.keep(key, SHEET)
        path = tmp_path / ".rimfold" / key[:2] / key
        sizes[key] = path.stat().st_size
        os.utime(path, (1_000_000_000 - age, 1_000_000_000 - age))
    # Used again: now the second is the oldest.
    assert store.get(ONE) == SHEET
    store.limit = sizes[ONE] + sizes[THIRD]
    store.trim()
    assert [store.has(key) for key in (ONE, OTHER, THIRD)] == [True, False, True]


def test_a_store_that_may_not_be_written_is_no_failure(tmp_path: Path) -> None:
    (tmp_path / ".rimfold").write_text("a file in its place", encoding="utf-8")
    store = Store(tmp_path)
    store.keep(ONE, SHEET)
    assert store.get(ONE) is None
    store.trim()


def test_parts_that_meet_elsewhere_have_another_key() -> None:
    assert key_of(["ab", "c"]) != key_of(["a", "bc"])
    assert key_of(["a"]) != key_of(["a", ""])
    assert key_of(["a\0b"]) != key_of(["a", "b"])
