"""Techniques of this installation that were found sound when it was made, and what they ask of a recipe.

Judging a technique, ordering its tasks and looking up all their words takes longer than measuring a shade.
One that is ours was judged before it was given out, and planned for all kinds of recipes. What is in
``recipes/techniques/sound.json`` are the hashes of the file and of the English wording as they were then:
where both are still so, whoever wants measures alone need not plan. Anybody else's technique, and ours once
either is changed, is judged as ever. ``python -m tests.plan.sound`` writes the file anew, and
``tests/plan/test_sound.py`` tries the recipes.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

from generator.base.assets import data_folder
from generator.base.errors import Fault
from generator.base.message import Message, as_written
from generator.measures.measure import Measures
from generator.plan.expressions import Expression, parse
from generator.plan.facts import condition_kinds, condition_texts, facts_of
from generator.recipe.models import SizeRecipe

FILE = "sound.json"
TOLD = "faults.po"
"""The catalogue of what is wrong with a person's file: no technique needs it."""


@dataclass(frozen=True)
class Asked:
    """What a technique asks of a recipe, and what is told to one that does not say it."""

    key: str
    holds: Expression
    wrong: Message
    expected: Message
    fix: Message


def folder() -> Path:
    """Where the techniques of this installation are."""
    return data_folder("recipes") / "techniques"


def asks_of(name: str, times: str) -> tuple[Asked, ...] | None:
    """What a technique of ours asks, if it and the words are those that were found sound; else None.

    ``name`` and ``times`` are those of a recipe. None too where a form of times would have to be read.
    """
    path = folder() / f"{name}.yaml"
    if times not in ("", "none") or (not times and (folder().parent / "times" / path.name).exists()):
        return None
    try:
        known = json.loads((folder() / FILE).read_bytes())
        entry = known["techniques"].get(name)
        if entry is None or entry["sha256"] != _hash(path) or known["wording"] != wording_hash():
            return None
        return tuple(_asks(entry["asks"]))
    except (OSError, ValueError, LookupError, TypeError, AttributeError):
        # No such file, or not one of ours: then nothing is known to be sound.
        return None


def unmet(asks: Sequence[Asked], size: SizeRecipe, measures: Measures) -> list[Fault]:
    """Where a recipe does not say what is asked, each at its place; as ``build.contradictions`` has it."""
    facts = facts_of(size, measures) if asks else {}
    return [
        Fault(size.span(ask.key), ask.wrong, ask.expected, ask.fix)
        for ask in asks
        if not ask.holds.holds(facts)
    ]


def wording_hash() -> str:
    """The hash of all English catalogues that techniques take words from, names and bytes."""
    whole = sha256()
    for path in sorted((data_folder("templates") / "wording" / "en").glob("*.po")):
        if path.name != TOLD:
            whole.update(f"{path.name}\0{_hash(path)}\n".encode())
    return whole.hexdigest()


def _hash(path: Path) -> str:
    return sha256(path.read_bytes()).hexdigest()


def _asks(entries: Sequence[dict[str, str]]) -> Iterator[Asked]:
    for entry in entries:
        holds = parse(entry["holds"], "truth", condition_kinds(), condition_texts())
        wrong, expected, fix = (as_written(entry[part]) for part in ("wrong", "expected", "fix"))
        yield Asked(entry["key"], holds, wrong, expected, fix)
