"""Recipes in bare facts, and small techniques, for the tests of the plan."""

from __future__ import annotations

from functools import cache
from typing import Any

from generator.plan.build import load_technique, plan_for
from generator.plan.facts import MINUTE_MEASURES
from generator.plan.model import Plan
from generator.plan.technique import Technique

PLAIN: dict[str, Any] = {
    "use": "pendant",
    "outline": "circle",
    "fitter": "top",
    "kiss_cut": True,
    "margins": True,
    "hem": False,
    "braid": False,
    "frays": "little",
    "direction": "any",
    "repeat": False,
    "people": 1,
    "hand": "right",
    "young": False,
    "own_cloth": False,
    "large": False,
    "lamp": True,
    "sharp": False,
    "taper": False,
    "relief": False,
    "cone": False,
    "fitter_ring": "circle",
    "plain_ring": "circle",
}
"""A plain round pendant."""

# craft.md's own numbers: round 350 × 220, p 1.112, three struts.
ROUND_350 = dict.fromkeys(MINUTE_MEASURES, 100.0) | {"panel_length": 1112.0, "struts": 3.0}


@cache
def rolled_edge() -> Technique:
    """The technique, read once."""
    return load_technique("rolled-edge")


def rolled(**changes: Any) -> Plan:
    """The plan of a rolled-edge shade, plain but for these facts."""
    rings = dict.fromkeys(("fitter_ring", "plain_ring"), changes.get("outline", PLAIN["outline"]))
    return plan_for(rolled_edge(), {**PLAIN, **rings, **changes}, ROUND_350)
