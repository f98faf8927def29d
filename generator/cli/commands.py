"""The commands and their options; what they do lies in other rooms."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

from generator import __version__
from generator.base.edition import UNITS
from generator.base.errors import UsageError
from generator.base.message import message
from generator.cli.chosen import chosen, named
from generator.cli.completion import completion
from generator.cli.console import each, each_looked_at
from generator.cli.make import make
from generator.cli.options import JSON, RECIPE, RECIPES, SIZE
from generator.cli.page import page
from generator.cli.proof import proof
from generator.cli.quick import quick
from generator.cli.speech import said

if TYPE_CHECKING:
    from generator.base.edition import Units
    from generator.examine import Examined
    from generator.plan.work import Work


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100})
@click.version_option(__version__, prog_name="rimfold")
@click.option("--debug", is_flag=True, help="Show where in the program an error arose.")
def rimfold(debug: bool) -> None:
    """Measurements, order of work, pictures and printed sheets for a hand-rolled lampshade, from one recipe.

    \b
    Only numbers: rimfold quick circle 35cm --height 22cm
    Begin with:   rimfold new my-shade.yaml
    Then print:   rimfold make my-shade.yaml

    \b
    Exit codes:
      0  all is well
      1  something else stopped the work: a full disk, a page that failed
         its proof, a fault of the program, Ctrl-C
      2  a recipe, a file that it names, or the command line is at fault
      3  verify found a file that is changed, missing or out of date

    What is wrong with a recipe is told in the language of your system (LC_ALL, LC_MESSAGES, LANG) if that is
    English, German, French or Spanish, else in English.
    """


@rimfold.command()
@RECIPE
@SIZE
@JSON
@click.option("--units", type=click.Choice(UNITS), default="metric", help="Units of the table's values.")
def measures(recipe: Path, sizes: Sequence[str], as_json: bool, units: Units) -> int:
    """Every measure of a recipe, with its formula and its source.

    The table is in English; what is wrong with the recipe is told in the language of your system.
    """
    from generator.cli import measures_report

    return each_looked_at(
        [recipe],
        measures_report.look,
        lambda found: measures_report.show(found, sizes, units, in_json=as_json),
    )


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
    """Say whether recipes can be made, without writing anything.

    What is wrong is told in the language of your system (LC_ALL, LC_MESSAGES, LANG), or in English.
    """

    def good(examined: Examined) -> int:
        if examined.roster:
            # Only a class has people who wait for one another.
            from generator.lesson.outcome import outcome, refuse_late

            refuse_late(outcome(examined.roster))
        names = ", ".join(work.size.name for work in examined.works)
        good = message("{path}: good; sizes {names}", path=str(examined.recipe.path), names=names)
        click.echo(said(good))
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
    chosen = named(recipe, [one.size.name for one in fitted.fits], sizes)
    fits = [one for one in fitted.fits if one.size.name in chosen]
    (fit_report.fit_json if as_json else fit_report.fit_table)(fitted, fits)
    for one in fits:
        for fault in one.faults:
            click.echo(said(fault.line), err=True)
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
        raise UsageError(
            message("{path} is already there", path=str(file)),
            message("choose another name, or move it away first"),
        )
    if yes is None and not sys.stdin.isatty():
        usual = message(
            "This is no terminal, so nobody can be asked: the usual answers stand, as with --yes."
        )
        click.echo(said(usual))
        yes = True
    if yes:
        publish(file, Draft().text().encode())
        click.echo(
            said(message("{file}: a starter recipe. Change it, then: rimfold make {file}", file=str(file)))
        )
        return 0
    from generator.cli.talk import converse

    draft = converse(file)
    publish(file, draft.text().encode())
    yours = message(
        "{file}: your recipe. Print it: rimfold make {file}, or one side: add --document crib-sheet",
        file=str(file),
    )
    click.echo(said(yours))
    return 0


@rimfold.command()
def schema() -> int:
    """The JSON Schema of a recipe, for editors that complete and check as you type."""
    from generator.examine import outlines
    from generator.recipe.schema import json_schema

    click.echo(json.dumps(json_schema(outlines()), indent=2, ensure_ascii=False))
    return 0


rimfold.add_command(completion)
rimfold.add_command(make)
rimfold.add_command(page)
rimfold.add_command(proof)
rimfold.add_command(quick)


def _printer(sizes: Sequence[str], show: Callable[[Sequence[Work]], None]) -> Callable[[Examined], int]:
    def run(examined: Examined) -> int:
        show(chosen(examined, sizes))
        return 0

    return run
