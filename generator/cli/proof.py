"""``rimfold proof``: a finished PDF read back, and put to the rules of every page."""

from __future__ import annotations

from pathlib import Path

import click

from generator.base.edition import (
    PAPERS,
    PRINT_SIZES,
    TONES,
    UNITS,
    PaperName,
    PrintSize,
    Tone,
    Units,
    Wishes,
)


@click.command()
@click.argument("file", type=click.Path(path_type=Path), metavar="FILE.pdf")
@click.option(
    "--recipe",
    type=click.Path(path_type=Path),
    metavar="RECIPE",
    help="What it was made from: traces numbers.",
)
@click.option("--document", metavar="KIND", help="Which document it is, if its name does not say so.")
@click.option("--size", metavar="S", help="Which size it tells of, if its folder does not say so.")
@click.option("--lang", metavar="LANG", help="The language that it is in, if its name does not say so.")
@click.option("--units", type=click.Choice(UNITS), help="Its units, if the recipe has others.")
@click.option(
    "--paper",
    type=click.Choice(list(PAPERS), case_sensitive=False),
    help="Its paper, if its pages do not say so.",
)
@click.option("--print-size", type=click.Choice(PRINT_SIZES), help="Its print, if its name does not say so.")
@click.option("--tone", type=click.Choice(TONES), help="Its words, if the recipe has others.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON, and nothing else, on the output.")
def proof(
    file: Path,
    recipe: Path | None,
    document: str | None,
    size: str | None,
    lang: str | None,
    units: Units | None,
    paper: PaperName | None,
    print_size: PrintSize | None,
    tone: Tone | None,
    as_json: bool,
) -> int:
    """Read a finished PDF back and put it to the rules that every page must pass: exit code 0, else 1."""
    from generator.cli.proof_report import Asked, in_json, in_words, read, wish
    from generator.press.proof import language_of, prove_alone, sheet_of

    pdf = read(file)
    wishes = Wishes(units=units, tone=tone, paper=paper, print_size=print_size)
    asked = Asked(file, document, size, lang, language_of(pdf), sheet_of(pdf), wishes)
    found = prove_alone(pdf, wish(asked, recipe))
    return (in_json if as_json else in_words)(file, found)
