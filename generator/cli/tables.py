"""What is printed on the terminal: a table for people, one object in JSON for programs."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

import click

from generator.cli.plain_table import WIDTH, plain_line, plain_output, plain_table


def print_json(sizes: dict[str, Any]) -> None:
    """One object on the output."""
    click.echo(json.dumps({"sizes": sizes}, indent=2, ensure_ascii=False))


def print_table(
    title: str, heads: Sequence[str], rows: Sequence[Sequence[str]], right: Sequence[str] = ("value",)
) -> None:
    """A table as wide as its words, on a terminal as wide as that."""
    if plain_output() and all(map(plain_line, title.splitlines())):
        drawn = plain_table(heads, rows, right)
        if drawn is not None:
            click.echo("".join(f"{line}\n" for line in title.splitlines()) + drawn, nl=False)
            return
    from rich import box
    from rich.console import Console
    from rich.table import Table
    from rich.text import Text

    console = Console(highlight=False, markup=False, emoji=False)
    if not console.is_terminal:
        console.width = WIDTH
    for line in title.splitlines():
        console.print(Text(line))
    table = Table(box=box.SIMPLE_HEAD, pad_edge=False)
    for head in heads:
        table.add_column(head, justify="right" if head in right else "left", no_wrap=head in right)
    for row in rows:
        table.add_row(*(Text(cell) for cell in row))
    console.print(table)
