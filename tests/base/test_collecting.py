"""No search for lost objects while a document is made, and again afterwards."""

from __future__ import annotations

import gc

import pytest

from generator.base.collecting import collected_later


def test_nothing_is_collected_meanwhile_and_afterwards_as_before() -> None:
    assert gc.isenabled()
    with collected_later():
        with collected_later():
            assert not gc.isenabled()
        assert not gc.isenabled()
    assert gc.isenabled()


def test_a_failure_leaves_it_as_it_was() -> None:
    with pytest.raises(ValueError, match="no page"), collected_later():
        raise ValueError("no page")
    assert gc.isenabled()


def test_where_it_was_off_it_stays_off() -> None:
    gc.disable()
    try:
        with collected_later():
            pass
        assert not gc.isenabled()
    finally:
        gc.enable()
