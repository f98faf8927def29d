"""Kinds are found by file name."""

from __future__ import annotations

import pytest

from generator.base.registry import kinds, load_kind


def test_each_outline_is_found_by_its_file_name() -> None:
    found = kinds("generator.shape.outlines")
    assert {"circle", "ellipse", "stadium", "rectangle", "square", "polygon"} <= set(found)
    assert found["circle"] == "generator.shape.outlines.circle"


def test_kinds_stand_in_alphabetical_order_and_hide_private_files() -> None:
    found = kinds("generator.shape.outlines")
    assert list(found) == sorted(found)
    assert not any(name.startswith(("-", "_")) for name in found)


def test_a_kind_is_loaded_as_its_module() -> None:
    module = load_kind("generator.shape.outlines", "circle")
    assert module.KEYS.lengths == ("diameter",)


def test_an_unknown_kind_is_a_key_error() -> None:
    with pytest.raises(KeyError):
        load_kind("generator.shape.outlines", "banana")
