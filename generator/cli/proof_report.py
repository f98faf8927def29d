"""``proof``: which document a file is, what is asked of it, and what came of it, in words or as JSON."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from generator.base.edition import (
    NO_WISHES,
    PAPERS,
    PRINT_SIZES,
    PaperName,
    PrintSize,
    Wishes,
)
from generator.base.errors import PAGE_FAULT_LIMIT, ProofError, UsageError

if TYPE_CHECKING:
    from generator.press.proof import Proof
    from generator.press.wish import Wish

LARGEST = 100
"""Megabytes of a file that is read: the largest of our own has some two."""
_PRINT = ".print.pdf"
OURS = "Rimfold "
"""How the name of the program begins that our files come from; sheets for a printer have none."""


@dataclass(frozen=True)
class Asked:
    """Which document a file is, as its name, its folder and whoever asks say."""

    file: Path
    document: str | None = None
    size: str | None = None
    language: str | None = None
    says: str = ""
    """The language that the file itself says it is in."""
    sheet: tuple[float, float] | None = None
    """Width and height of its first page, mm."""
    wishes: Wishes = NO_WISHES
    """What else whoever asks says of it."""

    @property
    def print_sheets(self) -> bool:
        """Whether it is the file for a printer, beside the one to read."""
        return self.file.name.lower().endswith(_PRINT)

    @property
    def print_size(self) -> PrintSize | None:
        """The size of lettering, if it is told, or the name does: one that has a language and no size is
        in normal print, even where the recipe asks for larger and there was no room."""
        named = next((size for size in PRINT_SIZES if size in self.parts[2:]), None)
        ours = self.document is None and len(self.parts) > 1
        return self.wishes.print_size or named or ("normal" if ours else None)

    @property
    def paper(self) -> PaperName | None:
        """Its paper, if it is told, or its pages are of a usual size; those for a printer are of another."""
        if self.wishes.paper or self.sheet is None or self.print_sheets:
            return self.wishes.paper
        short, long = sorted(self.sheet)
        alike = (
            each for each in PAPERS.values() if max(abs(each.width - short), abs(each.height - long)) < 1
        )
        return next((each.name for each in alike), None)

    @property
    def parts(self) -> list[str]:
        """The name without its endings: the kind of document and its language."""
        name = self.file.name
        return name[: -len(_PRINT if self.print_sheets else self.file.suffix)].split(".")


def read(file: Path) -> bytes:
    """A file to be proved. Raises UsageError for one that is no PDF that can be read."""
    from generator.press.proof import unreadable

    try:
        size = file.stat().st_size
        if file.is_dir():
            raise UsageError(f"{file} is a folder; name one PDF file in it")
        if size > LARGEST * 1_000_000:
            raise UsageError(
                f"{file} has {size / 1_000_000:.0f} MB; files of up to {LARGEST} MB are proved, and "
                "Rimfold's own have a few; name another file"
            )
        content = file.read_bytes()
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise UsageError(f"{file} cannot be read: {reason}; name a PDF file that is there") from error
    wrong = unreadable(content)
    if wrong:
        raise UsageError(f"{file} {wrong}; name a PDF that Rimfold made")
    return content


def wish(asked: Asked, recipe: Path | None) -> Wish:
    """What the proof asks of a file. Raises UsageError where nobody knows which document it is."""
    from generator.press.wish import Wish

    if recipe is None:
        if asked.document or asked.size or asked.language or asked.wishes != NO_WISHES:
            raise UsageError(
                "--document, --size, --lang, --units, --paper, --print-size and --tone are for a recipe; "
                "add --recipe RECIPE"
            )
        return Wish(print_sheets=asked.print_sheets)
    from generator import build, making
    from generator.base.assets import languages as known_languages
    from generator.examine import examine
    from generator.jobs import jobs_for
    from generator.sheets.document import document_kinds

    kinds = document_kinds()
    kind = asked.document or asked.parts[0]
    if kind not in kinds:
        raise UsageError(
            f"the name of {asked.file} does not say which document it is; add --document with one of "
            f"{', '.join(kinds)}"
        )
    spoken = asked.language or (asked.parts[1] if asked.parts[1:] else asked.says)
    if not spoken:
        raise UsageError(
            f"{asked.file} does not say which language it is in; add --lang with one of "
            f"{', '.join(known_languages())}"
        )
    languages = build.spoken([spoken])
    examined = examine(recipe)
    works = {work.size.name: work for work in examined.works}
    own = [*works.values()]
    if kinds[kind].scope == "size":
        own = [works[_size(asked, list(works), recipe)]]
    found = jobs_for(examined.works, own, [kind], examined.roster)
    if not found.jobs:
        raise UsageError(f"{'; '.join(found.skipped)}; name the recipe that {asked.file} was made from")
    job = found.jobs[0]
    wishes = replace(asked.wishes, languages=languages, paper=asked.paper, print_size=asked.print_size)
    edition = job.works[0].size.editions(wishes)[0]
    return replace(making.wish_for(job, kind, edition), print_sheets=asked.print_sheets)


def _size(asked: Asked, known: list[str], recipe: Path) -> str:
    """The size that a file tells of: asked for, or by its folder, or the only one."""
    folder = asked.file.absolute().parent.name
    size = asked.size or (folder if folder in known else known[0] if len(known) == 1 else None)
    if size is None:
        raise UsageError(
            f"the folder of {asked.file} does not say which size it is; add --size with one of "
            f"{', '.join(known)}"
        )
    if size not in known:
        raise UsageError(f"{recipe} has no size {size}; it has {', '.join(known)}; choose one of them")
    return size


def in_words(file: Path, found: Proof) -> int:
    """Print a line for each of the first faults, or that there is none, then what was left out. Returns the
    exit code."""
    for fault in found.faults[:PAGE_FAULT_LIMIT]:
        click.echo(str(replace(fault, file=str(file))))
    rest = len(found.faults) - PAGE_FAULT_LIMIT
    if rest > 0:
        click.echo(f"and {rest} more, which --json tells")
    pages = f"{found.pages} page{'' if found.pages == 1 else 's'}"
    if found.faults:
        count = len(found.faults)
        click.echo(f"{file}: fails: {count} fault{'' if count == 1 else 's'} on {pages}")
        if not (Asked(file).print_sheets or found.creator.startswith(OURS)):
            click.echo(f"{file} does not say that Rimfold made it: its faults are for whoever did")
    else:
        click.echo(f"{file}: passes: {pages}, rules: {', '.join(found.rules)}")
    if found.left_out:
        click.echo(f"left out: {_listed(found.left_out)}")
    return _code(found)


def in_json(file: Path, found: Proof) -> int:
    """Print the same as JSON. Returns the exit code."""
    told = {
        "file": str(file),
        "passes": not found.faults,
        "pages": found.pages,
        "rules": list(found.rules),
        "left_out": found.left_out,
        "faults": [
            {
                "rule": fault.rule,
                "page": fault.page,
                "left_mm": fault.at[0] if fault.at else None,
                "top_mm": fault.at[1] if fault.at else None,
                "text": fault.text,
                "wrong": fault.wrong,
                "fix": fault.fix,
            }
            for fault in found.faults
        ],
    }
    click.echo(json.dumps(told, indent=2, ensure_ascii=False))
    return _code(found)


def _code(found: Proof) -> int:
    return ProofError.exit_code if found.faults else 0


def _listed(left_out: Mapping[str, str]) -> str:
    """Rules with the reason why each was not asked, those of one reason together."""
    by_reason: dict[str, list[str]] = {}
    for rule, reason in left_out.items():
        by_reason.setdefault(reason, []).append(rule)
    return "; ".join(f"{', '.join(rules)} ({reason})" for reason, rules in by_reason.items())
