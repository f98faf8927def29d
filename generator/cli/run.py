"""Runs one command line: catches every error once, and turns it into words and an exit code."""

from __future__ import annotations

import sys
import traceback
from collections.abc import Sequence

import click

from generator.base.errors import RimfoldError
from generator.cli import commands


def run(arguments: Sequence[str]) -> int:
    """Run one command line and return its exit code; only ``--debug`` shows a traceback."""
    debug = "--debug" in arguments
    try:
        code = commands.rimfold.main(list(arguments), prog_name="rimfold", standalone_mode=False)
        return int(code or 0)
    except click.exceptions.Abort:
        click.echo("stopped", err=True)
        return 1
    except click.ClickException as error:
        error.show()
        return error.exit_code
    except RimfoldError as error:
        if debug:
            traceback.print_exc()
        click.echo(str(error), err=True)
        return error.exit_code
    except BrokenPipeError:
        sys.stderr.close()
        return 1
    except Exception as error:
        if debug:
            traceback.print_exc()
        else:
            click.echo(
                f"Rimfold failed inside itself ({type(error).__name__}: {error}). This is a fault of the "
                "program, not of your recipe. Run the command again with --debug right after rimfold, and "
                "report what it prints.",
                err=True,
            )
        return 1
