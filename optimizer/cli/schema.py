"""``keeplit schema``: what the JSON of each command looks like."""

import json

import click

from optimizer.cli.completing import answers
from optimizer.errors import FaultKind, wrong_option


@click.command()
@click.argument("command", required=False, shell_complete=answers)
def schema(command: str | None) -> None:
    """Print the JSON Schema of what a command prints with --json.

    Without COMMAND the names are listed; "error" is what any command may print instead.
    """
    from optimizer.inputs.faults import one_of
    from optimizer.report.json.answers import ANSWERS, command_schema

    if command is None:
        for name in ANSWERS:
            click.echo(name)
        return
    if command not in ANSWERS:
        wanted = one_of("a command with a JSON answer", command, ANSWERS)
        raise wrong_option("COMMAND", command, wanted, FaultKind.UNKNOWN)
    click.echo(json.dumps(command_schema(command), ensure_ascii=False, indent=1))
