"""The settings at the top of a document's template: lines ``key: value`` in a comment, variants for forms."""

from __future__ import annotations

import re

from generator.base.edition import PAPERS, Form, PaperName

DEFAULT_PAPER: PaperName = "A4"
_SETTINGS = re.compile(r"\A\{#-?(.*?)-?#\}", re.DOTALL)


def settings_of(text: str, form: Form) -> dict[str, tuple[frozenset[str], str]]:
    """The settings at the top of a template, with the conditions that each was chosen by.

    Of variants the one with the most conditions that all hold, of equals the last.

    ``room@a5`` counts on A5, ``slots@a4+large-print`` for large print on A4.
    """
    found = _SETTINGS.match(text)
    lines = found[1].splitlines() if found else []
    best: dict[str, tuple[frozenset[str], str]] = {}
    for line in lines:
        name, mark, value = line.partition(":")
        key, _, conditions = name.strip().partition("@")
        needed = frozenset(conditions.split("+")) if conditions else frozenset()
        if mark and needed <= form.tokens and len(needed) >= len(best[key][0] if key in best else ()):
            best[key] = (needed, value.strip())
    return best


def room(setting: tuple[frozenset[str], str], papers: str, form: Form) -> float:
    """Height for blocks: as it is stated for this paper, or that of A4 and what the paper is higher by."""
    conditions, height = setting
    stated = papers == "own" or form.paper.lower() in conditions
    return float(height) + (0.0 if stated else form.sheet.height - PAPERS[DEFAULT_PAPER].height)


def listed(text: str) -> tuple[str, ...]:
    """The names in a setting, parted by commas."""
    return tuple(part.strip() for part in text.split(",") if part.strip())


def yes(text: str) -> bool:
    """A setting that is ``yes`` or ``no``. Raises KeyError for anything else."""
    return {"yes": True, "no": False}[text]
