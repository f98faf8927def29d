"""What click finds wrong with a command line, said in the reader's language; what is rare, in click's words.

Click asks gettext, which reads nothing but compiled catalogues of the same English sentences.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import click

from generator.base.edition import REFERENCE
from generator.base.message import Message, as_written, in_two, message
from generator.cli.speech import said, speaking


def show(error: click.ClickException) -> None:
    """On the error stream: how the command is called, where its help is, and what is wrong."""
    if speaking() == REFERENCE or not isinstance(error, click.UsageError):
        error.show()
        return
    for line in (*_usage(error.ctx), _wrong(error)):
        click.echo(said(line), err=True)


def _usage(context: click.Context | None) -> Iterator[Message]:
    if context is not None:
        command = context.command_path
        usage = " ".join([command, *context.command.collect_usage_pieces(context)])
        yield message("the command: {usage}", usage=usage)
        yield message("its help: {command}", command=f"{command} --help")
        yield as_written("")


def _wrong(error: click.UsageError) -> Message:
    """What is wrong, and what to write if that is known."""
    # Of this class since click 8.4 alone.
    command = getattr(error, "command_name", None)
    if command is not None:
        what = message("there is no command “{name}”", name=str(command))
        return _near(what, getattr(error, "possibilities", None))
    if isinstance(error, click.NoSuchOption):
        what = message("there is no option {name} here", name=error.option_name)
        return _near(what, error.possibilities)
    if isinstance(error, click.BadParameter) and error.param is not None and error.ctx is not None:
        return _of_parameter(error, error.param, error.ctx)
    if isinstance(error, click.BadOptionUsage):
        return message("the option {name} lacks its value, or takes none", name=error.option_name)
    return as_written(error.format_message())


def _of_parameter(error: click.BadParameter, of: click.Parameter, context: click.Context) -> Message:
    name = of.get_error_hint(context).replace("'", "")
    if isinstance(error, click.MissingParameter):
        return message("{name} is missing", name=name)
    if isinstance(of.type, click.Choice):
        known = ", ".join(map(str, of.type.choices))
        return message("this is no value for {name}; expected one of {known}", name=name, known=known)
    return message("this is no value for {name} ({reason})", name=name, reason=error.message)


def _near(what: Message, possible: Sequence[str] | None) -> Message:
    return in_two(what, message("write {text}", text=possible[0])) if possible else what
