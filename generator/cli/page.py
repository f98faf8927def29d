"""``rimfold page``: the recipes of a folder in the browser."""

from __future__ import annotations

from pathlib import Path

import click

from generator.base.errors import UsageError
from generator.base.outside import as_outside


@click.command()
@click.argument("folder", type=click.Path(path_type=Path), default=Path(), metavar="[FOLDER]")
@click.option(
    "--out",
    type=click.Path(path_type=Path),
    metavar="FOLDER",
    help="Folder for the documents.  [default: FOLDER/out]",
)
@click.option(
    "--port",
    type=click.IntRange(1024, 65535),
    metavar="NUMBER",
    help="A port of your choice; left out, one that is free.",
)
@click.option("--open/--no-open", "opened", default=True, help="Open the browser, or only say the address.")
def page(folder: Path, out: Path | None, port: int | None, opened: bool) -> int:
    """Make shades, see them and print them in the browser, on this machine alone.

    The recipes are those of FOLDER. Nobody else can open the page: it answers to this machine only, and its
    address holds a secret. End it with Ctrl-C.
    """
    try:
        from generator.page.serve import serve
    except ModuleNotFoundError as error:
        if error.name is None or error.name.startswith("generator"):
            raise
        raise UsageError(
            f"the page needs {error.name}, which is not installed; run: pip install 'rimfold[page]'"
        ) from error
    if not folder.is_dir():
        raise UsageError(f"{folder} is no folder; name the one with your recipes")

    def told(address: str) -> None:
        click.echo(f"The page is at {address}")
        click.echo("It stays there until you press Ctrl-C here.")
        if opened:
            import webbrowser

            with as_outside():
                webbrowser.open(address)

    context = click.get_current_context()

    def report(error: Exception) -> None:
        if context.find_root().params.get("debug"):
            import traceback

            traceback.print_exception(error)
        else:
            click.echo(
                f"something went wrong inside: {type(error).__name__}; rimfold --debug page says where",
                err=True,
            )

    try:
        serve(folder, out or folder / "out", told, port or 0, report)
    except OSError as error:
        raise UsageError(
            f"the page cannot answer at port {port}: {error.strerror}; leave --port out"
        ) from error
    except KeyboardInterrupt:
        pass
    return 0
