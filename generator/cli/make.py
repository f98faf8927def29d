"""``rimfold make``: the sheets of one or more recipes."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from generator.base.edition import Wishes
from generator.base.errors import RimfoldError
from generator.cli.chosen import chosen
from generator.cli.console import Progress, each
from generator.cli.options import options_of_make

if TYPE_CHECKING:
    from generator.base.edition import PaperName, PrintSize, Tone, Units
    from generator.examine import Examined


@click.command()
@options_of_make
def make(
    recipes: Sequence[Path],
    sizes: Sequence[str],
    documents: Sequence[str],
    spoken: str | None,
    units: Units | None,
    paper: PaperName | None,
    print_size: PrintSize | None,
    grey: bool | None,
    duplex: bool | None,
    tone: Tone | None,
    out: Path,
    anew: bool,
) -> int:
    """Print the sheets of one or more recipes.

    Language, units, paper, print and tone are those of the recipe, unless an option says otherwise. What an
    earlier call has made from the same is not made again.
    """
    from generator import build
    from generator.jobs import Job, jobs_for, printed_otherwise

    kinds = build.document_kinds(documents)
    languages = build.spoken([code.strip() for code in spoken.split(",")] if spoken else [])
    wishes = Wishes(languages, units, tone, paper, print_size, grey, duplex)

    jobs: list[Job] = []

    def collect(examined: Examined) -> int:
        found = jobs_for(examined.works, chosen(examined, sizes), kinds, examined.roster)
        jobs.extend(found.jobs)
        for line in (*found.skipped, *printed_otherwise(found.jobs, wishes)):
            click.echo(line)
        return 0

    worst = each(recipes, collect)
    for line in build.borrowed(jobs, wishes):
        click.echo(line, err=True)
    with Progress(len(jobs)) as progress:
        progress.say_next(jobs[0].name if jobs else "")
        for index, (job, made) in enumerate(build.make_all(jobs, out, wishes, anew=anew), 1):
            if isinstance(made, RimfoldError):
                progress.fail(f"{job.name}: {made}")
                worst = max(worst, made.exit_code)
            else:
                sheets = ", ".join(made.listed)
                more = [str(path) for path in made.drawings]
                if made.steps:
                    more.append(f"{made.steps} figures in {made.figures}, cards in {made.cards}")
                if not made.changed:
                    more.append("unchanged")
                progress.done(f"{job.name}: " + "; ".join([sheets, *more]))
                for note in made.notes:
                    click.echo(f"{job.name}: {note}")
            progress.say_next(jobs[index].name if index < len(jobs) else "")
    return worst
