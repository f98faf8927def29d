"""The room's way through for what is read, not printed: HTML in, a proved page and a plain text out."""

from __future__ import annotations

from dataclasses import dataclass

from generator.base.errors import PageFault
from generator.base.message import message
from generator.press import proof
from generator.press.advice import REPORT
from generator.press.checks.numbers import untraceable_numbers
from generator.press.plain_text import plain_text
from generator.press.wish import Wish


@dataclass(frozen=True, slots=True)
class Texts:
    """A document of words alone that passed its proof."""

    html: str
    text: str
    """72 columns wide."""


def write(html: str, wish: Wish) -> Texts:
    """Turn a page into plain text too, and ask where each number comes from.

    Raises ProofError for a number that ``wish`` does not have, ValueError for a page that is not well-formed.
    """
    text = plain_text(html)
    if wish.numbers is not None:
        proof.refuse_if_any(
            [
                PageFault(
                    message("the number {number} of the text comes from no measure", number=number),
                    REPORT,
                    rule="numbers",
                )
                for number in untraceable_numbers(text, wish.numbers)
            ]
        )
    return Texts(html, text)
