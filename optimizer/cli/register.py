"""``keeplit register``: quotes found again and reopened."""

from pathlib import Path

import click

from optimizer.cli.completing import files, folders
from optimizer.cli.show import Screen, Told, answering


@click.command()
@click.argument("register", shell_complete=files)
@click.argument("words", nargs=-1)
@click.option(
    "--reopen",
    metavar="NUMBER",
    help="Write this quote's papers, job and company file again, e.g. 2026-001.",
)
@click.option(
    "--revision",
    type=int,
    metavar="N",
    help="With --reopen: which revision.  [default: the last one]",
)
@click.option(
    "-o",
    "--output",
    default=".",
    metavar="DIR",
    shell_complete=folders,
    help="With --reopen: the folder to write into.  [default: this one]",
)
@answering
def register(
    register: str, words: tuple[str, ...], reopen: str | None, revision: int | None, output: str
) -> Told:
    """Find quotes in a register, or reopen one of them.

    REGISTER is a file that keeplit quote --register makes; WORDS are parts of a quote's number,
    customer, site or date. From a reopened quote, keeplit quote job.json --company company.toml
    --register REGISTER --revise NUMBER makes the next revision.
    """
    from optimizer.files.writing import write_files
    from optimizer.quote.register import Register, RegisterAnswer
    from optimizer.report.grids.register import quotes
    from optimizer.report.words.letter import written_files

    book = Register(register)
    if reopen is None:
        found = book.find(words)
        return Told(
            lambda: RegisterAnswer(tuple(found)), lambda out: out.tables(quotes(out.write, found))
        )
    record, files = book.reopen(reopen, revision)
    contents = [(str(Path(output) / name), content) for name, content in files.items()]
    write_files(contents)
    written = tuple(name for name, _ in contents)

    def show(out: Screen) -> None:
        out.tables(quotes(out.write, [record]))
        out.lines(written_files(out.write, written))

    return Told(lambda: RegisterAnswer((record,), written), show)
