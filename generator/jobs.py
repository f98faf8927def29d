"""Which documents are made in one go: those of one size, or those of all sizes of a recipe."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from generator.base.edition import NO_WISHES, Wishes
from generator.base.message import Message, joined, message, under
from generator.lesson.roster import Roster
from generator.plan.work import Work
from generator.recipe.models import SizeRecipe
from generator.sheets.document import document_kind, kind_for
from generator.sheets.forms import otherwise


@dataclass(frozen=True)
class Job:
    """Documents that appear together or not at all."""

    works: tuple[Work, ...]
    """One size, or with ``whole`` all of a recipe that the documents tell of."""
    kinds: tuple[str, ...]
    whole: bool = False
    roster: Roster | None = None
    """The class, where the documents tell of it."""

    @property
    def name(self) -> Message:
        """What a person calls it: ``pier-drum, size 35``."""
        first = self.works[0].size
        if self.roster:
            return message("{recipe}, the class", recipe=first.recipe)
        return message("{recipe}, all sizes", recipe=first.recipe) if self.whole else _size(first)


@dataclass(frozen=True)
class Jobs:
    """What is to be done for a recipe, and what is not."""

    jobs: tuple[Job, ...]
    skipped: tuple[Message, ...]
    """A line for each thing that was asked for and is not made, with the reason."""


def jobs_for(
    works: Sequence[Work], chosen: Sequence[Work], kinds: Sequence[str], roster: Roster | None = None
) -> Jobs:
    """Jobs for the ``chosen`` sizes of a recipe; documents of the whole recipe tell of all its ``works``.

    Documents of kits are made for sizes of which the recipe counts boxes, those of a class for a recipe that
    has one, its ``roster``. Raises UsageError for an unknown kind.
    """
    known = [document_kind(kind) for kind in kinds]
    if not known or not works:
        return Jobs(tuple(Job((work,), ()) for work in chosen), ())
    own = [kind for kind in known if kind.scope == "size"]
    jobs: list[Job] = []
    skipped: list[Message] = []
    recipe, kitless = works[0].size, works[0].size.kits is None
    of_kits = [kind.called for kind in known if kind.of_kits]
    if of_kits and kitless:
        none = message("no {kinds}, since the recipe has no kits", kinds=_listed(of_kits))
        skipped.append(under(recipe.recipe, none))
    of_class = [kind for kind in known if kind.of_class]
    if of_class and roster is None:
        none = message(
            "no {kinds}, since the recipe has no class", kinds=_listed([kind.called for kind in of_class])
        )
        skipped.append(under(recipe.recipe, none))
    for work in chosen:
        lacking = [kind for kind in own if kind.of_kits and not work.size.boxes]
        made = tuple(kind.name for kind in own if kind not in lacking)
        if made:
            jobs.append(Job((work,), made))
        if lacking and not kitless:
            none = message(
                "no {kinds}, since the recipe counts no kits of it",
                kinds=_listed([kind.called for kind in lacking]),
            )
            skipped.append(under(_size(work.size), none))
    packed = tuple(work for work in works if work.size.boxes)
    if of_class and roster is not None:
        kinds_of_class = tuple(kind.name for kind in of_class)
        jobs.append(Job(tuple(works), kinds_of_class, whole=True, roster=roster))
    whole = [kind for kind in known if kind.scope == "recipe" and not kind.of_class]
    printed = [kind for kind in whole if packed or not kind.of_kits]
    for all_sizes, members in ((True, tuple(works)), (False, packed)):
        of_all = tuple(kind.name for kind in printed if kind.all_sizes == all_sizes)
        if of_all and members:
            jobs.append(Job(members, of_all, whole=True))
    return Jobs(tuple(jobs), tuple(skipped))


def _size(size: SizeRecipe) -> Message:
    return message("{recipe}, size {name}", recipe=size.recipe, name=size.name)


def _listed(kinds: Sequence[str]) -> Message:
    made = joined(kinds[:1])
    for kind in kinds[1:]:
        made = message("{names} and no {last}", names=made, last=kind)
    return made


def printed_otherwise(jobs: Sequence[Job], wishes: Wishes = NO_WISHES) -> tuple[Message, ...]:
    """A line, once, for each document of a recipe that is not made for the paper or in the lettering that
    the recipe or the wishes ask for."""
    lines = (
        under(work.size.recipe, line)
        for job in jobs
        for work in job.works[:1]
        for kind in job.kinds
        for edition in work.size.editions(wishes)
        if (line := otherwise(kind_for(kind, work.size), edition.form))
    )
    return tuple(dict.fromkeys(lines))
