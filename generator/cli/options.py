"""Options and arguments that commands take, each in one place."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

import click

from generator.base.edition import PAPERS, PRINT_SIZES, TONES, UNITS

Decorated = TypeVar("Decorated", bound=Callable[..., object])

RECIPES = click.argument(
    "recipes", nargs=-1, required=True, type=click.Path(path_type=Path), metavar="RECIPE..."
)
RECIPE = click.argument("recipe", type=click.Path(path_type=Path), metavar="RECIPE")
SIZE = click.option(
    "--size", "sizes", multiple=True, metavar="S", help="Only this size (may be given again)."
)
JSON = click.option("--json", "as_json", is_flag=True, help="Print JSON, and nothing else, on the output.")
DOCUMENT = click.option(
    "--document",
    "documents",
    multiple=True,
    metavar="KIND",
    help="Which document; if left out, all that are not made only on request.",
)
LANG = click.option(
    "--lang",
    "spoken",
    metavar="LANG,LANG",
    help="Languages of the documents, such as en,de.",
)
UNIT = click.option("--units", type=click.Choice(UNITS), help="Millimetres, inches, or both.")
PAPER = click.option(
    "--paper", type=click.Choice(list(PAPERS), case_sensitive=False), help="Paper to print on."
)
PRINT_SIZE = click.option(
    "--print-size", type=click.Choice(PRINT_SIZES), help="Large print: 18 points, or 24 points."
)
GREY = click.option("--grey/--colour", default=None, help="Print in greys alone, or in colour.")
DUPLEX = click.option(
    "--duplex/--one-side", default=None, help="Print on both sides of the paper, or on one."
)
TONE = click.option("--tone", type=click.Choice(TONES), help="Plain words, or short ones for young learners.")
OUT = click.option(
    "--out",
    type=click.Path(path_type=Path),
    default=Path("out"),
    show_default=True,
    help="Folder for the documents.",
)
ANEW = click.option("--anew", is_flag=True, help="Make everything again, even what has not changed.")

_OF_MAKE = (
    RECIPES,
    SIZE,
    DOCUMENT,
    LANG,
    UNIT,
    PAPER,
    PRINT_SIZE,
    GREY,
    DUPLEX,
    TONE,
    OUT,
    ANEW,
)
"""In the order in which ``--help`` tells them."""


def options_of_make(command: Decorated) -> Decorated:
    """Give a function all that ``make`` can be told."""
    for option in reversed(_OF_MAKE):
        command = option(command)
    return command
