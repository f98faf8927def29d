"""Actual times of a workshop: a form is read, fitted by least squares, and takes the place of estimates.

For each task the minutes are fitted as a + b·(practised) + c·p + d·n, p the panel's length in m and n the
number of struts. A term is taken only if the form can tell it from the others and a shade more is left over,
so that there is a spread: the standard deviation of what the fit leaves (Gauss; any textbook of regression,
from memory). A pace counts as measured only if the form has times of that pace.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from generator.base.assets import data_folder
from generator.base.errors import Fault, TechniqueError, nearest
from generator.base.message import Number, joined, message
from generator.base.spans import Span
from generator.plan.fields import Faults, Fields, open_list
from generator.plan.technique import Technique
from generator.recipe import nodes
from generator.recipe.beside import find_file

SKILLS = ("first-time", "practised")
SHADE_LIMIT = 1000
_MOST_MINUTES = 1000.0
_NONE = "none"


@dataclass(frozen=True, slots=True)
class Shade:
    """What one shade took."""

    p: float
    n: float
    practised: bool
    minutes: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Fit:
    """A task's fitted minutes, and how far a shade lies off them (standard deviation, minutes)."""

    terms: tuple[float, float, float, float]
    spread: float
    paces: frozenset[bool]
    """Whether it was measured practised, first time, or both."""

    def minutes(self, p: float, n: float, practised: bool) -> float | None:
        """Minutes of a shade, or None if the form has none of that pace, or gives no time above zero."""
        if practised not in self.paces:
            return None
        found = sum(c * x for c, x in zip(self.terms, (1.0, float(practised), p, n), strict=True))
        return found if found > 0 else None


@dataclass(frozen=True)
class Times:
    """A checked form, fitted."""

    workroom: str
    shades: int
    fits: Mapping[str, Fit]
    """By task, for those with times of two shades or more."""
    digest: str


def load_times(
    written: str, technique: Technique, beside: Path | None = None, asked: Span | None = None
) -> Times | None:
    """The times that a recipe asks for; none asked for: those in ``recipes/times`` with the technique's name.

    ``written`` may be ``none``: estimates then. Raises TechniqueError with all faults of the form.
    """
    if written == _NONE:
        return None
    if not written:
        path: Path | Fault = data_folder("recipes") / "times" / f"{technique.name}.yaml"
        if isinstance(path, Path) and not path.is_file():
            return None
    else:
        path = find_file(
            written, "times", message("form of times"), beside or Path(), asked or Span(written, 1, 1)
        )
    if isinstance(path, Fault):
        raise TechniqueError([path])
    return read_times(path, technique)


def read_times(path: Path, technique: Technique) -> Times:
    """Read, check and fit one form. Raises TechniqueError."""
    document, top = open_list(path, message("a form of times"), "times", message("a sample"), TechniqueError)
    faults = top.faults
    named, workroom = top.one("technique"), top.text("workroom")
    if named is None or workroom is None:
        top.missing("technique" if named is None else "workroom")
    elif named.name != technique.name:
        wrong = message(
            "these are times of {name}, and the recipe is made by {technique}",
            name=named.name,
            technique=technique.name,
        )
        faults.add(
            named.span,
            wrong,
            joined([f"technique: {technique.name}"]),
            message("use a form of that technique"),
        )
    shades = _shades(top, technique, faults)
    top.finish()
    if faults.found:
        raise TechniqueError(faults.found)
    return Times(workroom or "", len(shades), fitted(shades), document.digest)


def _shades(top: Fields, technique: Technique, faults: Faults) -> list[Shade]:
    node = top.node("shades")
    if not isinstance(node, nodes.Sequence):
        span = node.span if node else top.span
        faults.add(
            span,
            message("there is no list of shades"),
            message("shades: and a list"),
            message("add one entry a shade"),
        )
        return []
    found = [_shade(item, technique, faults) for item in node.items[:SHADE_LIMIT]]
    return [shade for shade in found if shade is not None]


def _shade(node: nodes.Node, technique: Technique, faults: Faults) -> Shade | None:
    fields = Fields(node, message("a shade"), faults)
    fields.text("shade")
    p, n = _number(fields, "p", 0.05, 10.0), _number(fields, "n", 0.0, 40.0)
    skill = fields.choice("skill", SKILLS)
    if skill is None:
        fields.missing("skill")
    inner = Fields(fields.node("minutes") or nodes.Hole(node.span), message("minutes"), faults)
    known = {task.id for task in technique.tasks}
    minutes = {}
    for key, entry in inner.entries.items():
        if key not in known:
            close = nearest(key, sorted(known))
            fix = (
                message("did you mean {text}?", text=close)
                if close
                else message("write a task of the technique")
            )
            faults.add(
                entry.key_span,
                message("there is no task {key}", key=key[:40]),
                message("a task of {name}", name=technique.name),
                fix,
            )
            continue
        value = _number(inner, key, 0.0, _MOST_MINUTES)
        if value is not None:
            minutes[key] = value
    fields.finish()
    if not minutes and not isinstance(fields.node("minutes"), nodes.Mapping):
        fields.missing("minutes")
    return None if p is None or n is None else Shade(p, n, skill == SKILLS[1], minutes)


def _number(fields: Fields, key: str, least: float, most: float) -> float | None:
    text = fields.text(key)
    if text is None:
        fields.missing(key)
        return None
    try:
        value = float(text)
    except ValueError:
        value = math.nan
    if not least <= value <= most:
        span = fields.entries[key].node.span
        wrong = message("{key} cannot be {text}", key=key, text=text[:20])
        bounds = message(
            "a number from {least} to {most}, without a unit",
            least=Number(f"{least:g}"),
            most=Number(f"{most:g}"),
        )
        fields.faults.add(span, wrong, bounds, message("write minutes as 4.5, p in metres, n as a count"))
        return None
    return value


def fitted(shades: Sequence[Shade]) -> dict[str, Fit]:
    """Each task's fit."""
    tasks = dict.fromkeys(task for shade in shades for task in shade.minutes)
    found = {}
    for task in tasks:
        timed = [shade for shade in shades if task in shade.minutes]
        if len(timed) >= 2:
            found[task] = _fit(timed, [shade.minutes[task] for shade in timed])
    return found


def _fit(shades: Sequence[Shade], minutes: Sequence[float]) -> Fit:
    import numpy as np

    columns = np.array([[1.0, float(s.practised), s.p, s.n] for s in shades])
    taken = [0]
    for column in (1, 2, 3):
        trial = [*taken, column]
        if len(shades) > len(trial) and np.linalg.matrix_rank(columns[:, trial], tol=1e-6) == len(trial):
            taken = trial
    actual = np.array(minutes)
    solved, *_ = np.linalg.lstsq(columns[:, taken], actual, rcond=None)
    left = actual - columns[:, taken] @ solved
    spread = math.sqrt(float(left @ left) / (len(shades) - len(taken)))
    terms = [0.0] * 4
    for column, value in zip(taken, solved, strict=True):
        terms[column] = float(value)
    return Fit((terms[0], terms[1], terms[2], terms[3]), spread, frozenset(s.practised for s in shades))
