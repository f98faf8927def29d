"""Work that is given to other processes: all of it comes back, and no process grows old."""

from __future__ import annotations

import os

import pytest

from generator import hands
from generator.hands import Processes


def whose(number: int) -> tuple[int, int]:
    """What was given, and by which process it was done."""
    return number, os.getpid()


def test_new_processes_take_over_before_the_old_ones_have_grown(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(hands, "ENOUGH", 3)
    with Processes(2) as several:
        later = [several.give("", whose, number) for number in range(20)]
        done = [each.result() for each in later]
    assert [number for number, _ in done] == list(range(20))
    by_process = [sum(other == process for _, other in done) for process in {process for _, process in done}]
    # One of a pair may do the other's share too.
    assert max(by_process) <= 6
    assert len(by_process) >= 4
    assert os.getpid() not in {process for _, process in done}


def test_whoever_stops_early_waits_for_nothing_that_was_not_begun(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(hands, "ENOUGH", 2)
    with Processes(1) as several:
        first = several.give("", whose, 0)
        for number in range(1, 9):
            several.give("", whose, number)
        assert first.result()[0] == 0
