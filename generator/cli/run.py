"""Runs one command line: catches every error once, and turns it into words and an exit code."""

from __future__ import annotations

import errno
import os
import sys
import traceback
from collections.abc import Sequence

import click

from generator.base.errors import RimfoldError
from generator.cli import commands
from generator.cli.speech import language_of, speak, told


def run(arguments: Sequence[str]) -> int:
    """Run one command line and return its exit code; only ``--debug`` shows a traceback."""
    debug = "--debug" in arguments
    speak(language_of(os.environ))
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
        click.echo(told(error), err=True)
        return error.exit_code
    except BrokenPipeError:
        sys.stderr.close()
        return 1
    except MemoryError:
        click.echo("there was not enough memory; close other programs, then run the command again", err=True)
        return 1
    except OSError as error:
        if debug:
            traceback.print_exc()
        click.echo(_refused_by_the_system(error), err=True)
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


def _refused_by_the_system(error: OSError) -> str:
    """Words for a file or a disk of the machine that did not do its part, where no room had better ones."""
    where = f" ({error.filename})" if error.filename else ""
    if error.errno in (errno.ENOSPC, errno.EDQUOT):
        return f"the disk is full{where}; make room, then run the command again"
    reason = (error.strerror or str(error)).lower()
    return (
        f"the system refused something that Rimfold needs: {reason}{where}; see that you may read and write "
        "there, then run the command again; if that does not help, run it with --debug right after rimfold, "
        "and report what it prints"
    )
