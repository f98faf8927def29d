"""The drawings of a page that shows a plan at a glance: pictured steps, and a small shade for the head."""

from __future__ import annotations

from dataclasses import replace

from generator.base.words import Words
from generator.figures.arrows import open_arrow
from generator.figures.canvas import Canvas
from generator.figures.draw import draw_one, finish
from generator.figures.labels import Label
from generator.figures.lettering import ASCENT
from generator.figures.model import BADGE, CELL_A5_CAUTION, CRIB_STEP, Figure, Job, Picture, Slot
from generator.figures.numbers import say
from generator.figures.pens import EM
from generator.figures.upright import level_circle, rim_place, stand
from generator.figures.view import Box, bench
from generator.measures.measure import Measures
from generator.plan.glance import Glance
from generator.plan.model import Plan
from generator.recipe.models import SizeRecipe
from generator.shape.development import ENDS
from generator.shape.shade import Shade

PLACES = (BADGE, CRIB_STEP, CELL_A5_CAUTION)
"""On A4: beside the title, a step, the stop."""
SHADE = 30.0
"""Width for the shade in the badge, mm; its names stand beside it."""


def glance_drawings(
    size: SizeRecipe,
    shade: Shade,
    measures: Measures,
    plan: Plan,
    glance: Glance,
    words: Words,
    places: tuple[Slot, ...] = PLACES,
) -> tuple[Figure, ...]:
    """The badge, then the pictured steps in order; ``words`` are bound to the plan. Raises FigureError."""
    beside, usual, stop = places
    job = Job(size, shade, measures, plan, plan.steps[0], words, beside)
    badge = finish(_badge, job, BADGE.name, 0, words.say("alt.silhouette"))
    steps = (replace(job, step=step, slot=stop if step is glance.gate else usual) for step in glance.pictured)
    return (badge, *(draw_one(step) for step in steps))


def _badge(job: Job) -> Picture:
    """The shade as it will be used, its two rings named, and which way is up."""
    shade, slot = job.shade, job.slot
    canvas = Canvas(slot.width, slot.height)
    table = job.size.use == "table"
    deep = min(shade.rim(end).depth for end in ENDS)
    across = max(shade.outline.width, shade.outline.depth)
    rise, drop, foot = 0.3 * deep + 0.12 * shade.height, 0.3 * deep, 0.2 * min(across, 2 * deep)
    more = level_circle(foot, -drop) if table else [(0.0, shade.ring_centre("top")[1], shade.height + rise)]
    left = job.size.makers.hand == "left"
    upright = stand(job.size, shade, bench(left), Box(1.0, 1.0, 1.0 + SHADE, slot.height - 1.0), more)
    base = upright.base(canvas, drop, foot) if table else None
    upright.draw(canvas)
    if base is not None:
        upright.hidden_fitter(canvas)
    else:
        canvas.blocked.append(upright.flex(canvas, rise).buffer(0.8))
    low, high = upright.side(True)
    x, middle = upright.reach(True) + 4.5, (low[1] + high[1]) / 2
    open_arrow(canvas, (x, middle + 4.5), (x, middle - 4.5), part="print-up")
    with canvas.group("label", "label-print-up"):
        canvas.letters((x + 3.2, middle + ASCENT * EM / 2), say(job, "print-up"))
    rims = {True: upright.rim("top"), False: upright.rim("bottom")}
    labels = [
        Label(say(job, noun), at=rim_place(rims[above], above, 0.9 if above else 0.8), wish=wish)
        for noun, above, wish in (
            ("fitter-ring", upright.fitter_above, 0.0),
            ("plain-ring", not upright.fitter_above, 0.0),
        )
    ]
    return Picture(canvas, labels)
