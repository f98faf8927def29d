"""Values computed elsewhere, two ways each, with their sources: ``values.json`` beside this file."""

from __future__ import annotations

import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from generator.base.registry import load_kind
from generator.shape.outline import Outline


@dataclass(frozen=True)
class Published:
    """One value, with what it is of and where it comes from."""

    id: str
    shape: str
    params: dict[str, Any]
    quantity: str
    value: Any
    source: str


def load() -> tuple[Published, ...]:
    """All values, in the file's order."""
    entries = json.loads((Path(__file__).parent / "values.json").read_text(encoding="utf-8"))
    return tuple(
        Published(e["id"], e["shape"], e["params_mm"], e["quantity"], e["value"], e["source"])
        for e in entries
    )


VALUES = load()


def chosen(prefix: str, quantity: str = "") -> list[Published]:
    """Values whose id begins and whose quantity begins so."""
    return [v for v in VALUES if v.id.startswith(prefix) and v.quantity.startswith(quantity)]


def outline_of(published: Published) -> Outline:
    """The program's outline for the value's shape and parameters."""
    p = published.params
    if published.shape == "ellipse":
        name, dimensions = "ellipse", {"length": p["A"], "width": p["B"]}
    elif published.shape.startswith("regular"):
        name = "polygon"
        dimensions = {"sides": p["n"], "across_flats": p["AF"], "corner_radius": p["r"]}
    elif published.shape == "stadium":
        name, dimensions = "stadium", {"length": p["L"], "width": p["W"]}
    elif published.shape == "rounded square":
        name, dimensions = "square", {"side": p["W"], "corner_radius": p["r"]}
    elif published.shape == "rounded rectangle":
        name = "rectangle"
        dimensions = {"length": p["W"], "width": p["D"], "corner_radius": p["r"]}
    elif published.shape == "circle":
        # Offsets of circles carry their diameter in the id alone: S-C150-d0.35.
        diameter = p["d"] if published.id[0] != "S" else float(published.id.split("-")[1][1:])
        name, dimensions = "circle", {"diameter": diameter}
    else:
        raise ValueError(published.shape)
    outline: Outline = load_kind("generator.shape.outlines", name).make(dimensions)
    return outline
