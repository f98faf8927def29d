"""``rimfold quick``: one question, no recipe. Shapes and their measures come from the outlines' own keys."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from generator.base.errors import InputError, RimfoldError, UsageError, nearest
from generator.base.message import joined, message
from generator.cli.speech import said

if TYPE_CHECKING:
    from generator.base.outline_keys import OutlineKeys
    from generator.plan.work import Work
    from generator.recipe.draft import Draft

SHEET = "crib-sheet"
STATED: Mapping[str, str] = {
    "use": "use",
    "cloth": "covering.width",
    "lamp": "lamp.diameter",
    "watts": "lamp.watts",
    "struts": "ring.struts",
    "hand": "makers.hand",
}
"""Options and the keys of a recipe that they stand for."""
LAMPLESS = message(
    "no lamp is stated, so its distance from the covering cannot be checked; add {text}, such as {example}",
    text="--lamp",
    example="--lamp 60mm",
)
"""What a recipe's warning says, for one who has no recipe."""


class Shaped(click.Command):
    """A command whose options for optional measures, such as a corner radius, are those of the outlines."""

    def get_params(self, ctx: click.Context) -> list[click.Parameter]:
        """The written options, then one for each optional measure that some outline has."""
        written = super().get_params(ctx)
        return [*written[:-1], *(_option(key, of) for key, of in _optional().items()), *written[-1:]]

    def format_epilog(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The shapes with what their sizes look like."""
        from generator.examine import outlines
        from generator.recipe.ring_size import example, form

        with formatter.section("Shapes and sizes, measured outside the wire"):
            formatter.write_dl(
                [
                    (f"{name} {form(keys)}", f"such as {name} {example(keys)}")
                    for name, keys in outlines().items()
                ]
            )
        with formatter.indentation():
            formatter.write_text(
                "The size of a polygon is its number of sides, then across its flats. The last unit counts "
                "for all measures that have none."
            )


def _optional() -> dict[str, list[str]]:
    """Optional measures, and the outlines that have them."""
    from generator.examine import outlines

    found: dict[str, list[str]] = {}
    for name, keys in outlines().items():
        for key in keys.optional:
            found.setdefault(key, []).append(name)
    return found


def _option(key: str, of: Sequence[str]) -> click.Option:
    names = dict.fromkeys((key, key.rpartition("_")[2]))
    return click.Option(
        [key, *(f"--{name.replace('_', '-')}" for name in reversed(list(names)))],
        metavar="LENGTH",
        help=f"The {key.replace('_', ' ')} of a {', '.join(of)}.",
    )


@click.command(cls=Shaped)
@click.argument("shape")
@click.argument("size", nargs=-1, required=True)
@click.option("--height", required=True, metavar="LENGTH", help="Height of the finished shade.")
@click.option("--use", metavar="pendant|table", help="It hangs from a flex, or stands on a base.")
@click.option("--cloth", metavar="LENGTH", help="Usable width of the cloth.")
@click.option("--one-way", is_flag=True, help="The print has an up, along the cloth.")
@click.option("--lamp", metavar="LENGTH", help="The lamp at its widest, to check the gap round it.")
@click.option("--watts", metavar="NUMBER", help="The wattage marked on the lamp.")
@click.option("--struts", metavar="NUMBER", help="Arms of the fitter ring.")
@click.option("--hand", metavar="right|left", help="The hand that holds the tool.")
@click.option("--title", metavar="TEXT", help="What the shade is called.")
@click.option("--print", "printed", is_flag=True, help="Write its crib sheet, one side of A4.")
@click.option(
    "--out", type=click.Path(path_type=Path), default=Path("out"), show_default=True, help="Folder for it."
)
@click.option(
    "--save",
    type=click.Path(path_type=Path),
    metavar="FILE.yaml",
    help="Write the recipe that was used, with comments; never over a file.",
)
@click.option("--json", "as_json", is_flag=True, help="Print JSON, and nothing else, on the output.")
def quick(
    shape: str,
    size: Sequence[str],
    height: str,
    title: str | None,
    printed: bool,
    out: Path,
    save: Path | None,
    as_json: bool,
    one_way: bool,
    **options: str | None,
) -> int:
    """The numbers of one shade, without a recipe.

    \b
    rimfold quick rectangle 28x17cm --radius 2cm --height 19cm --use table
    """
    from generator.cli import overview

    if save is not None and save.exists():
        raise UsageError(
            message("{path} is already there", path=str(save)),
            message("choose another name, or move it away first"),
        )
    draft = _draft(shape, " ".join(size), height, title, options)
    if one_way:
        draft = draft.saying({"covering.direction": "one-way"})
    path = save or Path(f"quick-{draft.outline}.yaml")
    work = _examined(draft, path)
    if as_json:
        click.echo(json.dumps(overview.to_json(work), indent=2, ensure_ascii=False))
    else:
        overview.show(work)
    if printed:
        _print(work, out, quiet=as_json)
    if save is not None:
        _save(draft, save, quiet=as_json)
    return 0


def _draft(shape: str, size: str, height: str, title: str | None, options: Mapping[str, str | None]) -> Draft:
    """The recipe that the command line describes. Raises UsageError for a shape or a size that is none."""
    from generator.examine import outlines
    from generator.recipe.draft import Draft
    from generator.recipe.ring_size import ring_size, size_name
    from generator.recipe.values import ValueFault

    known = outlines()
    if shape not in known:
        close = nearest(shape, known)
        raise UsageError(
            message(
                "there is no shape “{shape}”; expected one of {known}", shape=shape, known=", ".join(known)
            ),
            message("write {text}", text=close) if close else None,
        )
    keys = known[shape]
    try:
        dimensions = ring_size(size, shape, keys)
    except ValueFault as fault:
        raise UsageError(fault.said) from fault
    dimensions |= _optional_measures(shape, keys, dimensions, options)
    stated = {key: options[option] for option, key in STATED.items() if options.get(option) is not None}
    if options.get("lamp") is None:
        if options.get("watts") is not None:
            raise UsageError(
                message("--watts says nothing of how wide the lamp is"),
                message("add --lamp, such as --lamp 60mm"),
            )
        stated["lamp"] = None
    elif options.get("watts") is None:
        stated["lamp.watts"] = None
    return Draft(title or f"My {shape}", shape, size_name(dimensions, keys), dimensions, height, stated)


def _optional_measures(
    shape: str, keys: OutlineKeys, dimensions: Mapping[str, str], options: Mapping[str, str | None]
) -> dict[str, str]:
    """Measures that stand in options of their own. Raises UsageError for one that the shape has not."""
    found = {}
    for key in _optional():
        value = options.get(key)
        if value is None:
            continue
        name = key.replace("_", " ")
        if key not in keys.optional:
            raise UsageError(
                message("a {shape} has no {name}", shape=shape, name=name),
                message("leave {option} out", option=f"--{key.replace('_', '-')}"),
            )
        if key in dimensions:
            raise UsageError(
                message(
                    "the {name} is said twice, {one} and {other}", name=name, one=dimensions[key], other=value
                ),
                message("say it once"),
            )
        found[key] = value
    return found


def _examined(draft: Draft, path: Path) -> Work:
    """The one size, computed; warnings are told. Raises UsageError with what is wrong, without a place."""
    from generator.cli.overview import reasons
    from generator.examine import examine

    try:
        examined = examine(path, draft.text())
    except InputError as error:
        if click.get_current_context().find_root().params.get("debug"):
            raise
        raise UsageError(joined(reasons(error), "\n")) from error
    (work,) = examined.works
    for warning in examined.warnings:
        if work.size.lamp is None and "lamp" in warning.text:
            warning = replace(warning, text=LAMPLESS)
        click.echo(said(warning.said), err=True)
    return work


def _print(work: Work, out: Path, *, quiet: bool) -> None:
    from generator.build import make_all
    from generator.jobs import Job

    for _, made in make_all([Job((work,), (SHEET,))], out):
        if isinstance(made, RimfoldError):
            raise made
        if not quiet:
            click.echo(said(message("{path}: its crib sheet, one side", path=str(made.documents[0][0]))))


def _save(draft: Draft, save: Path, *, quiet: bool) -> None:
    from generator.press.publish import publish

    publish(save, draft.text().encode())
    if not quiet:
        click.echo(said(message("{save}: its recipe. Change it, then: rimfold make {save}", save=str(save))))
