"""``--watch``: what comes from a file that is saved is made again, until Ctrl-C."""

from __future__ import annotations

import os
from dataclasses import replace
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING

from generator.answers import Line, standing
from generator.base.errors import HandsError, RimfoldError
from generator.base.readings import Readings, absolute, hash_of
from generator.cli.opening import open_files
from generator.cli.round import OfRecipe, Request, Round, one_round
from generator.hands import Processes

if TYPE_CHECKING:
    from generator.cli.telling import Teller

LOOK = 2000
"""Files are looked at so often (ms) though nobody was told of a change: some disks tell nothing, and a file
may be a link to another folder."""
PAUSE = 100
"""A program that saves may write more than once; it is through when nothing came for so long (ms)."""
_OTHER_RIMFOLD = "Rimfold itself was changed meanwhile, so that nothing more can be made; start it again"


def go_on(request: Request, teller: Teller, *, open_made: bool = False) -> int:
    """Make recipes, then make again what comes from each file that is saved. Returns the exit code.

    Ctrl-C ends it. Raises UsageError for wishes that nobody can meet.
    """
    watched = _Watched(request, teller)
    try:
        code = watched.first(open_made=open_made)
        return watched.until_ended() if watched.files else code
    except KeyboardInterrupt:
        # It is how this is meant to end.
        return 0
    finally:
        teller.close()
        watched.close()


class _Watched:
    """Recipes with the files that they were made from, as those were then."""

    def __init__(self, request: Request, teller: Teller) -> None:
        self.request, self.teller = request, teller
        self.standing = standing()
        self.files: dict[Path, Readings] = {}
        self.texts: dict[Path, bytes] = {}
        """What each recipe said when it was read last."""
        self.good: dict[Path, bytes] = {}
        """What it said when it was made last: what changed since is told."""
        # The same processes make every round: most of a small change would be starting them.
        self.hands = Processes()

    def first(self, *, open_made: bool) -> int:
        """Make everything. Returns the exit code so far. Raises UsageError, HandsError."""
        found = self._round(self.request)
        if open_made:
            open_files(found, self.teller)
        self.teller.brief = True
        return found.code

    def until_ended(self) -> int:
        """Wait for files that are saved, for ever. Returns an exit code if it cannot go on."""
        from watchfiles import watch

        while True:
            folders = self._folders()
            waiting = watch(
                *folders,
                watch_filter=None,
                step=PAUSE,
                rust_timeout=LOOK,
                yield_on_timeout=True,
                raise_interrupt=True,
                recursive=False,
                ignore_permission_denied=True,
            )
            for _ in waiting:
                saved = self._saved()
                if not saved:
                    continue
                if standing() != self.standing:
                    self.teller.told(Line(_OTHER_RIMFOLD, warning=True))
                    return RimfoldError.exit_code
                self._again(saved)
                if self._folders() != folders:
                    # A recipe names a file elsewhere now.
                    break

    def close(self) -> None:
        """Whoever made pages may go."""
        self.hands.__exit__(None, None, None)

    def _folders(self) -> set[Path]:
        """Where the files lie, or would lie."""
        return {_there(path) for files in self.files.values() for path in files}

    def _saved(self) -> list[Path]:
        """Files that are no longer as they were when something was made from them."""
        now = {path: hash_of(path) for files in self.files.values() for path in files}
        return [
            path
            for path in now
            if any(files.get(path, now[path]) != now[path] for files in self.files.values())
        ]

    def _again(self, saved: list[Path]) -> None:
        """Make again what comes from some files, and say in a line for each recipe what changed."""
        before = dict(self.files)
        recipes = tuple(recipe for recipe, files in before.items() if not files.keys().isdisjoint(saved))
        self.teller.saved([shown(path) for path in saved])
        good = dict(self.good)
        try:
            found = self._round(replace(self.request, recipes=recipes, anew=False))
        except HandsError as error:
            self.teller.failed(error)
            self.close()
            self.hands = Processes()
            # Saved once more, it is tried once more.
            for recipe in recipes:
                self.files[recipe] = {path: hash_of(path) for path in before[recipe]}
            return
        for recipe in recipes:
            own = absolute(recipe)
            parts = [self._what(recipe, good.get(recipe, b""))] if own in saved else []
            parts += [f"{path.name} changed" for path in saved if path in before[recipe] and path != own]
            self.teller.summed_up(f"{recipe.name}: {', '.join(parts)}; {outcome(found.recipes[recipe])}")

    def _round(self, request: Request) -> Round:
        """Make some recipes. Raises HandsError if whoever made pages was ended."""
        texts = {recipe: _bytes_of(recipe) for recipe in request.recipes}
        found = one_round(request, self.teller, self.standing, self.hands)
        for recipe, of in found.recipes.items():
            if not of.readings:
                # Another one has its name, so that neither can be made.
                continue
            self.files[recipe] = dict(of.readings)
            if sha256(texts[recipe]).hexdigest() == of.readings.get(absolute(recipe)):
                self.texts[recipe] = texts[recipe]
                if not of.failed:
                    self.good[recipe] = texts[recipe]
        return found

    def _what(self, recipe: Path, before: bytes) -> str:
        """What a recipe says otherwise than when it was made last, or that it changed."""
        from generator.examine import outlines
        from generator.recipe.differences import differences
        from generator.recipe.read import parse_recipe

        try:
            old, new = (
                parse_recipe(text.decode("utf-8-sig"), recipe, outlines())
                for text in (before, self.texts.get(recipe, b""))
            )
        except (RimfoldError, UnicodeDecodeError):
            return "the recipe changed"
        return differences(old, new) or "no value changed"


def outcome(of: OfRecipe) -> str:
    """How many files of a recipe are new."""
    total, new = len(of.files), len(of.new)
    if not total:
        return "nothing is made until its fault is mended" if of.failed else "nothing is to be made"
    count = f"{new or 'none'} of {total} files {'is' if new < 2 else 'are'} new"
    return f"{count}, and a part was not made" if of.failed else count


def shown(path: Path) -> Path:
    """A path from where the command runs, if it lies below."""
    here = Path.cwd()
    return path.relative_to(here) if path.is_relative_to(here) else path


def _there(path: Path) -> Path:
    """The folder of a file, or the nearest one above it that there is."""
    return next(folder for folder in path.parents if folder.is_dir())


def _bytes_of(path: Path) -> bytes:
    """The bytes of a file, none if there is none that can be read."""
    try:
        return path.read_bytes() if os.path.isfile(path) else b""
    except OSError:
        return b""
