"""Marks of a tapered shade: places of the roll, the bends and the struts along each rim of the flat sheet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from generator.base.units import round_nearest
from generator.measures.measure import Measure
from generator.measures.practice import practice
from generator.shape.development import ENDS, End
from generator.shape.say import plain
from generator.shape.shade import Shade

MATCHED = "equal outward normals on both rims (own derivation; the project's notes on geometry)"
SAME = 1.0
"""Millimetres within which bends of both rings are one bend of the sheet."""


def taper_marks(shade: Shade, spacing: str) -> Iterator[Measure]:
    """Pauses and bends along both rims, struts along the fitter's. ``spacing`` tells how the struts stand."""
    yield from _both(
        shade,
        "quarters",
        "Pauses about each quarter of the roll",
        shade.pauses,
        "1/4, 2/4 and 3/4 of the way round, off the bends",
        practice("drift"),
    )
    bends = bend_places(shade)
    yield from _both(
        shade,
        "corner_stations",
        "Middles of the bends",
        bends,
        "where the sheet bends round a corner" if bends else "none: neither ring has corners",
        1.0,
    )
    end = shade.fitter_end
    struts = _along(shade, end, [strut.panel for strut in shade.struts])
    yield _marks(
        "strut_stations",
        f"Struts along the panel's {end} rim, from the start end",
        struts,
        f"{spacing}; along the fitter ring's rim: {', '.join(plain(value) for value in struts)}",
        1.0,
        (f"{end}_wrapped", "struts"),
    )


def bend_places(shade: Shade) -> tuple[float, ...]:
    """Panel coordinates of the middles of the corners of both rings, each place once, mm."""
    found: list[float] = []
    for end in ENDS:
        for station in shade.rim(end).stations():
            if station.kind == "corner":
                place = shade.on_panel(station.s, end)
                if all(abs(place - other) > SAME for other in found):
                    found.append(place)
    return tuple(sorted(found))


def _along(shade: Shade, end: End, places: Sequence[float]) -> tuple[float, ...]:
    assert shade.development is not None
    return tuple(shade.development.rim_place(end, x) for x in places)


def _both(
    shade: Shade, id_: str, label: str, places: Sequence[float], words: str, tolerance: float
) -> Iterator[Measure]:
    """The same places along the wide rim under the id itself, and along each rim under its name."""
    wide = shade.wide_end
    for name, end, where in (
        (id_, wide, "wide"),
        *((f"{end}_{id_}", end, end) for end in ENDS),
    ):
        values = _along(shade, end, places)
        yield _marks(
            name,
            f"{label} along the panel's {where} rim, from the start end",
            values,
            f"{words}: {', '.join(plain(value) for value in values)}" if values else words,
            tolerance,
            (f"{end}_wrapped",),
        )


def _marks(
    id_: str, label: str, values: tuple[float, ...], formula: str, tolerance: float, inputs: tuple[str, ...]
) -> Measure:
    shown = tuple(round_nearest(value) for value in values)
    return Measure(id_, label, values, shown, "mm", formula, MATCHED, tolerance, inputs)
