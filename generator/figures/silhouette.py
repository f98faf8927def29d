"""The picture of the whole for the first page: the shade in use, its outer sizes, fitter end, print up."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from shapely.geometry.base import BaseGeometry

from generator.base.errors import FigureError
from generator.base.message import message
from generator.base.words import Words
from generator.figures.canvas import Canvas
from generator.figures.draw import finish
from generator.figures.extents import overflow
from generator.figures.joints import joint_at
from generator.figures.labels import Label
from generator.figures.model import SHEET, Figure, Job, Picture, Slot
from generator.figures.numbers import say
from generator.figures.outer_sizes import height_line, is_round, print_up, slant_line, slants_evenly, widths
from generator.figures.taper_sizes import draw_seam_slant, past_upper_depth, seam_slant
from generator.figures.upright import level_circle, rim_place, stand
from generator.figures.view import Box, Point3, bench
from generator.measures.measure import Measures
from generator.plan.model import Plan
from generator.recipe.models import SizeRecipe
from generator.shape.development import ENDS, End
from generator.shape.shade import Shade

NARROW = 20.0
"""A shade under this breadth on paper, mm, has its lower ring's name at the side."""
PLACE = SHEET
PLACES: Mapping[str, tuple[Slot, ...]] = {
    "sheet": (PLACE,),
    "label": tuple(
        Slot(f"label-{width:.0f}-{height:.0f}", width, height, 42.0)
        for width in (66.0, 70.0, 74.0)
        for height in (36.0, 30.0, 24.0, 18.0)
    ),
    "label-large": tuple(
        Slot(f"label-{width:.0f}-{height:.0f}-large", width, height, 42.0, enlarged=1.5)
        for width in (58.0, 62.0, 66.0)
        for height in (34.0, 30.0, 24.0, 18.0)
    ),
}
"""Places by name, each with what to try, the best first: lettering keeps its size, so that some shades need a
wider drawing, and others are higher than wished."""


Room = tuple[float, float]
"""So much more room than usual at the left and at the right, mm: sizes may need it."""


@dataclass(frozen=True, slots=True)
class Setting:
    """How a picture of the whole stands on its paper: its slot as it has grown, and where it has ink, mm."""

    slot: Slot = PLACE
    more: Room = (0.0, 0.0)
    top: float = 3.0
    height: float = 64.0


def silhouette(
    size: SizeRecipe, shade: Shade, measures: Measures, words: Words, plan: Plan, slot: Slot = PLACE
) -> Figure:
    """The shade as it will be used. Raises FigureError if its labels find no room in the slot."""
    return set_silhouette(size, shade, measures, words, plan, slot)[0]


def set_silhouette(
    size: SizeRecipe, shade: Shade, measures: Measures, words: Words, plan: Plan, slot: Slot = PLACE
) -> tuple[Figure, Setting]:
    """The same, and how it stands, so that another picture can stand so. Raises FigureError likewise."""
    painted = _Painted()
    job = Job(size, shade, measures, plan, plan.steps[0], words, slot)
    figure = finish(
        painted.paint, job, "silhouette", 0, words.say("alt.silhouette"), sides=slot.width < PLACE.width
    )
    return figure, painted.setting


@dataclass
class _Painted:
    """Paints, and keeps what it has found out on the way."""

    slot: Slot = PLACE
    more: Room = (0.0, 0.0)
    canvas: Canvas = field(default_factory=lambda: Canvas(PLACE.width, PLACE.height))

    def paint(self, job: Job) -> Picture:
        self.slot, self.more = job.slot, _room(job)
        picture = _attempt(job, self.more)
        self.canvas = picture.canvas
        return picture

    @property
    def setting(self) -> Setting:
        return Setting(self.slot, self.more, self.canvas.top, self.canvas.height)


def silhouette_at(
    place: str, size: SizeRecipe, shade: Shade, measures: Measures, words: Words, plan: Plan
) -> Figure:
    """The same for a place by name. Raises FigureError if it has no room for this shade."""
    for slot in PLACES[place]:
        try:
            figure = silhouette(size, shade, measures, words, plan, slot)
        except FigureError:
            continue
        if figure.height <= slot.max_height * slot.enlarged:
            return figure
    raise FigureError(message("the picture of the whole has no room in the place “{place}”", place=place))


def _room(job: Job) -> Room:
    """Sizes away from the maker may take more room beside the shade than they have: then it is smaller."""
    more = (0.0, 0.0)
    for _ in range(4 if job.shade.tapered else 0):
        # What stands inside the outline has room; to see whether the sizes have it takes them alone.
        beyond = overflow(_attempt(job, more, sizes_alone=True).canvas)
        if max(beyond) == 0.0:
            break
        more = (more[0] + beyond[0], more[1] + beyond[1])
    return more


