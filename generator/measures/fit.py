"""What a remnant of cloth makes: whether a size comes out of it, and the largest shade of its shape."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from generator.base.errors import Fault, GeometryError
from generator.measures.blank import cloth_box, endless
from generator.measures.build import measure
from generator.measures.cloth import cloth_cut, cloth_layout
from generator.measures.judge import JUDGES
from generator.measures.judge_cloth import judge_cloth
from generator.measures.judge_remnant import judge_remnant
from generator.measures.judge_taper import judge_taper_cloth
from generator.measures.laying import Cut, Layout
from generator.measures.scaling import cut_anew, leading_size, lengths_of, scaled
from generator.recipe.lengths import LARGEST, SMALLEST_SIZE
from generator.recipe.models import SizeRecipe
from generator.shape.build import build_shade
from generator.shape.panels import MOST_PANELS
from generator.shape.shade import Shade

OF_CLOTH = (judge_cloth, judge_taper_cloth, judge_remnant)
FINE = 0.5
"""The leading size is narrowed down to this before whole mm are tried, mm."""


@dataclass(frozen=True, slots=True)
class Remnant:
    """A rectangle of cloth, mm: its width between the selvedges, its length along them."""

    width: float
    length: float
    one_way: bool = False
    """Its print has an up, which runs along the length. Otherwise the recipe's cloth says so, or does not."""


@dataclass(frozen=True, slots=True)
class OnCloth:
    """A size that can be made, on a remnant."""

    size: SizeRecipe
    """With the remnant as its cloth."""
    cut: Cut
    """Each piece to cut, mm."""
    pieces: int
    layout: Layout | None
    """None: they do not come out of the remnant."""
    turned: float
    """How far the blank of a taper is turned in its piece, degrees off upright; 0 of a straight shade."""

    @property
    def spare(self) -> tuple[float, float]:
        """What is left beside the pieces, across the remnant and along it, mm."""
        assert self.layout is not None
        covering = self.size.covering
        return covering.width - self.layout.width, (covering.length or math.inf) - self.layout.length


@dataclass(frozen=True, slots=True)
class Largest:
    """The largest shade of a shape that comes out of a remnant."""

    best: OnCloth | None
    """None: no such shade comes out of it that can be made."""
    refused: OnCloth | None = None
    """A larger one that comes out of it, but cannot be made."""
    faults: tuple[Fault, ...] = ()
    """Why not."""


@dataclass(frozen=True, slots=True)
class Fit:
    """One size of a recipe and a remnant."""

    size: SizeRecipe
    as_it_is: OnCloth | None
    """None: the size cannot be made at all."""
    faults: tuple[Fault, ...]
    """Why it cannot be made, the cloth apart."""
    largest: Largest
    """In the same proportions."""
    same_height: Largest
    """With the height (or the slant) that the recipe states."""


def fit(size: SizeRecipe, remnant: Remnant) -> Fit:
    """Lay a size on a remnant, and find the largest of its shape that comes out. Raises nothing."""
    cloth = {"width": remnant.width, "length": remnant.length}
    direction = {"direction": "one-way"} if remnant.one_way else {}
    covering = size.covering.model_copy(update={**cloth, **direction})
    size = size.model_copy(update={"covering": covering})
    faults = refusals(size)
    return Fit(
        size,
        None if faults else on_cloth(size),
        faults,
        largest(size),
        largest(size, height=False),
    )


def refusals(size: SizeRecipe) -> tuple[Fault, ...]:
    """Why a size cannot be made, whatever its cloth."""
    try:
        shade = build_shade(size)
    except GeometryError as error:
        return error.faults
    measures = measure(endless(size), shade)
    found = (one for judge in JUDGES if judge not in OF_CLOTH for one in judge(size, shade, measures))
    return tuple(one for one in found if isinstance(one, Fault))


def on_cloth(size: SizeRecipe) -> OnCloth:
    """A size on its cloth. Raises GeometryError for what is no shape."""
    shade = build_shade(size)
    turned, panel = 0.0, shade.one_panel.development
    if panel is not None:
        upright = panel.generator(panel.length / 2).tau
        off = math.degrees(cloth_box(size, shade).angle - upright)
        turned = (off + 90.0) % 180.0 - 90.0
    return OnCloth(size, cloth_cut(size, shade), shade.panels, cloth_layout(size, shade), turned)


