"""Options and arguments that commands take, each in one place."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import Path
from typing import TypeVar

import click

from generator.base.edition import PAPERS, PRINT_SIZES, TONES, UNITS

Decorated = TypeVar("Decorated", bound=Callable[..., object])


def _beginning(begun: str, known: Iterable[str]) -> list[str]:
    return [name for name in known if name.startswith(begun)]


def _documents() -> list[str]:
    """Kinds of documents, by the names of their templates."""
    from generator.base.assets import data_folder

    return sorted(path.stem for path in (data_folder("templates") / "documents").glob("*.html"))


def _next_language(begun: str) -> list[str]:
    """Languages behind those that are there already."""
    from generator.base.assets import languages

    before, comma, last = begun.rpartition(",")
    given = before.split(",")
    return [before + comma + name for name in _beginning(last, languages()) if name not in given]


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
    shell_complete=lambda context, parameter, begun: _beginning(begun, _documents()),
    help="Which document; if left out, all that are not made only on request.",
)
LANG = click.option(
    "--lang",
    "spoken",
    metavar="LANG,LANG",
    shell_complete=lambda context, parameter, begun: _next_language(begun),
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
EVENTS = click.option(
    "--json", "as_json", is_flag=True, help="Tell it in JSON, one event a line, and nothing else."
)
WATCH = click.option(
    "--watch",
    is_flag=True,
    help="Go on, and make again what comes from a file that is saved; Ctrl-C ends it.",
)
OPEN = click.option("--open", "open_made", is_flag=True, help="Open what was made.")
ANEW = click.option("--anew", is_flag=True, help="Make everything again, even what has not changed.")
SCHEDULER = click.option(
    "--scheduler", metavar="ADDRESS", help="Make on the Dask cluster there, such as tcp://HOST:8786."
)

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
    SCHEDULER,
    WATCH,
    OPEN,
    EVENTS,
)
"""In the order in which ``--help`` tells them."""


def options_of_make(command: Decorated) -> Decorated:
    """Give a function all that ``make`` can be told."""
    for option in reversed(_OF_MAKE):
        command = option(command)
    return command
