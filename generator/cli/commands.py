"""The commands and their options; what they do lies in other rooms."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from generator import __version__
from generator.base.edition import PAPERS, PRINT_SIZES, TONES, UNITS, Wishes
from generator.base.errors import RimfoldError, UsageError
from generator.cli.console import Progress, each
from generator.cli.proof_report import proof
from generator.cli.quick import quick

if TYPE_CHECKING:
    from generator.base.edition import PaperName, PrintSize, Tone, Units
    from generator.examine import Examined
    from generator.plan.work import Work

RECIPES = click.argument(
    "recipes", nargs=-1, required=True, type=click.Path(path_type=Path), metavar="RECIPE..."
)
RECIPE = click.argument("recipe", type=click.Path(path_type=Path), metavar="RECIPE")
SIZE = click.option(
    "--size", "sizes", multiple=True, metavar="S", help="Only this size (may be given again)."
)
JSON = click.option("--json", "as_json", is_flag=True, help="Print JSON, and nothing else, on the output.")


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, prog_name="rimfold")
@click.option("--debug", is_flag=True, help="Show where in the program an error arose.")
def rimfold(debug: bool) -> None:
    """Measurements, order of work, pictures and printed sheets for a hand-rolled lampshade, from one recipe.

    \b
    Only numbers: rimfold quick circle 35cm --height 22cm
    Begin with:   rimfold new my-shade.yaml
    Then print:   rimfold make my-shade.yaml
    """


@rimfold.command()
@RECIPES
@SIZE
@click.option(
    "--document",
    "documents",
    multiple=True,
    metavar="KIND",
    help="Which document; if left out, all that are not made only on request.",
)
@click.option(
    "--lang",
    "spoken",
    metavar="LANG,LANG",
    help="Languages of the documents, such as en,de.",
)
@click.option("--units", type=click.Choice(UNITS), help="Millimetres, inches, or both.")
@click.option("--paper", type=click.Choice(list(PAPERS), case_sensitive=False), help="Paper to print on.")
@click.option("--print-size", type=click.Choice(PRINT_SIZES), help="Large print: 18 points, or 24 points.")
@click.option("--grey/--colour", default=None, help="Print in greys alone, or in colour.")
@click.option("--duplex/--one-side", default=None, help="Print on both sides of the paper, or on one.")
@click.option("--tone", type=click.Choice(TONES), help="Plain words, or short ones for young learners.")
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    default=Path("out"),
    show_default=True,
    help="Folder for the documents.",
)
@click.option("--anew", is_flag=True, help="Make everything again, even what has not changed.")
@click.option(
    "--scheduler", metavar="ADDRESS", help="Make on the Dask cluster there, such as tcp://HOST:8786."
)
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
    scheduler: str | None,
) -> int:
    """Print the sheets of one or more recipes.

    Language, units, paper, print and tone are those of the recipe, unless an option says otherwise. What an
    earlier call has made from the same is not made again.
    """
    from generator import build
    from generator.cluster import reached
    from generator.jobs import Job, jobs_for, printed_otherwise

    kinds = build.document_kinds(documents)
    languages = build.spoken([code.strip() for code in spoken.split(",")] if spoken else [])
    wishes = Wishes(languages, units, tone, paper, print_size, grey, duplex)

    jobs: list[Job] = []

    def collect(examined: Examined) -> int:
        found = jobs_for(examined.works, _chosen(examined, sizes), kinds, examined.roster)
        jobs.extend(found.jobs)
        for line in (*found.skipped, *printed_otherwise(found.jobs, wishes)):
            click.echo(line)
        return 0

    worst = each(recipes, collect)
    for line in build.borrowed(jobs, wishes):
        click.echo(line, err=True)
    with reached(scheduler) as hands, Progress(len(jobs)) as progress:
        progress.say_next(jobs[0].name if jobs else "")
        doing = build.make_all(jobs, out, wishes, anew=anew, hands=hands)
        for index, (job, made) in enumerate(doing, 1):
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


@rimfold.command()
@RECIPE
@SIZE
@JSON
@click.option("--units", type=click.Choice(UNITS), default="metric", help="Units of the table's values.")
def measures(recipe: Path, sizes: Sequence[str], as_json: bool, units: Units) -> int:
    """Every measure of a recipe, with its formula and its source."""
    from generator.cli import report

    def show(works: Sequence[Work]) -> None:
        if as_json:
            report.measures_json(works)
        else:
            report.measures_table(works, units)

    return each([recipe], _printer(sizes, show))


@rimfold.command()
@RECIPE
@SIZE
@click.option("--why", is_flag=True, help="Say why each step stands where it stands.")
@click.option("--pair", is_flag=True, help="Who does what when, if two people work together.")
@click.option(
    "--graph",
    type=click.Path(path_type=Path),
    metavar="FILE.svg",
    help="Draw the steps, what each needs, and the critical path.",
)
@JSON
def steps(
    recipe: Path, sizes: Sequence[str], why: bool, pair: bool, graph: Path | None, as_json: bool
) -> int:
    """The order of work, with minutes and tools."""
    from generator.cli import plan_report, report

    def show(works: Sequence[Work]) -> None:
        if as_json:
            report.steps_json(works, (lambda plan: {"pair": plan_report.pair_json(plan)}) if pair else None)
        elif pair:
            plan_report.pair_tables(works)
        elif why:
            report.steps_with_reasons(works)
        elif graph is None:
            report.steps_table(works)
        if graph is not None:
            plan_report.write_graph(works, graph, quiet=as_json)

    return each([recipe], _printer(sizes, show))


@rimfold.command()
@RECIPE
@SIZE
@JSON
def faults(recipe: Path, sizes: Sequence[str], as_json: bool) -> int:
    """What you see on a shade, what went wrong, how to mend it, and until when."""
    from generator.cli import plan_report

    return each([recipe], _printer(sizes, plan_report.faults_json if as_json else plan_report.faults_table))


@rimfold.command(name="class")
@RECIPE
@JSON
def class_(recipe: Path, as_json: bool) -> int:
    """When a class ends, what people wait for, what would help, and what to buy."""
    from generator.cli.class_report import show_class

    return each([recipe], lambda examined: show_class(examined, as_json=as_json))


@rimfold.command()
@RECIPES
def check(recipes: Sequence[Path]) -> int:
    """Say whether recipes can be made, without writing anything."""

    def good(examined: Examined) -> int:
        if examined.roster:
            # Only a class has people who wait for one another.
            from generator.lesson.outcome import outcome, refuse_late

            refuse_late(outcome(examined.roster))
        names = ", ".join(work.size.name for work in examined.works)
        click.echo(f"{examined.recipe.path}: good; sizes {names}")
        return 0

    return each(recipes, good)


@rimfold.command()
@RECIPE
@SIZE
@click.option(
    "--cloth",
    required=True,
    metavar='"WIDTH x LENGTH"',
    help='The piece of cloth, such as "108 x 60 cm": usable width first.',
)
@click.option("--one-way", is_flag=True, help="The cloth's print has an up, which runs along the length.")
@JSON
def fit(recipe: Path, sizes: Sequence[str], cloth: str, one_way: bool, as_json: bool) -> int:
    """What a piece of cloth makes: which sizes come out of it, and the largest shade of each shape."""
    from generator.cli import fit_report
    from generator.examine import fit_remnant

    remnant = fit_report.remnant_of(cloth, one_way=one_way)
    fitted = fit_remnant(recipe, remnant)
    chosen = _named(recipe, [one.size.name for one in fitted.fits], sizes)
    fits = [one for one in fitted.fits if one.size.name in chosen]
    (fit_report.fit_json if as_json else fit_report.fit_table)(fitted, fits)
    for one in fits:
        for fault in one.faults:
            click.echo(str(fault), err=True)
    return 2 if any(one.faults for one in fits) else 0


@rimfold.command()
@click.argument("folder", type=click.Path(path_type=Path), default=Path("out"), metavar="[FOLDER]")
@JSON
def verify(folder: Path, as_json: bool) -> int:
    """Whether what lies in a folder is as it was made, and up to date: exit code 0, else 3."""
    from generator.cli import verified
    from generator.record.verify import verify as look_through

    return (verified.as_json if as_json else verified.in_words)(look_through(folder))


@rimfold.command()
@click.argument("file", type=click.Path(path_type=Path))
@click.option(
    "--yes/--ask",
    "yes",
    default=None,
    help="Take every usual answer, or ask even where no terminal is.  [default: ask in a terminal]",
)
def new(file: Path, yes: bool | None) -> int:
    """Ask for a shade and write its recipe, with every key explained."""
    from generator.press.publish import publish
    from generator.recipe.draft import Draft

    if file.exists():
        raise UsageError(f"{file} is already there; choose another name, or move it away first")
    if yes is None and not sys.stdin.isatty():
        click.echo("This is no terminal, so nobody can be asked: the usual answers stand, as with --yes.")
        yes = True
    if yes:
        publish(file, Draft().text().encode())
        click.echo(f"{file}: a starter recipe. Change it, then: rimfold make {file}")
        return 0
    from generator.cli.talk import converse

    draft = converse(file)
    publish(file, draft.text().encode())
    click.echo(f"{file}: your recipe. Print it: rimfold make {file}, or one side: add --document crib-sheet")
    return 0


@rimfold.command()
def schema() -> int:
    """The JSON Schema of a recipe, for editors that complete and check as you type."""
    from generator.examine import outlines
    from generator.recipe.schema import json_schema

    click.echo(json.dumps(json_schema(outlines()), indent=2, ensure_ascii=False))
    return 0


rimfold.add_command(proof)
rimfold.add_command(quick)


def _chosen(examined: Examined, sizes: Sequence[str]) -> list[Work]:
    """The works of the sizes asked for, or all. Raises UsageError for a size that is not there."""
    chosen = _named(examined.recipe.path, [work.size.name for work in examined.works], sizes)
    return [work for work in examined.works if work.size.name in chosen]


def _named(recipe: Path, known: Sequence[str], sizes: Sequence[str]) -> Sequence[str]:
    """The names asked for, or all. Raises UsageError for one that is not there."""
    for name in sizes:
        if name not in known:
            have = ", ".join(known)
            raise UsageError(f"{recipe} has no size {name}; it has {have}; choose one of them")
    return sizes or known


def _printer(sizes: Sequence[str], show: Callable[[Sequence[Work]], None]) -> Callable[[Examined], int]:
    def run(examined: Examined) -> int:
        show(_chosen(examined, sizes))
        return 0

    return run