def largest(size: SizeRecipe, *, height: bool = True) -> Largest:
    """The largest shade of a size's shape, its leading size on whole mm, that its cloth makes.

    ``height``: the height grows and shrinks with the rings. As long as a shade takes as many panels its blank
    grows with it, so halving finds where it no longer comes out of the cloth; whole mm round that place are
    then tried one by one, since each length is rounded down by itself. Fewer panels make a smaller shade:
    they are tried where no shade of more comes out. A panel that comes cut fits one size alone, so it is
    left out.
    """
    size = cut_anew(size)
    now = leading_size(size)
    greatest = LARGEST * now / max(lengths_of(size)) if height else LARGEST

    def at(value: float, *, whole: bool = False) -> SizeRecipe:
        return scaled(size, value / now, whole=whole, height=height)

    def takes(most: int, value: float) -> bool:
        shade = _made(at(value))
        return shade is not None and shade.panels <= most

    def within(value: float) -> bool:
        """Whether the side alone, without slack or margins, is no larger than the cloth."""
        shade = _made(_on_any_sheet(at(value)))
        return shade is not None and _side(shade) <= size.covering.width * (size.covering.length or math.inf)

    # A mm off the smallest length that is rounded with it moves the leading size by so much.
    reach = math.ceil(now / min(lengths_of(size))) + 2
    high = _last(0.0, greatest, now, within)
    refused: OnCloth | None = None
    why: tuple[Fault, ...] = ()
    for count in range(MOST_PANELS, 0, -1):
        if takes(count - 1, high):
            continue
        high = _last(0.0, high, now, partial(takes, count))
        low = _last(0.0, high, now, partial(takes, count - 1)) if count > 1 else 0.0
        # The smallest shade of so many panels may be too large already: then only rounding can save it.
        place = low + FINE
        if low == 0 or comes_out(at(place)):
            place = _last(place, high, now, lambda value: comes_out(at(value)))
        for value in range(math.floor(place) + reach, max(math.floor(place) - reach, 0), -1):
            found = at(float(value), whole=True)
            if not _sound(found) or not comes_out(found):
                continue
            faults = refusals(found)
            if not faults:
                return Largest(on_cloth(found), refused, why)
            if refused is None:
                refused, why = on_cloth(found), faults
        high = low
    return Largest(None, refused, why)


def comes_out(size: SizeRecipe) -> bool:
    """Whether a size is a shape at all, and all its pieces come out of its cloth."""
    shade = _made(size)
    return shade is not None and cloth_layout(size, shade) is not None


def _made(size: SizeRecipe) -> Shade | None:
    try:
        return build_shade(size)
    except GeometryError:
        return None


def _on_any_sheet(size: SizeRecipe) -> SizeRecipe:
    panel = size.panel.model_copy(update={"stock_length": None, "stock_width": None})
    return size.model_copy(update={"panel": panel})


def _side(shade: Shade) -> float:
    """Area of the finished side, mm²."""
    return shade.development.area if shade.development else shade.wrapped_length * shade.height


def _sound(size: SizeRecipe) -> bool:
    """Whether its lengths are such as a recipe may state."""
    return min(lengths_of(size)) >= SMALLEST_SIZE and max(lengths_of(size)) <= LARGEST


def _last(low: float, high: float, near: float, good: Callable[[float], bool]) -> float:
    """The greatest value that is good, to ``FINE``; good ones come first. ``near``: where it may be."""
    if good(high):
        return high
    # From the likely place outwards a third at a time, so that few shapes are computed that are far off it.
    seen: set[bool] = set()
    while low < near < high and len(seen) < 2:
        found = good(near)
        seen.add(found)
        if found:
            low, near = near, near * 4 / 3
        else:
            high, near = near, near * 3 / 4
    while high - low > FINE:
        middle = (low + high) / 2
        low, high = (middle, high) if good(middle) else (low, middle)
    return low
