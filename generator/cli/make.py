"""``rimfold make``: the sheets of one or more recipes."""

from __future__ import annotations

from typing import Any

import click

from generator.base.edition import REFERENCE
from generator.base.errors import RimfoldError, UsageError
from generator.base.message import message
from generator.cli.options import options_of_make
from generator.cli.speech import known, speak, speaking


@click.command()
@options_of_make
def make(as_json: bool, watch: bool, open_made: bool, scheduler: str | None, **asked: Any) -> int:
    """Print the sheets of one or more recipes.

    Language, units, paper, print and tone are those of the recipe, unless an option says otherwise. What an
    earlier call has made from the same is not made again. What was made, and what is wrong, is told in the
    first language of --lang, else in that of your system; with --json in English.
    """
    from generator.answers import standing
    from generator.cli.opening import open_files
    from generator.cli.round import Request, one_round
    from generator.cli.telling import Events, People, Tally

    request = Request(**asked)
    if as_json:
        # A program that reads is told in one language.
        speak(REFERENCE)
    elif request.spoken:
        speak(known(request.spoken.partition(",")[0].strip(), speaking()))
    teller = Events() if as_json else People()
    try:
        if watch:
            from generator.cli.watch import go_on

            if scheduler:
                raise UsageError(
                    message("--watch makes on this machine alone"),
                    message("leave out --scheduler, or --watch"),
                )

            return go_on(request, teller, open_made=open_made)
        if scheduler:
            from generator.cluster import reached

            with reached(scheduler) as hands:
                found = one_round(request, teller, standing(), hands)
        else:
            found = one_round(request, teller, standing())
        if open_made:
            open_files(found, teller)
        return found.code
    except RimfoldError as error:
        if not as_json:
            raise
        teller.failed(error)
        teller.end(Tally(failed=1))
        return error.exit_code
