"""What things are called that the rooms before name in English: measures, results of tasks, and packing.

A catalogue has a key made from that name: ``measure-label.tape-width``, ``result.oriented-rings``,
``packing.box``. What it does not have, such as the result of a technique of one's own, keeps its own name.
"""

from __future__ import annotations

import re

from generator.measures.measure import Measure
from generator.sheets.wording import Catalogue


def key_of(kind: str, name: str) -> str:
    """The key for a name: lower case, hyphens for all that is no letter or digit."""
    return f"{kind}.{re.sub(r'[^a-z0-9]+', '-', name.lower()).strip('-')}"


def label_of(measure: Measure, words: Catalogue) -> str:
    """A measure's name on a page: its own sentence, or that of its label, or the label."""
    own = f"measure.{measure.id}"
    return words.say(own) if words.has(own) else _called("measure-label", measure.label, words)


def result(name: str, words: Catalogue) -> str:
    """What the result of a task is called."""
    return _called("result", name, words)


def packing(name: str, words: Catalogue) -> str:
    """What a part is called that no technique names, such as the box: the list of parts names it."""
    return _called("packing", name, words)


def _called(kind: str, name: str, words: Catalogue) -> str:
    key = key_of(kind, name)
    return words.say(key) if words.has(key) else name
