"""``rimfold completion``: the script with which a shell completes commands, options and what they take."""

from __future__ import annotations

import click

NAME, ASKED = "rimfold", "_RIMFOLD_COMPLETE"
"""The command, and the variable by which a shell asks it what could come next."""
SHELLS = ("bash", "zsh", "fish")
MENDED = {
    "zsh": (
        # A value that is tied to its option is one word with it: --paper=l becomes --paper=letter.
        ("    local -a response\n", "    local -a response\n    local tied=${(M)words[CURRENT]#--*=}\n"),
        ('completions+=("$key")', 'completions+=("$tied$key")'),
        ("_path_files", "compset -P '--*='; _path_files"),
    ),
    "fish": (
        # Only the first comma ends the kind of an answer: a value such as en,de has one, and so has its help.
        ('string split "," $completion', 'string split --max 1 "," $completion'),
        (
            "    for completion in",
            "    set -l tied (string match --regex -- '^--[^=]*=' (commandline -t));\n"
            "    test -n \"$tied\"; or set tied '';\n\n"
            "    for completion in",
        ),
        ("echo $metadata[2];", "printf '%s\\n' $tied$metadata[2];"),
        (
            "__fish_complete_directories $metadata[2];",
            "printf '%s\\n' $tied(__fish_complete_directories $metadata[2]);",
        ),
        ("__fish_complete_path $metadata[2];", "printf '%s\\n' $tied(__fish_complete_path $metadata[2]);"),
    ),
}
"""What is put in the place of what in the scripts that click makes, as tried with zsh 5.9 and fish 3.6. Where
another click writes something else, its own text stays."""


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
    script = ShellComplete.source(asks)
    for found, better in MENDED.get(shell, ()):
        script = script.replace(found, better)
    click.echo(script)
    return 0
