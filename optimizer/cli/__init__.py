"""The commands: parse, call, print. One file for each group of commands."""

from __future__ import annotations

import io
import os
import sys
from importlib import import_module
from pathlib import Path

import click

from optimizer import __version__
from optimizer.cli.commands import Commands
from optimizer.cli.show import language, print_json, writer
from optimizer.errors import (
    Fault,
    InputError,
    InternalError,
    KeeplitError,
    NoAllotmentError,
    NoDesignError,
)
from optimizer.files.reading import files_read, noting
from optimizer.model.phrase import Phrase

__all__ = ["cli", "main"]


@click.group(
    cls=Commands, context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 100}
)
@click.version_option(__version__)
def cli() -> None:
    """Choose batteries and inverter that ride through grid failures at the least cost over years.

    SITE is a site file, a folder that holds site.toml, or a bundled demo: house, clinic or hall.
    Start with keeplit frontier house; keeplit new FOLDER writes a site to fill in.
    """


def main(arguments: list[str] | None = None) -> None:
    """Run the command line and leave with the exit status of what happened."""
    words = sys.argv[1:] if arguments is None else arguments
    if sys.stdout is None:  # closed by whoever started it
        sys.stdout = Path(os.devnull).open("w")  # noqa: SIM115 - as long as the process
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")  # a sign the output has no code for is no error
    with noting():
        _run(words, as_json="--json" in words)


def _run(words: list[str], *, as_json: bool) -> None:
    """Run a command; every way it can fail ends in words and a status."""
    if "_KEEPLIT_COMPLETE" in os.environ:
        import_module("optimizer.cli.completing")  # what shells are told
    try:
        cli.main(args=words, prog_name="keeplit", standalone_mode=False)
    except click.ClickException as error:
        if not as_json:
            from optimizer.report.words.writer import plain

            context = error.ctx if isinstance(error, click.UsageError) else None
            if context is not None:
                click.echo(context.get_usage(), err=True)
            click.echo(f"Error: {plain(error.format_message())}", err=True)
            sys.exit(error.exit_code)
        wanted = Phrase("the options that keeplit --help lists")
        _fail(InputError([Fault("command line", None, None, error.format_message(), wanted)]), True)
    except click.Abort:
        sys.exit(130)
    except KeeplitError as error:
        _fail(error, as_json)
    except OSError as error:
        _no_more_output(error, as_json)
    except Exception as error:  # a bug: where it is, never a traceback
        _fail(unforeseen(error), as_json)


def _no_more_output(error: OSError, as_json: bool) -> None:
    """Leave where the output, or the disk below everything, takes no more."""
    place = str(error.filename or "the output")
    wanted = Phrase("a disk and an output with room")
    fault = Fault(place, None, None, error.strerror or str(error), wanted)
    try:
        _fail(InputError([fault]), as_json)
    except OSError:  # the output itself
        click.echo(str(fault), err=True)
        sys.exit(InputError.exit_status)


def unforeseen(error: Exception) -> InternalError:
    """Return a failure that nobody foresaw as one of ours: what, and where in the program."""
    import traceback

    from optimizer.inputs.faults import cut

    frames = traceback.extract_tb(error.__traceback__)[-3:]
    trail = " < ".join(f"{Path(one.filename).name}:{one.lineno}" for one in reversed(frames))
    made = InternalError(f"{type(error).__name__} at {trail}: {cut(str(error), 200)}")
    return made.with_traceback(error.__traceback__)


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
    from optimizer.cli.rows_at_work import rows_at_work
    from optimizer.report.words import faults, internal, refusals, relaxations
    from optimizer.report.words.writer import plain

    if isinstance(error, NoDesignError):
        return relaxations.no_design(error, language()).splitlines()
    if isinstance(error, NoAllotmentError):
        return refusals.no_allotment(error, language()).splitlines()
    write = writer()  # neither faults nor failures tell money
    if isinstance(error, InputError):
        return faults.faults(write, error.faults)
    said = str(error).splitlines()
    if isinstance(error, InternalError):
        read = files_read()
        said = internal.lines(write, str(error), read, rows_at_work(error, read))
    return [plain(line) for line in said]
