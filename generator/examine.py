"""From a recipe's text to shades that are measured, judged and planned: everything before a drawing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from generator.base.assets import languages
from generator.base.edition import ENGLISH, Voice
from generator.base.errors import (
    ClassError,
    Fault,
    KitError,
    TechniqueError,
    Warning_,
)
from generator.base.message import message
from generator.measured import judged_sizes, once
from generator.measured import outlines as outlines
from generator.measures.measure import Measures
from generator.plan.build import all_parts, contradictions, load_technique, plan
from generator.plan.times import load_times
from generator.plan.work import Work as Work
from generator.recipe.beside import find_file
from generator.recipe.models import SizeRecipe
from generator.recipe.read import Recipe, parse_recipe, read_recipe
from generator.shape.shade import Shade
from generator.sheets.formatting import two_of
from generator.sheets.spoken import unspoken
from generator.sheets.wording import load_words

if TYPE_CHECKING:
    from generator.lesson.roster import Roster
    from generator.measures.fit import Fit, Remnant
    from generator.plan.kit import KitContents
    from generator.plan.kit_list import KitList
    from generator.plan.model import Plan
    from generator.recipe.taught_class import TaughtClass

# Kits, classes and remnants are imported where a recipe has them: most have none, and what cuts cloth is most
# of what there is to load.


@dataclass(frozen=True)
class Examined:
    """A recipe that reads clean and whose shades can be made."""

    recipe: Recipe
    works: tuple[Work, ...]
    warnings: tuple[Warning_, ...]
    roster: Roster | None = None
    """Who is in the class and makes what, where the recipe has one."""

    def work(self, name: str) -> Work | None:
        """The size of this name."""
        return next((work for work in self.works if work.size.name == name), None)


def examine(path: Path, text: str | None = None, *, alone: bool = False, only: str | None = None) -> Examined:
    """Read, shape, measure, judge and plan every size of a recipe; ``text`` is read in the file's place.

    ``alone``: its class is left out, since it is somebody's shade in another recipe's class. ``only``: no
    other size is looked at (all, where none is called so), nor its kits. Raises
    RecipeError for what does not read clean; GeometryError with the faults of all sizes for shades that
    cannot or must not be made; TechniqueError for a technique that cannot be used, or has no words; KitError
    for a list of parts that cannot be used, or for kits that do not fit it; ClassError for a class that
    cannot be held so.
    """
    recipe = read_recipe(path, outlines()) if text is None else parse_recipe(text, path, outlines())
    sizes = [size for size in recipe.sizes if size.name == only] or recipe.sizes
    ways = _Ways(path.parent, sizes)
    first = recipe.sizes[0]
    listed = None
    if recipe.kits and only is None:
        from generator.plan.kit import kit_faults
        from generator.plan.kit_list import load_kit

        listed = load_kit(recipe.kits.parts, path.parent, first.span("kits.parts"))
        wrong = kit_faults(first, listed, all_parts(ways.techniques.values()))
        if wrong:
            raise KitError(wrong)
    works, warnings = ways.worked_out(sizes, listed)
    warnings = [*recipe.warnings, *warnings]
    if listed:
        from generator.plan.kit import kit_notes

        warnings += kit_notes(first, [work.kit for work in works if work.kit])
    called = None
    if recipe.taught and not alone:
        called, more = _roster(recipe.taught, path, works, ways)
        warnings += more
    return Examined(recipe, tuple(works), tuple(once(warnings)), called)


class _Ways:
    """The techniques and forms of times of some sizes, read once."""

    def __init__(self, folder: Path, sizes: Sequence[SizeRecipe]) -> None:
        self.folder = folder
        self.techniques = {
            name: load_technique(name, folder, size.span("technique"))
            for name, size in {size.technique: size for size in sizes}.items()
        }
        first = sizes[0]
        self.times = {
            technique.name: load_times(first.times, technique, folder, first.span("times"))
            for technique in self.techniques.values()
        }

    def worked_out(
        self, sizes: Sequence[SizeRecipe], listed: KitList | None = None
    ) -> tuple[list[Work], list[Warning_]]:
        """Shape, measure, judge and plan sizes. Raises GeometryError with all faults, TechniqueError."""
        judged, warnings = judged_sizes(
            sizes,
            lambda size, measures: contradictions(size, measures, self.techniques[size.technique]),
        )
        # Planning takes longest, and is in vain where a size is refused.
        works: list[Work] = []
        unsaid: list[Fault] = []
        for size, shade, measures in judged:
            technique = self.techniques[size.technique]
            planned = plan(size, measures, technique, self.times[technique.name])
            kit = _kit(size, shade, measures, planned, listed) if listed else None
            works.append(Work(size, shade, measures, planned, kit))
            unsaid += unspoken(planned, load_words(ENGLISH).bound(planned, measures))
        if unsaid:
            raise TechniqueError(once(unsaid))
        return works, warnings


def _kit(size: SizeRecipe, shade: Shade, measures: Measures, planned: Plan, listed: KitList) -> KitContents:
    from generator.plan.kit import kit_contents

    return kit_contents(size, shade, measures, planned, listed)


def _roster(
    taught: TaughtClass, path: Path, works: Sequence[Work], ways: _Ways
) -> tuple[Roster, list[Warning_]]:
    """Everybody in a class with what they make. Raises what ``examine`` raises."""
    from generator.lesson.attend import as_attended, chosen_work
    from generator.lesson.prices import load_prices
    from generator.lesson.roster import Guest, roster

    first = works[0].size
    prices = load_prices(taught.stock, path.parent, first.span("class.stock"))
    others: dict[str, tuple[Sequence[Work], _Ways]] = {}
    guests: list[Guest] = []
    warnings: list[Warning_] = []
    made: dict[tuple[str, str], Work] = {}
    for place, attendee in enumerate(taught.attendees):
        key = f"class.people.{place}" if f"class.people.{place}" in first.spans else "class.people"
        known, own = works, ways
        if attendee.recipe:
            if attendee.recipe not in others:
                found = find_file(
                    attendee.recipe, "", message("recipe"), path.parent, first.span(f"{key}.recipe")
                )
                if isinstance(found, Fault):
                    raise ClassError([found])
                other = examine(found, alone=True)
                others[attendee.recipe] = other.works, _Ways(found.parent, other.recipe.sizes)
            known, own = others[attendee.recipe]
        work = chosen_work(known, attendee, first.span(key))
        size = as_attended(work.size, attendee, taught, first, key)
        if size is not work.size:
            # People who make the same on the same cloth share one plan.
            same = (work.size.recipe, repr(size.model_dump(exclude={"spans", "stated", "kits", "taught"})))
            if same not in made:
                (worked,), more = own.worked_out([size])
                made[same] = worked
                warnings += more
            work = replace(made[same], size=size)
        guests.append(Guest(place + 1, attendee.name, work, attendee.cloth))
    tools = {tool for guest in guests for tool in guest.work.plan.tools}
    return roster(taught, guests, prices, _tool_names(tools, taught.tools)), warnings


def _tool_names(tools: Iterable[str], wanted: Iterable[str]) -> dict[str, str]:
    """Every name by which a recipe may call a tool: its own, or how the sheets call it, in any language.

    The other languages are only read for what is ``wanted`` and is no English name.
    """
    wanted, names = set(wanted), dict[str, str]()
    for language in (ENGLISH.language, *(code for code in languages() if code != ENGLISH.language)):
        for called, tool in _called(sorted(tools), language):
            names.setdefault(called, tool)
        if wanted <= names.keys():
            break
    return names


def _called(tools: Sequence[str], language: str) -> Iterator[tuple[str, str]]:
    """How a language calls tools, in the letters that a recipe is read in; of two things also the first."""
    words, both = load_words(Voice(language)), two_of(language)
    for tool in tools:
        yield tool.replace("-", " "), tool
        if words.has(f"tool.{tool}"):
            called = words.say(f"tool.{tool}").lower().replace("-", " ")
            yield called, tool
            yield called.partition(both)[0], tool


@dataclass(frozen=True)
class Fitted:
    """A recipe that reads clean, and what a remnant makes of each of its sizes."""

    recipe: Recipe
    remnant: Remnant
    fits: tuple[Fit, ...]


def fit_remnant(path: Path, remnant: Remnant) -> Fitted:
    """Read a recipe and lay each size on a remnant. Raises RecipeError for what does not read clean."""
    from generator.measures.fit import fit

    recipe = read_recipe(path, outlines())
    return Fitted(recipe, remnant, tuple(fit(size, remnant) for size in recipe.sizes))
