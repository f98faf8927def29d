"""Tape on reels: how much is wound on one, how thick it is then, and reels for pieces cut whole.

A wound tape fills a ring: its length times its thickness with its liner is the ring's area (own derivation;
``tests/cutting/test_reels.py`` has it turn by turn).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from generator.base.errors import CuttingError
from generator.base.message import message
from generator.cutting.model import Rolls, Strip
from generator.cutting.rolls import cut_rolls
from generator.shape.say import plain


@dataclass(frozen=True, slots=True)
class Reel:
    """A full reel as it is bought, mm."""

    length: float
    core: float
    """Diameter of the core."""
    outer: float
    """Diameter over all its tape."""

    def __post_init__(self) -> None:
        if not 0 < self.core < self.outer or self.length <= 0:
            raise CuttingError(
                message(
                    "a reel of {length} mm with a core of {core} mm and {outer} mm across holds no tape",
                    length=plain(self.length),
                    core=plain(self.core),
                    outer=plain(self.outer),
                ),
                message("a core that is the smaller diameter"),
            )

    @property
    def thickness(self) -> float:
        """What one turn adds, its liner with it, as the full reel tells it, mm."""
        return math.pi * (self.outer**2 - self.core**2) / (4 * self.length)

    def left(self, across: float) -> float:
        """Tape on a reel that is ``across`` mm over its tape now."""
        return tape_left(across, self.core, self.thickness)

    def across(self, left: float) -> float:
        """How large a reel is over its tape with ``left`` mm on it."""
        return math.sqrt(self.core**2 + 4 * left * self.thickness / math.pi)


def tape_left(across: float, core: float, thickness: float) -> float:
    """Length of tape, mm, wound on a core: π(across² − core²) / (4 · thickness)."""
    return math.pi * (across**2 - core**2) / (4 * thickness)


def cut_reels(pieces: Sequence[Strip], length: float) -> Rolls:
    """The fewest reels of ``length`` mm for pieces of tape, each cut whole: none is joined from two.

    A ring's tape that ends within its way round would leave a second gap. Raises CuttingError for a piece
    longer than a reel.
    """
    return cut_rolls(pieces, length)
