"""``rimfold page``: the recipes of a folder in the browser."""

from __future__ import annotations

from pathlib import Path

import click

from generator.base.errors import UsageError
from generator.base.message import message
from generator.base.outside import as_outside
from generator.base.reasons import reason
from generator.cli.speech import said


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
            message("the page needs {name}, which is not installed", name=error.name),
            message("run: {command}", command="pip install 'rimfold[page]'"),
        ) from error
    if not folder.is_dir():
        raise UsageError(
            message("{path} is no folder", path=str(folder)), message("name the one with your recipes")
        )

    def told(address: str) -> None:
        click.echo(said(message("The page is at {address}", address=address)))
        click.echo(said(message("It stays there until you press Ctrl-C here.")))
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
                said(
                    message(
                        "something went wrong inside: {name}; rimfold --debug page says where",
                        name=type(error).__name__,
                    )
                ),
                err=True,
            )

    try:
        serve(folder, out or folder / "out", told, port or 0, report)
    except OSError as error:
        raise UsageError(
            message("the page cannot answer at port {port}: {reason}", port=str(port), reason=reason(error)),
            message("leave --port out"),
        ) from error
    except KeyboardInterrupt:
        pass
    return 0
