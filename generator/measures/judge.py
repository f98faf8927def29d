"""Whether the shade can be made: refusals and warnings, each at its place, with what would do."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from generator.base.errors import Fault, Warning_
from generator.measures.judge_cloth import judge_cloth, judge_pattern
from generator.measures.judge_joints import judge_joint_bend, judge_joint_strut
from generator.measures.judge_lamp import judge_fitter, judge_lamp
from generator.measures.judge_panel import (
    judge_bend,
    judge_binding,
    judge_braid,
    judge_hem,
    judge_margin,
    judge_overlap,
    judge_tape,
)
from generator.measures.judge_remnant import judge_remnant
from generator.measures.judge_seam import judge_seam_corner, judge_seam_strut
from generator.measures.judge_taper import (
    judge_grain,
    judge_moved_ring,
    judge_rings_alike,
    judge_sweep,
    judge_taper_cloth,
)
from generator.measures.measure import Measures
from generator.recipe.models import SizeRecipe
from generator.shape.shade import Shade

Finding = Fault | Warning_
Judge = Callable[[SizeRecipe, Shade, Measures], Iterator[Finding]]

JUDGES: tuple[Judge, ...] = (
    judge_margin,
    judge_binding,
    judge_overlap,
    judge_hem,
    judge_braid,
    judge_tape,
    judge_bend,
    judge_seam_strut,
    judge_seam_corner,
    judge_joint_strut,
    judge_joint_bend,
    judge_fitter,
    judge_lamp,
    judge_cloth,
    judge_pattern,
    judge_sweep,
    judge_moved_ring,
    judge_rings_alike,
    judge_grain,
    judge_taper_cloth,
    judge_remnant,
)


@dataclass(frozen=True)
class Judgement:
    """What is wrong with a shade that reads clean, in the order of the file."""

    faults: tuple[Fault, ...] = ()
    """Reasons to refuse it."""
    warnings: tuple[Warning_, ...] = ()
    """What its maker should know."""


def judge(size: SizeRecipe, shade: Shade, measures: Measures) -> Judgement:
    """Collect every refusal and warning; raises nothing."""
    found = [finding for one in JUDGES for finding in one(size, shade, measures)]
    found.sort(key=lambda finding: finding.span.order)
    return Judgement(
        tuple(finding for finding in found if isinstance(finding, Fault)),
        tuple(finding for finding in found if isinstance(finding, Warning_)),
    )
