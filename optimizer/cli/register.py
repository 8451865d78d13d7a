"""``keeplit register``: quotes found again and reopened."""

from __future__ import annotations

from pathlib import Path

import click

from optimizer.cli.show import Screen, json_option, print_json


@click.command()
@click.argument("register")
@click.argument("words", nargs=-1)
@click.option("--reopen", metavar="NUMBER", help="Write what was handed over, and its inputs.")
@click.option("--revision", type=int, metavar="N", help="With --reopen; the last one without.")
@click.option("-o", "--output", default=".", metavar="DIR", help="Where to; here without.")
@json_option
def register(
    register: str,
    words: tuple[str, ...],
    reopen: str | None,
    revision: int | None,
    output: str,
    as_json: bool,
) -> None:
    """Find quotes in a REGISTER by WORDS of number, customer, site or day; reopen one of them.

    keeplit quote --register FILE makes it. Reopened, a quote brings its papers, its job and its
    company file: keeplit quote job.json --company company.toml --register FILE --revise NUMBER
    makes the next revision.
    """
    from optimizer.files.writing import write_files
    from optimizer.quote.register import Register
    from optimizer.report.grids.register import quotes
    from optimizer.report.json.quote import RegisterAnswer
    from optimizer.report.words.letter import written_files

    book = Register(register)
    out = Screen()
    if reopen is None:
        found = book.find(words)
        if as_json:
            print_json(RegisterAnswer(tuple(found)))
            return
        out.tables(quotes(out.write, found))
        return
    record, files = book.reopen(reopen, revision)
    contents = [(str(Path(output) / name), content) for name, content in files.items()]
    write_files(contents)
    if as_json:
        print_json(RegisterAnswer((record,), tuple(name for name, _ in contents)))
        return
    out.tables(quotes(out.write, [record]))
    out.lines(written_files(out.write, [name for name, _ in contents]))