@dataclass(frozen=True, slots=True)
class Site:
    """Where the shade stands on the paper, and what stands there with it."""

    place: Box
    points: list[Point3]
    """What must fit into the place besides the shade, real mm."""
    high: float
    """Height of the paper, mm."""
    rise: float
    """Of the flex above the upper rim, real mm."""
    drop: float
    """Of the base under the lower rim, real mm."""
    foot: float
    """Radius of the base, real mm."""


def site(job: Job, more: Room) -> Site:
    """Where on the paper of its slot a job's shade stands, with so much more room beside it."""
    size, shade, slot = job.size, job.shade, job.slot
    left, table, taper = size.makers.hand == "left", size.use == "table", shade.tapered
    round_ = is_round(job, "bottom")
    high = slot.height + (20 if taper else 8)
    across = max(shade.outline.width, shade.outline.depth)
    # Base and flex are cut short here: they only tell which way up the shade is used.
    deep = min(shade.rim(end).depth for end in ENDS) if taper else shade.outline.depth
    rise, drop, foot = 0.3 * deep + 0.12 * shade.height, 0.42 * deep, 0.2 * min(across, 2 * deep)
    if taper:
        # Both ends' sizes stand beyond them.
        rise, drop = 0.5 * deep + 8.0, 0.3 * shade.rim("bottom").depth
    points = level_circle(foot, -drop) if table else [(0.0, shade.ring_centre("top")[1], shade.height + rise)]
    near, far = (4.0, 22.0) if round_ else (11.0, 22.0)
    if not round_:
        # Room for the width beside the shade, and for a name where the opening is too narrow to hold one.
        points.append((-shade.outline.width / 2, deep / 2, 0.0))
        near += 8.0 if deep < 0.45 * shade.outline.width else 0.0
    if taper:
        near = 11.0
    above = 12.0 if table else 2.0
    below = 2.0 if table else 12.0 if round_ else 15.0
    if taper:
        above, below = (10.0, 9.0) if table else (8.0, below)
    sides = (far, near) if left else (near, far)
    place = Box(sides[0] + more[0], above, slot.width - sides[1] - more[1], high - below)
    return Site(place, points, high, rise, drop, foot)


def _attempt(job: Job, more: Room, *, sizes_alone: bool = False) -> Picture:
    """The picture with so much more room beside it; or its sizes without the shade."""
    shade, width = job.shade, job.slot.width
    left, table = job.size.makers.hand == "left", job.size.use == "table"
    at = site(job, more)
    canvas = Canvas(width, at.high)
    upright = stand(job.size, shade, bench(left), at.place, at.points)
    base = upright.base(canvas, at.drop, at.foot) if table else None
    # What stands on the face takes no room beside it.
    slanting = None if sizes_alone and not slants_evenly(shade) else seam_slant(job, upright)
    if not sizes_alone:
        upright.draw(canvas, clear=slanting)
    flex = None
    if table and not sizes_alone:
        upright.hidden_fitter(canvas)
    if not table:
        flex = upright.flex(canvas, at.rise)
        canvas.blocked.append(flex.buffer(0.8))
    if slanting is None:
        slant_line(canvas, job, upright, right=left)
    else:
        draw_seam_slant(canvas, job, upright)
    clear: dict[End, BaseGeometry | None] = {"bottom": base, "top": flex}
    once = Canvas(width, canvas.height)
    widths(once, job, upright, above=table, clear=clear)
    offset = past_upper_depth(once, job, upright, not left)
    height_line(canvas, job, upright, right=not left, offset=offset)
    canvas.items += once.items
    canvas.blocked += once.blocked
    low, high = upright.side(not left)
    edge = upright.reach(not left) + (-1 if left else 1) * (offset + 5.0)
    print_up(canvas, say(job, "print-up"), edge, low[1], high[1], right=not left)
    rims = {True: upright.rim("top"), False: upright.rim("bottom")}
    labels = []
    for noun, above in (("fitter-ring", upright.fitter_above), ("plain-ring", not upright.fitter_above)):
        share, wish = (0.86, 300.0) if not above else (0.03, 160.0) if table else (0.2, 120.0)
        if not above and upright.width < NARROW:
            share, wish = 0.04, 180.0
        place_ = rim_place(rims[above], above, 1 - share if left else share)
        labels.append(Label(say(job, noun), at=place_, wish=180 - wish if left else wish))
    joint = joint_at(upright.frame, upright.wall, shade)
    if joint is not None:
        labels.append(Label(say(job, "joint"), at=joint, wish=60.0 if not left else 120.0))
    return Picture(canvas, labels)
