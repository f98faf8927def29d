"""Relief cuts of a tapered shade: where the turned margin has too much cloth, or too little."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate, pairwise

from generator.base.units import round_nearest
from generator.measures.measure import COMMON_PRACTICE, Measure
from generator.measures.practice import practice
from generator.shape.development import ENDS, Development, End
from generator.shape.outline import Outline
from generator.shape.say import plain
from generator.shape.shade import Shade

MISFIT = "curves m outside and m inside a rim differ by 2 × m × angle turned (Steiner; do Carmo, from memory)"
TURNED = 1e-9
"""Radians under which a part of the sheet counts as plane."""
NEAR = 1e-6
"""Millimetres within which two places are one."""
_STEPS = 24
EASES = 1.0
"""Millimetres of misfit once round that the cloth takes up without a cut. Common practice, no source."""


@dataclass(frozen=True, slots=True)
class Bent:
    """A stretch of the flat sheet between two plane sides: where it is bent, and how far it turns there."""

    places: tuple[float, ...]
    """Panel coordinates on the way, mm."""
    turned: tuple[float, ...]
    """Angle turned up to each of them, whichever way, radians."""


@dataclass(frozen=True, slots=True)
class Cut:
    """A relief cut, by the place along its rim from the start end; ``meant`` is where it would lie best."""

    place: float
    meant: float


@dataclass(frozen=True, slots=True)
class Reliefs:
    """Cuts of both rims: as many in one as in the other."""

    misfit: float
    """Surplus of cloth at the rim whose curve is hollow, shortage at the other, mm."""
    bottom: tuple[Cut, ...]
    top: tuple[Cut, ...]

    def at(self, end: End) -> tuple[Cut, ...]:
        """The cuts of one rim."""
        return self.bottom if end == "bottom" else self.top


def reliefs_of(shade: Shade) -> Reliefs:
    """Relief cuts of a tapered shade: none where nothing is turned in. Each of its panels has the same."""
    panel = shade.one_panel
    if panel.development is None or shade.margin == 0:
        return Reliefs(0.0, (), ())
    bends = _bends(panel.development)
    misfit = shade.panels * 2 * shade.margin * math.fsum(bend.turned[-1] for bend in bends)
    if misfit < EASES:
        return Reliefs(misfit, (), ())
    step, own = panel.wrapped_length, [x for bend in bends for x in _shares(panel, bend)]
    places = [k * step + x for k in range(shade.panels) for x in own]
    bottom, top = (tuple(_cleared(shade, end, places)) for end in ENDS)
    return Reliefs(misfit, bottom, top)


@lru_cache(maxsize=64)
def _bends(development: Development) -> tuple[Bent, ...]:
    """Stretches that turn, each with all that joins it without a plane side between."""
    breaks = (*development.breaks(), development.length)
    found: list[list[float]] = []
    for start, stop in pairwise(breaks):
        places = [start + (stop - start) * k / _STEPS for k in range(_STEPS + 1)]
        if _turned(development, places)[-1] < TURNED:
            continue
        if found and math.isclose(found[-1][-1], start, abs_tol=1e-6):
            found[-1].extend(places[1:])
        else:
            found.append(places)
    return tuple(Bent(tuple(places), _turned(development, places)) for places in found)


def _turned(development: Development, places: Sequence[float]) -> tuple[float, ...]:
    """Angle turned from the first of some panel coordinates to each of them, whichever way."""
    taus = [development.generator(x).tau for x in places]
    return tuple(accumulate((abs(b - a) for a, b in pairwise(taus)), initial=0.0))


def _shares(shade: Shade, bend: Bent) -> Iterator[float]:
    """Panel coordinates of a bend's cuts, at the middles of equal shares of its turning."""
    development = shade.development
    assert development is not None
    turns = bend.turned[-1]
    wanted = math.ceil(2 * shade.margin * turns / practice("relief_limit") - 1e-9)
    first, last = bend.places[0], bend.places[-1]
    length = min(development.rim_place(end, last) - development.rim_place(end, first) for end in ENDS)
    # Two cuts keep as far from each other as both may have to move off a strut or the seam.
    count = max(1, min(wanted, math.floor(length / (2 * practice("relief_clear")) + 1e-9)))
    for k in range(count):
        yield _at_share(development, bend, turns * (k + 0.5) / count)


def _at_share(development: Development, bend: Bent, wanted: float) -> float:
    """Panel coordinate at which a bend has turned so far; between two of its places it turns one way."""
    index = min(bisect_right(bend.turned, wanted), len(bend.places) - 1)
    low, high = bend.places[index - 1], bend.places[index]
    begun = development.generator(low).tau
    miss_low, miss_high = bend.turned[index - 1] - wanted, bend.turned[index] - wanted
    # False position, with bisection where it creeps: the angle grows almost evenly over so short a way.
    for step in range(60):
        if high - low < NEAR:
            break
        share = 0.5 if step % 4 == 3 else -miss_low / (miss_high - miss_low)
        x = low + (high - low) * share
        miss = bend.turned[index - 1] + abs(development.generator(x).tau - begun) - wanted
        if abs(miss) < TURNED:
            return x
        if miss < 0:
            low, miss_low = x, miss
        else:
            high, miss_high = x, miss
    return (low + high) / 2


