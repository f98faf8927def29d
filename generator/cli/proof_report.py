"""``proof``: which document a file is, what is asked of it, and what came of it, in words or as JSON."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
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
from generator.base.message import Message, joined, message, plural
from generator.base.reasons import reason
from generator.cli.chosen import no_size
from generator.cli.speech import said

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
            raise UsageError(
                message("{path} is a folder", path=str(file)), message("name one PDF file in it")
            )
        if size > LARGEST * 1_000_000:
            raise UsageError(
                message(
                    "{path} has {size} MB; files of up to {most} MB are proved, and Rimfold's own have a few",
                    path=str(file),
                    size=f"{size / 1_000_000:.0f}",
                    most=LARGEST,
                ),
                message("name another file"),
            )
        content = file.read_bytes()
    except OSError as error:
        raise UsageError(
            message("{path} cannot be read: {reason}", path=str(file), reason=reason(error)),
            message("name a PDF file that is there"),
        ) from error
    wrong = unreadable(content)
    if wrong:
        raise UsageError(
            message("{path} {wrong}", path=str(file), wrong=wrong), message("name a PDF that Rimfold made")
        )
    return content


def wish(asked: Asked, recipe: Path | None) -> Wish:
    """What the proof asks of a file. Raises UsageError where nobody knows which document it is."""
    from generator.press.wish import Wish

    if recipe is None:
        if asked.document or asked.size or asked.language or asked.wishes != NO_WISHES:
            raise UsageError(
                message(
                    "--document, --size, --lang, --units, --paper, --print-size and --tone are for a recipe"
                ),
                message("add --recipe RECIPE"),
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
            message("the name of {path} does not say which document it is", path=str(asked.file)),
            message("add --document with one of {known}", known=", ".join(kinds)),
        )
    spoken = asked.language or (asked.parts[1] if asked.parts[1:] else asked.says)
    if not spoken:
        raise UsageError(
            message("{path} does not say which language it is in", path=str(asked.file)),
            message("add --lang with one of {known}", known=", ".join(known_languages())),
        )
    languages = build.spoken([spoken])
    examined = examine(recipe)
    works = {work.size.name: work for work in examined.works}
    own = [*works.values()]
    if kinds[kind].scope == "size":
        own = [works[_size(asked, list(works), recipe)]]
    found = jobs_for(examined.works, own, [kind], examined.roster)
    if not found.jobs:
        raise UsageError(
            joined(found.skipped, "; "),
            message("name the recipe that {path} was made from", path=str(asked.file)),
        )
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
            message("the folder of {path} does not say which size it is", path=str(asked.file)),
            message("add --size with one of {known}", known=", ".join(known)),
        )
    if size not in known:
        raise no_size(recipe, size, known)
    return size


def in_words(file: Path, found: Proof) -> int:
    """Print a line for each of the first faults, or that there is none, then what was left out. Returns the
    exit code."""
    for fault in found.faults[:PAGE_FAULT_LIMIT]:
        click.echo(said(replace(fault, file=str(file)).line))
    for line in _outcome(str(file), found):
        click.echo(said(line))
    return _code(found)


def _outcome(file: str, found: Proof) -> Iterator[Message]:
    """What came of it, line by line."""
    rest = len(found.faults) - PAGE_FAULT_LIMIT
    if rest > 0:
        yield message("and {rest} more, which --json tells", rest=rest)
    pages = plural("{count} pages", "{count} page", count=found.pages)
    if found.faults:
        faults = plural("{count} faults", "{count} fault", count=len(found.faults))
        yield message("{file}: fails: {faults} on {pages}", file=file, faults=faults, pages=pages)
        if not (file.lower().endswith(_PRINT) or found.creator.startswith(OURS)):
            yield message(
                "{file} does not say that Rimfold made it: its faults are for whoever did", file=file
            )
    else:
        rules = ", ".join(found.rules)
        yield message("{file}: passes: {pages}, rules: {rules}", file=file, pages=pages, rules=rules)
    if found.left_out:
        yield message("left out: {rules}", rules=_listed(found.left_out))


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


def _listed(left_out: Mapping[str, Message]) -> Message:
    """Rules with the reason why each was not asked, those of one reason together."""
    by_reason: dict[Message, list[str]] = {}
    for rule, why in left_out.items():
        by_reason.setdefault(why, []).append(rule)
    return joined(
        (
            message("{rules} ({reason})", rules=", ".join(rules), reason=why)
            for why, rules in by_reason.items()
        ),
        "; ",
    )
