"""``keeplit schema``: what the JSON of each command looks like."""

from __future__ import annotations

import json

import click


@click.command()
@click.argument("command", required=False)
def schema(command: str | None) -> None:
    """Print the JSON Schema of what COMMAND prints with --json; without COMMAND, list them.

    "error" is what any command may print instead of its answer.
    """
    from optimizer.errors import Fault, FaultKind, InputError
    from optimizer.inputs.faults import one_of
    from optimizer.report.json.answers import ANSWERS, command_schema

    if command is None:
        for name in ANSWERS:
            click.echo(name)
        return
    if command not in ANSWERS:
        wanted = one_of("a command with a JSON answer", command, ANSWERS)
        raise InputError([Fault("options", None, "COMMAND", command, wanted, FaultKind.UNKNOWN)])
    click.echo(json.dumps(command_schema(command), ensure_ascii=False, indent=1))
