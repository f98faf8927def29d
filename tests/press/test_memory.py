"""A process that prints page after page does not grow."""

from __future__ import annotations

import gc
import subprocess
import sys
from pathlib import Path

import pytest

from generator.press import engine
from tests.press.pages import GOOD_FIGURES, GOOD_PAGE

ROOT = Path(__file__).resolve().parents[2]
MOST = 1.5
"""MB that thirty pages may add. With fonts of their own they added 6."""


def resident() -> float:
    """MB of memory that this process has."""
    pages = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[1])
    return pages * 4096 / 2**20


def grown() -> float:
    """MB that thirty pages add, after ten that do not count."""
    for _ in range(10):
        engine.lay_out(GOOD_PAGE, GOOD_FIGURES)
        gc.collect()
    before = resident()
    for _ in range(30):
        engine.lay_out(GOOD_PAGE, GOOD_FIGURES)
        gc.collect()
    return resident() - before


@pytest.mark.skipif(not Path("/proc/self/statm").exists(), reason="the system does not tell")
def test_thirty_pages_take_no_more_memory_than_ten() -> None:
    # In a process of its own: what other tests have left does not count.
    code = "from tests.press.test_memory import grown; print(grown())"
    answer = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=True, timeout=300
    )
    assert float(answer.stdout) < MOST


def test_fonts_that_were_kept_print_the_same_again() -> None:
    assert engine.render(GOOD_PAGE, GOOD_FIGURES) == engine.render(GOOD_PAGE, GOOD_FIGURES)
