"""``--open``: what was made is opened by the program that the system has for it."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path
from typing import TYPE_CHECKING

from generator.answers import Line
from generator.base.message import message
from generator.base.outside import environment
from generator.base.readings import absolute
from generator.cli.speech import said

if TYPE_CHECKING:
    from generator.cli.round import Round
    from generator.cli.telling import Teller

OPENERS = ("xdg-open", "open")
"""Of Linux, and of macOS."""
AT_ONCE = 3
"""No more documents are opened one by one; of more than that, the folders of their recipes."""


def open_files(found: Round, teller: Teller) -> None:
    """Open the documents of a round; where no program is there for it, that is told and no failure."""
    places = to_open(found)
    opener = next((path for name in OPENERS if (path := shutil.which(name))), None)
    if places and opener is None:
        teller.told(
            Line(said(message("nothing here opens files (looked for xdg-open and open)")), warning=True)
        )
        return
    for place in places:
        assert opener is not None
        # A path from the root is never taken for an option, and no shell reads it. It goes on without us.
        subprocess.Popen(
            [opener, str(absolute(place))],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
            env=environment(),
        )


def to_open(found: Round) -> list[Path]:
    """Documents to be read, those that were there already too; or the folders of their recipes."""
    files = {
        recipe: [Path(file.path) for file in of.files if file.role == "document"]
        for recipe, of in found.recipes.items()
    }
    all_files = [path for several in files.values() for path in several]
    if len(all_files) <= AT_ONCE:
        return all_files
    return list(dict.fromkeys(_home(several) for several in files.values() if several))


def _home(files: list[Path]) -> Path:
    """The folder that holds all of a recipe's documents."""
    home = files[0].parent
    while any(not path.is_relative_to(home) for path in files):
        home = home.parent
    return home
