"""``rimfold completion``: the script with which a shell completes commands, options and what they take."""

from __future__ import annotations

import click

NAME, ASKED = "rimfold", "_RIMFOLD_COMPLETE"
"""The command, and the variable by which a shell asks it what could come next."""
SHELLS = ("bash", "zsh", "fish")


@click.command()
@click.argument("shell", type=click.Choice(SHELLS))
@click.pass_context
def completion(context: click.Context, shell: str) -> int:
    """Print a script with which a shell completes what you type.

    \b
    bash: eval "$(rimfold completion bash)"            in ~/.bashrc
    zsh:  eval "$(rimfold completion zsh)"             in ~/.zshrc
    fish: rimfold completion fish > ~/.config/fish/completions/rimfold.fish
    """
    from click.shell_completion import ShellComplete, get_completion_class

    known = get_completion_class(shell)
    assert known is not None  # every one of SHELLS has one
    asks = known(context.find_root().command, {}, NAME, ASKED)
    # Some classes start their shell to learn its version before they tell the script; nothing of ours does.
    click.echo(ShellComplete.source(asks))
    return 0
