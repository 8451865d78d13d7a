"""The commands: parse, call, print. One file for each group of commands."""

from __future__ import annotations

import io
import os
import sys
from pathlib import Path

import click

from optimizer.cli.allot import allot
from optimizer.cli.assess import assess, outages
from optimizer.cli.compare import budget, compare, sensitivity, tiers
from optimizer.cli.curve import choose, frontier
from optimizer.cli.page import page
from optimizer.cli.prices import prices
from optimizer.cli.quote import quote
from optimizer.cli.register import register
from optimizer.cli.renamed import Commands
from optimizer.cli.schema import schema
from optimizer.cli.show import language, print_json
from optimizer.cli.site import check, fields, new
from optimizer.errors import Fault, InputError, KeeplitError, NoAllotmentError, NoDesignError
from optimizer.files.reading import noting

__all__ = ["cli", "main"]


@click.group(
    cls=Commands, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100}
)
@click.version_option(package_name="keeplit")
def cli() -> None:
    """Batteries and inverter for riding through grid failures, at the least cost over years.

    SITE is a site file, a folder that holds site.toml, or a bundled demo: house, clinic, hall.
    """


for command in (
    frontier,
    choose,
    compare,
    budget,
    sensitivity,
    tiers,
    allot,
    assess,
    outages,
    quote,
    register,
    prices,
    check,
    fields,
    new,
    page,
    schema,
):
    cli.add_command(command)


def main(arguments: list[str] | None = None) -> None:
    """Run the command line and leave with the exit status of what happened."""
    words = sys.argv[1:] if arguments is None else arguments
    as_json = "--json" in words
    if sys.stdout is None:  # closed by whoever started it
        sys.stdout = Path(os.devnull).open("w")  # noqa: SIM115 - as long as the process
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")  # a sign the output has no code for is no error
    try:
        with noting():
            cli.main(args=words, prog_name="keeplit", standalone_mode=False)
    except click.ClickException as error:
        if not as_json:
            error.show()
            sys.exit(error.exit_code)
        wanted = "the options that keeplit --help lists"
        _fail(InputError([Fault("command line", None, None, error.format_message(), wanted)]), True)
    except click.Abort:
        sys.exit(130)
    except KeeplitError as error:
        _fail(error, as_json)
    except BrokenPipeError:
        sys.stderr.close()  # the reader went away: nothing is left to say
    except OSError as error:
        _cannot_write(error, as_json)


def _cannot_write(error: OSError, as_json: bool) -> None:
    """Leave with the status of an error where the output, or a file of it, takes no more."""
    place = str(error.filename or "the output")
    fault = Fault(place, None, None, error.strerror or str(error), "a place to write to")
    try:
        _fail(InputError([fault]), as_json)
    except OSError:  # the output itself
        click.echo(str(fault), err=True)
        sys.exit(InputError.exit_status)


def _fail(error: KeeplitError, as_json: bool) -> None:
    """Show an error and leave with its status."""
    if as_json:
        from optimizer.report.json.failure import error_answer

        print_json(error_answer(error))
    else:
        for line in _told(error):
            click.echo(line, err=True)
    sys.exit(error.exit_status)


def _told(error: KeeplitError) -> list[str]:
    """Return an error in the reader's language, a sentence a line."""
    from optimizer.report.words import allotment, faults, relaxations
    from optimizer.report.words.writer import Writer, plain

    if isinstance(error, NoDesignError):
        return relaxations.no_design(error, language()).splitlines()
    if isinstance(error, NoAllotmentError):
        return allotment.no_allotment(error, language()).splitlines()
    if isinstance(error, InputError):
        write = Writer("EUR", language())  # faults tell no money
        return [faults.fault(write, one) for one in error.faults]
    return [plain(line) for line in str(error).splitlines()]
