"""``proof``: which document a file is, what is asked of it, and what came of it, in words or as JSON."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from generator.base.edition import PAPERS, PRINT_SIZES, UNITS, PaperName, PrintSize, Units, Wishes
from generator.base.errors import ProofError, UsageError

if TYPE_CHECKING:
    from generator.press.proof import Proof
    from generator.press.wish import Wish

LARGEST = 100
"""Megabytes of a file that is read: the largest of our own has some two."""
_PRINT = ".print.pdf"


@dataclass(frozen=True)
class Asked:
    """Which document a file is, as its name, its folder and whoever asks say."""

    file: Path
    document: str | None = None
    size: str | None = None
    language: str | None = None
    says: str = ""
    """The language that the file itself says it is in."""

    @property
    def print_sheets(self) -> bool:
        """Whether it is the file for a printer, beside the one to read."""
        return self.file.name.lower().endswith(_PRINT)

    @property
    def print_size(self) -> PrintSize | None:
        """The size of lettering that the name tells, if it does."""
        return next((size for size in PRINT_SIZES if size in self.parts[2:]), None)

    @property
    def parts(self) -> list[str]:
        """The name without its endings: the kind of document and its language."""
        name = self.file.name
        return name[: -len(_PRINT if self.print_sheets else self.file.suffix)].split(".")


@click.command()
@click.argument("file", type=click.Path(path_type=Path), metavar="FILE.pdf")
@click.option(
    "--recipe",
    type=click.Path(path_type=Path),
    metavar="RECIPE",
    help="What it was made from: traces numbers.",
)
@click.option("--document", metavar="KIND", help="Which document it is, if its name does not say so.")
@click.option("--size", metavar="S", help="Which size it tells of, if its folder does not say so.")
@click.option("--lang", metavar="LANG", help="The language that it is in, if its name does not say so.")
@click.option("--units", type=click.Choice(UNITS), help="Its units, if the recipe has others.")
@click.option(
    "--paper",
    type=click.Choice(list(PAPERS), case_sensitive=False),
    help="Its paper, if the recipe has another.",
)
@click.option("--json", "as_json", is_flag=True, help="Print JSON, and nothing else, on the output.")
def proof(
    file: Path,
    recipe: Path | None,
    document: str | None,
    size: str | None,
    lang: str | None,
    units: Units | None,
    paper: PaperName | None,
    as_json: bool,
) -> int:
    """Read a finished PDF back and put it to the rules that every page must pass: exit code 0, else 1."""
    from generator.press.proof import language_of, prove_alone

    pdf = read(file)
    asked = Asked(file, document, size, lang, language_of(pdf))
    found = prove_alone(pdf, wish(asked, recipe, units, paper))
    return (in_json if as_json else in_words)(file, found)


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


def wish(asked: Asked, recipe: Path | None, units: Units | None, paper: PaperName | None) -> Wish:
    """What the proof asks of a file. Raises UsageError where nobody knows which document it is."""
    from generator.press.wish import Wish

    if recipe is None:
        if asked.document or asked.size or asked.language or units or paper:
            raise UsageError(
                "--document, --size, --lang, --units and --paper are for a recipe; add --recipe RECIPE"
            )
        return Wish(print_sheets=asked.print_sheets)
    from generator import build, making
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
    wishes = Wishes(languages, units, paper=paper, print_size=asked.print_size)
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
    """Print a line for each fault, or that there is none, then what was left out. Returns the exit code."""
    for fault in found.faults:
        click.echo(str(replace(fault, file=str(file))))
    pages = f"{found.pages} page{'' if found.pages == 1 else 's'}"
    if found.faults:
        count = len(found.faults)
        click.echo(f"{file}: fails: {count} fault{'' if count == 1 else 's'} on {pages}")
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
