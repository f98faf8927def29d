"""Runs one command line: catches every error once, and turns it into words and an exit code."""

from __future__ import annotations

import errno
import os
import sys
import traceback
from collections.abc import Sequence

import click

from generator.base.errors import RimfoldError
from generator.base.message import Message, message
from generator.base.reasons import reason
from generator.cli import commands
from generator.cli.speech import language_of, said, speak, told


def run(arguments: Sequence[str]) -> int:
    """Run one command line and return its exit code; only ``--debug`` shows a traceback."""
    debug = "--debug" in arguments
    speak(language_of(os.environ))
    try:
        code = commands.rimfold.main(list(arguments), prog_name="rimfold", standalone_mode=False)
        return int(code or 0)
    except click.exceptions.Abort:
        _say(message("stopped"))
        return 1
    except click.ClickException as error:
        from generator.cli.refused import show

        show(error)
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
        no_room = message("there was not enough memory; close other programs, then run the command again")
        _say(no_room)
        return 1
    except OSError as error:
        if debug:
            traceback.print_exc()
        _say(_refused_by_the_system(error))
        return 1
    except Exception as error:
        if debug:
            traceback.print_exc()
        else:
            ours = message(
                "Rimfold failed inside itself ({name}: {error}). This is a fault of the program, not of your "
                "recipe. Run the command again with --debug right after rimfold, and report what it prints.",
                name=type(error).__name__,
                error=str(error),
            )
            _say(ours)
        return 1


def _say(what: Message) -> None:
    """On the error stream; in English where the words of the language are what is broken."""
    try:
        words = said(what)
    except Exception:
        words = str(what)
    click.echo(words, err=True)


def _refused_by_the_system(error: OSError) -> Message:
    """Words for a file or a disk of the machine that did not do its part, where no room had better ones."""
    where = f" ({error.filename})" if error.filename else ""
    if error.errno in (errno.ENOSPC, errno.EDQUOT):
        return message("the disk is full{where}; make room, then run the command again", where=where)
    return message(
        "the system refused something that Rimfold needs: {reason}{where}; see that you may read and write "
        "there, then run the command again; if that does not help, run it with --debug right after rimfold, "
        "and report what it prints",
        reason=reason(error),
        where=where,
    )
