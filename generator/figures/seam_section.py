"""The seam cut through: the outside end on its tape over the start end, both presses, the overlap."""

from __future__ import annotations

from shapely import Polygon, unary_union
from shapely.geometry.base import BaseGeometry

from generator.figures.arrows import press
from generator.figures.callouts import callout
from generator.figures.canvas import Canvas, Point, circle
from generator.figures.dimensions import dimension
from generator.figures.hatch import PVC_HATCH, hatch
from generator.figures.insets import inset
from generator.figures.lettering import text_width
from generator.figures.model import Job
from generator.figures.numbers import text
from generator.figures.pens import CLOTH_CUT, EM, NEW, PVC, SEAM_TAPE, THIN


def seam_section(
    canvas: Canvas, job: Job, centre: Point, radius: float, column: float, outside_from: float
) -> None:
    """In a circle, from the open end: the outside end comes from the right (+1) or the left, over the other.

    Layers too thin to be seen are spread; the overlap sets the scale along the seam. The names stand above
    and below, in a ``column`` of that width at the page's edge.
    """
    cx, cy = centre
    shade, measures = job.shade, job.measures
    kx = 12.0 / shade.overlap
    thick, tape = 1.1, 1.0
    folded = thick if shade.hem else 0.0
    level = cy - 2.2

    def at(along: float, up: float) -> Point:
        return cx + outside_from * (along - 1.0), level - up

    a, b = -6.0, 6.0
    inset_tape = a + measures.shown("tape_inset") * kx
    end_tape = min(b, inset_tape + job.size.tape.width * kx)
    lift = tape + folded
    ramp = b + 4.4

    def band(low: float, high: float, start: float) -> Polygon:
        """A layer of the outside end: over the overlap it is lifted, then it comes down to the level."""
        up = [
            at(start, high + lift),
            at(b + 0.6, high + lift),
            at(ramp, high - 2 * thick),
            at(40, high - 2 * thick),
        ]
        down = [
            at(40, low - 2 * thick),
            at(ramp, low - 2 * thick),
            at(b + 0.6, low + lift),
            at(start, low + lift),
        ]
        return Polygon([*up, *down])

    canvas.blocked.append(circle(centre, radius + 0.4))
    with inset(canvas, centre, radius):
        with canvas.group("context", "section-start-end"):
            pvc = Polygon([at(-40, -thick), at(b, -thick), at(b, -2 * thick), at(-40, -2 * thick)])
            canvas.area([at(-40, 0), at(b, 0), at(b, -thick), at(-40, -thick)], CLOTH_CUT, THIN)
            canvas.area(pvc, PVC, THIN)
            hatch(canvas, pvc, *PVC_HATCH)
        with canvas.group("context", "section-seam-tape"):
            canvas.area(
                [at(inset_tape, 0), at(end_tape, 0), at(end_tape, tape), at(inset_tape, tape)],
                SEAM_TAPE,
                THIN,
            )
        pvc = band(0.0, thick, a).buffer(0)
        cloth: BaseGeometry = band(thick, 2 * thick, a - (thick if folded else 0.0)).buffer(0)
        if folded:
            hem = min(shade.hem * kx, b + 0.6 - a)
            cloth = unary_union(
                [
                    cloth,
                    Polygon(
                        [
                            at(a - thick, lift - thick),
                            at(a, lift - thick),
                            at(a, lift + 2 * thick),
                            at(a - thick, lift + 2 * thick),
                        ]
                    ),
                    Polygon(
                        [
                            at(a - thick, lift - thick),
                            at(a + hem, lift - thick),
                            at(a + hem, lift),
                            at(a - thick, lift),
                        ]
                    ),
                ]
            )
        with canvas.group("new", "section-outside-end"):
            canvas.area(cloth, CLOTH_CUT, NEW)
            canvas.area(pvc, PVC, NEW)
            hatch(canvas, pvc, *PVC_HATCH)
        press(canvas, at(0.2, lift + 2 * thick + 0.7), (0.0, 1.0))
        press(canvas, at(0.2, -2 * thick - 0.7), (0.0, -1.0))
        left_end, right_end = sorted((at(a, -2 * thick), at(b, -2 * thick)))
        overlap = measures.shown("overlap")
        dimension(
            canvas,
            left_end,
            right_end,
            text(job, "overlap"),
            measure="overlap",
            value=overlap,
            offset=-12.2,
        )
    say = job.words.say
    top = cy - radius - 1.2
    # Two words side by side at the outer edge of the page; they may reach over the corner of the scene.
    words = {outside_from: say("label.outside-end"), -outside_from: say("label.seam-tape")}
    spots = {outside_from: at(ramp + 1.8, -0.5 * thick), -outside_from: at(inset_tape + 1.2, tape / 2)}
    outer = 1.0 if cx > canvas.width / 2 else -1.0
    edge = canvas.width - 0.4 if outer > 0 else 0.4
    wide = text_width(words[outer], EM) + 2.2
    if wide + text_width(words[-outer], EM) <= column + 6.0:
        at_edge, inner = (edge, top), (edge - outer * wide, top)
    else:
        # In a language of long words one stands above the other, and ends before the upper one’s leader.
        at_edge, inner = (edge, top - 1.3 * EM), (spots[outer][0] - outer * 1.5, top)
    callout(canvas, spots[outer], at_edge, words[outer], side=-outer)
    callout(canvas, spots[-outer], inner, words[-outer], side=-outer)
    low = cy + radius + 0.8 + 0.74 * EM
    callout(
        canvas,
        at(-10.6, -1.5 * thick),
        (cx - outside_from * (column / 2 - 0.6), low),
        say("label.start-end"),
        side=outside_from,
    )
