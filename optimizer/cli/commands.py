"""All commands by name: each imported when it is called; names of the last version still taken."""

from collections.abc import Mapping
from importlib import import_module

import click

from optimizer.cli.show import writer

#: The commands, by the file that they stand in.
_HOMES = {
    "allot": "allot",
    "assess": "assess outages",
    "budget": "budget tiers",
    "compare": "compare sensitivity",
    "curve": "choose frontier trade-off worth",
    "page": "page",
    "prices": "prices",
    "quote": "quote",
    "register": "register",
    "schema": "schema",
    "site": "check fields new",
}
_HOME_OF = {name: home for home, names in _HOMES.items() for name in names.split()}
#: Names of the version before, and those of today.
COMMANDS = {"judge": "assess", "sway": "sensitivity"}
#: By command.
OPTIONS = {"compare": {"--flips": "--switch-points", "--border": "--break-even-line"}}


class Commands(click.Group):
    """A group that imports a command when it is called, and still takes the old names."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Return the names, in the order of the alphabet."""
        del ctx
        return sorted(_HOME_OF)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Import a command, or return None where there is none of that name."""
        del ctx
        if cmd_name not in _HOME_OF:
            return None
        home = import_module(f"optimizer.cli.{_HOME_OF[cmd_name]}")
        command: click.Command = getattr(home, cmd_name.replace("-", "_"))
        return command

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
    tell_renamed(old, names[old])
    return names[old] + equals + value


def tell_renamed(old: str, new: str) -> None:
    """Tell on standard error what something is called now."""
    from optimizer.report.words.commands import renamed

    click.echo(renamed(writer(), old, new), err=True)
