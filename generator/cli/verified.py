"""What ``verify`` found, in words or as JSON."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Sequence

import click

from generator.record.verify import State, Verified

NOT_AS_MADE = 3
"""Exit code where a file is not as it was made, or would be made otherwise today."""

_WORDS: dict[State, str] = {"stale": "out of date", "changed": "changed", "missing": "missing"}


def in_words(found: Sequence[Verified]) -> int:
    """Print a line for each file that is not good, then one for each folder. Returns the exit code."""
    for one in found:
        for verdict in one.files:
            if verdict.state != "good":
                click.echo(f"{verdict.path}: {_WORDS[verdict.state]}: {'; '.join(verdict.reasons)}")
        for path in one.others:
            click.echo(f"{path}: not from this recipe, left alone")
        click.echo(_summary(one))
    return _code(found)


def as_json(found: Sequence[Verified]) -> int:
    """Print the same as JSON. Returns the exit code."""
    told = {
        str(one.folder): {
            "good": one.good,
            "recipe": one.recipe,
            "files": {
                str(verdict.path.relative_to(one.folder)): {
                    "state": verdict.state,
                    "reasons": list(verdict.reasons),
                }
                for verdict in one.files
            },
            "others": [str(path.relative_to(one.folder)) for path in one.others],
        }
        for one in found
    }
    click.echo(json.dumps({"good": _code(found) == 0, "folders": told}, indent=2, ensure_ascii=False))
    return _code(found)


def _code(found: Sequence[Verified]) -> int:
    return 0 if all(one.good for one in found) else NOT_AS_MADE


def _summary(one: Verified) -> str:
    states = Counter(verdict.state for verdict in one.files)
    if one.good:
        return f"{one.folder}: all {len(one.files)} files are as they were made, and up to date"
    parts = [f"{states[state]} {words}" for state, words in _WORDS.items() if states[state]]
    again = f"; to renew them: rimfold make {one.recipe} --out {one.folder.parent}" if one.recipe else ""
    return f"{one.folder}: {', '.join(parts)} of {len(one.files)} files{again}"
