"""How the work looks before a step: what earlier tasks have given is there, and nothing else.

Figures ask this, and not their own place in the usual order: where a technique orders its tasks otherwise,
the pictures follow. What is there is told by the results that a technique's tasks give, under the names
below; a technique that calls a result otherwise gets pictures without that part.
"""

from __future__ import annotations

from dataclasses import dataclass

from generator.figures.model import Job
from generator.figures.pens import KISS_CUT, THIN, Pen

SEEN_AS = {
    "clean cloth": "low-tack-tape",
    "exact panel": "trimmed-edge",
    "open kiss cuts": "kiss-cut-open",
    "cloth margins": "cloth-margin",
    "prepared outside end": "seam-tape",
    "bent corners": "crease",
    "paired seam marks": "seam-mark",
    "paired joint marks": "joint-mark",
    "covered rings": "ring-tape",
    "gripped wire": "ring-tape",
    "relieved margins": "relief",
    "cured braid": "braid",
}
"""Results that are seen on the work, and the part that shows each in a drawing."""


@dataclass(frozen=True, slots=True)
class State:
    """What is there before a step."""

    given: frozenset[str]
    """Names of all results so far."""
    scored: bool
    """The panel came with kiss cuts along its margins."""

    def has(self, result: str) -> bool:
        """Whether an earlier task has given it."""
        return result in self.given

    @property
    def tacked(self) -> bool:
        """The cloth's corners are taped to the bench: from when it lies clean until it is bonded."""
        return self.has("clean cloth") and not self.has("bonded panel")

    @property
    def trimmed(self) -> bool:
        """No cloth stands out beyond what is kept."""
        return self.has("exact panel")

    @property
    def strips(self) -> bool:
        """The margins are still covered by strips of the panel."""
        return self.scored and not self.has("cloth margins")

    @property
    def kiss_cut(self) -> Pen:
        """The line between panel and strip: dashed as long as it is only scored, whole once it is broken."""
        return THIN if self.has("open kiss cuts") else KISS_CUT

    @property
    def seam_tape(self) -> bool:
        """The outside end has its tape."""
        return self.has("prepared outside end")

    @property
    def bent(self) -> bool:
        """The corners have been bent over a rule."""
        return self.has("bent corners")

    @property
    def seam_marks(self) -> bool:
        """Both rings are marked where the seam will be."""
        return self.has("paired seam marks")

    @property
    def joint_marks(self) -> bool:
        """Both rings are marked where panels meet."""
        return self.has("paired joint marks")

    @property
    def taped(self) -> bool:
        """There is tape on the rings, wrapped or not."""
        return self.has("covered rings") or self.has("gripped wire")

    @property
    def relieved(self) -> bool:
        """The margins have their relief cuts."""
        return self.has("relieved margins")

    @property
    def edged(self) -> bool:
        """Both rims have their braid, glued along them or folded over them."""
        return self.has("cured braid") or (self.has("bound plain edge") and self.has("bound fitter edge"))


def state_before(job: Job) -> State:
    """The work as the job's step finds it."""
    return State(job.plan.given_before(job.step.number), job.shade.kiss_cut and job.shade.margin > 0)


def finished(job: Job) -> State:
    """The work when all steps are done: what a picture of the finished shade shows."""
    every = job.plan.given_before(job.plan.steps[-1].number + 1)
    return State(every, job.shade.kiss_cut and job.shade.margin > 0)