def _cleared(shade: Shade, end: End, places: list[float]) -> Iterator[Cut]:
    """Cuts along one rim, moved off the overlaps and, on the fitter ring, off the slits at the struts."""
    development = shade.development
    assert development is not None
    clear, length = practice("relief_clear"), shade.rim_length(end)
    spots = (
        [development.rim_place(end, strut.panel) for strut in shade.struts] if end == shade.fitter_end else []
    )
    step = length / shade.panels
    for x in places:
        meant = development.rim_place(end, x)
        begin = step * math.floor(meant / step)
        first, last = begin + shade.overlap + clear, begin + step - clear
        ways = [min(max(meant, first), last), *(spot + off for spot in spots for off in (-clear, clear))]
        free = [
            way
            for way in ways
            if first <= way <= last and all(abs(way - spot) >= clear - NEAR for spot in spots)
        ]
        # On a ring too small for all of them the seam counts for more than a strut.
        yield Cut(min(free, key=lambda way: abs(way - meant), default=ways[0]), meant)


def relief_measures(shade: Shade) -> Iterator[Measure]:
    """How many, where along each rim, how deep, and the misfit that they share out."""
    if shade.development is None or not shade.margin:
        return
    found = reliefs_of(shade)
    limit, stop = practice("relief_limit"), practice("slit_stop")
    turned = plain(found.misfit / (2 * shade.margin), 3)
    yield Measure(
        id="relief_misfit",
        label="Turned margin too long at the wide rim, too short at the narrow",
        exact=found.misfit,
        shown=round_nearest(found.misfit),
        unit="mm",
        formula=f"2 × margin {plain(shade.margin)} × angle turned {turned} (radians)",
        source=MISFIT,
        inputs=("margin", "sweep"),
    )
    if not found.bottom:
        return
    count = float(len(found.bottom))
    yield Measure(
        id="relief_cuts",
        label="Relief cuts in the turned margin, each rim",
        exact=count,
        shown=count,
        unit="count",
        formula=f"misfit {plain(found.misfit)} / {plain(limit)} a cut, rounded up in each bend, "
        "as many as have room",
        source=COMMON_PRACTICE,
        inputs=("relief_misfit", "relief_limit"),
    )
    for end in ENDS:
        yield _stations(shade, end, found.at(end))
        apart = shade.rim_length(end) / count
        yield Measure(
            id=f"{end}_relief_step",
            label=f"Relief cuts along the {end} rim, apart, about",
            exact=apart,
            shown=round_nearest(apart),
            unit="mm",
            formula=f"once round {plain(shade.rim_length(end))} / {plain(count)} cuts",
            source="arithmetic",
            tolerance=practice("relief_clear"),
            inputs=(f"{end}_wrapped", "relief_cuts"),
        )
    yield Measure(
        id="relief_depth",
        label="Relief cut, depth from the raw edge",
        exact=shade.margin - stop,
        shown=round_nearest(shade.margin, 0.5) - stop,
        unit="mm",
        formula=f"margin {plain(shade.margin)} − {plain(stop)}",
        source=COMMON_PRACTICE,
        tolerance=practice("margin_tolerance"),
        inputs=("margin", "slit_stop"),
    )


def _stations(shade: Shade, end: End, cuts: tuple[Cut, ...]) -> Measure:
    values = tuple(cut.place for cut in cuts)
    moved = [cut for cut in cuts if abs(cut.place - cut.meant) > 0.05]
    words = "equal shares of the angle that the sheet turns"
    if moved:
        off = "the seam" if shade.panels == 1 else "the seam, a joint"
        off += " or a strut" if end == shade.fitter_end else ""
        words += f"; moved off {off}: " + ", ".join(
            f"{plain(cut.meant)} to {plain(cut.place)}" for cut in moved
        )
    return Measure(
        id=f"{end}_reliefs",
        label=f"Relief cuts along the {end} rim, from the start end",
        exact=values,
        shown=tuple(round_nearest(value) for value in values),
        unit="mm",
        formula=words,
        source=COMMON_PRACTICE,
        tolerance=2.0,
        inputs=("relief_cuts", "relief_clear", f"{end}_wrapped"),
    )


def sharp_bends(outline: Outline, margin: float) -> int:
    """Corners of a ring that are tighter than the margin is wide. A bend as long as half the ring is an
    oval's end, not a corner."""
    corners = [station for station in outline.stations() if station.kind == "corner"]
    return len(corners) if len(corners) > 2 and outline.smallest_radius < margin else 0
