"""Commands and options by the names they had in the last version: understood, and told the new."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from optimizer.cli.show import language

if TYPE_CHECKING:
    from collections.abc import Mapping

COMMANDS = {"judge": "assess", "sway": "sensitivity"}
#: By command.
OPTIONS = {"compare": {"--flips": "--switch-points", "--border": "--break-even-line"}}


class Commands(click.Group):
    """A group of commands that still takes the old names."""

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Find the command behind the first word, old words replaced."""
        name = _now(args[0], COMMANDS)
        options = OPTIONS.get(name, {})
        return super().resolve_command(ctx, [name, *(_now(word, options) for word in args[1:])])


def _now(word: str, names: Mapping[str, str]) -> str:
    old, equals, value = word.partition("=")
    if old not in names:
        return word
    from optimizer.report.words.commands import renamed
    from optimizer.report.words.writer import Writer

    click.echo(renamed(Writer("EUR", language()), old, names[old]), err=True)
    return names[old] + equals + value
