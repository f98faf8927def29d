"""How much a bend stretches the panel."""

from __future__ import annotations

from generator.measures.measure import Measure
from generator.shape.say import plain

BEND = "outer fibre of a bent sheet, t/(2r + t) (Machinery's Handbook, bending, from memory)"


def bend_strain(thickness: float, radius: float, told: str) -> Measure:
    """Stretch at a bend of this radius (mm), ``told`` in the formula's words."""
    strain = thickness / (2 * radius + thickness) if thickness > 0 else 0.0
    return Measure(
        id="bend_strain",
        label="Stretch of the panel's outer face at the tightest bend",
        exact=strain,
        shown=round(strain, 4),
        unit="fraction",
        formula=f"panel {plain(thickness, 2)} / (2 × {told} + panel {plain(thickness, 2)})",
        source=BEND,
        inputs=("panel_thickness", "smallest radius of curvature"),
    )
