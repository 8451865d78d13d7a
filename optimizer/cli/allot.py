"""``keeplit allot``: what each of many sites gets of one budget."""

from __future__ import annotations

import sys
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from optimizer.cli import options
from optimizer.cli.asking import sums_of_money
from optimizer.cli.completing import any_of, files
from optimizer.cli.show import ProgressBar, Screen, Told, answering, tell_written, writer
from optimizer.errors import wrong_option
from optimizer.model.phrase import Phrase

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator

    from optimizer.programme.answers import AllotAnswer
    from optimizer.programme.terms import Terms

#: No year has more; Python itself reads no number of thousands of digits.
_DIGITS = 9


@click.command()
@click.argument("sites", shell_complete=any_of(lambda _: ("island",), or_files=True))
@click.option(
    "--budget",
    "--budgets",
    "budgets",
    metavar="MONEY,…",
    help="Money for all sites together at the start, e.g. 120000; several budgets, with commas "
    "between, are compared.",
)
@click.option(
    "--goal",
    type=click.Choice(["share", "hours", "unserved"]),
    default="share",
    show_default=True,
    help="What the money is to do, in the mean over the people served: raise the share of outages "
    "ridden through, raise the hours of autonomy, or lower the unserved energy.",
)
@click.option(
    "--require",
    "required",
    multiple=True,
    metavar="GOAL=FIGURE",
    shell_complete=any_of(lambda _: ("share=", "hours=", "unserved=")),
    help="A mean over the people served that must be reached, e.g. hours=8 or share=90%; the least "
    "money for it is sought without --budget, and where it is the goal's. Repeat it for more.",
)
@click.option(
    "--floor",
    "floor_hours",
    type=int,
    default=0,
    metavar="HOURS",
    help="Autonomy that every site gets at least, in whole hours.  [default: none]",
)
@click.option(
    "--group-share",
    "shares",
    multiple=True,
    metavar="[GROUP=]SHARE",
    help="Share of the money spent that each group gets at least, e.g. 20%, or a single one, e.g. "
    "North=30%. Repeat it for more groups.",
)
@click.option(
    "--later-limit",
    "later",
    multiple=True,
    metavar="[YEAR=]MONEY",
    help="Limit on what all sites buy together in each later year, e.g. 9000, or in a single one, "
    "e.g. 5=20000, in money of today. Repeat it for more years.",
)
@options.what_if
@click.option(
    "--scenarios",
    is_flag=True,
    help="Also show what the choice misses if outages turn out longer or more frequent.",
)
@click.option(
    "--gap",
    type=click.FloatRange(0, 1),
    metavar="SHARE",
    default=0.0,
    help="Stop when proven this close to the best, e.g. 0.001 for a thousandth.  [default: 0]",
)
@click.option(
    "--time-limit",
    type=click.FloatRange(min=0.1),
    default=60.0,
    show_default=True,
    metavar="SECONDS",
    help="Longest time for each proof; the answer states what is left unproven.",
)
@click.option(
    "--store",
    metavar="FILE",
    shell_complete=files,
    help="File that keeps the curves worked out, so that the next run starts with them.  "
    "[default: keeplit/curves.sqlite in the user's cache folder]",
)
@click.option("--no-store", "stateless", is_flag=True, help="Keep no curves and use none kept.")
@options.processes
@click.option(
    "--scheduler",
    metavar="ADDRESS",
    help="Work on a Dask cluster instead, e.g. tcp://10.0.0.5:8786.",
)
@click.option(
    "-o",
    "--output",
    "outputs",
    multiple=True,
    metavar="FILE",
    shell_complete=files,
    help="Also write the answer: one page to decide by (.pdf), every table (.xlsx), the sites of "
    "the first budget that is enough (.csv) or all of it (.json). Repeat it for more files.",
)
@click.option(
    "--quote",
    "quotes",
    nargs=2,
    multiple=True,
    metavar="SITE FILE",
    help="Also write the quote of one site's design at the first budget that equips it: .pdf, "
    ".xlsx, .csv or .json. Repeat it for more sites.",
)
@answering
def allot(
    sites: str,
    budgets: str | None,
    goal: str,
    required: tuple[str, ...],
    floor_hours: int,
    shares: tuple[str, ...],
    later: tuple[str, ...],
    changes: tuple[str, ...],
    scenarios: bool,
    gap: float,
    time_limit: float,
    store: str | None,
    stateless: bool,
    outputs: tuple[str, ...],
    quotes: tuple[tuple[str, str], ...],
    **workers: Any,
) -> Told:
    """Choose what each of many sites gets of one budget.

    SITES is a table of sites (CSV or XLSX; keeplit fields sites lists its columns), a folder that
    holds sites.csv or one folder for each site, or the bundled programme island. Each site gets
    one design of its curve, or nothing. Money is in the sites' currency.
    """
    from optimizer.comparison.what_if import changes_of
    from optimizer.files.writing import write_files
    from optimizer.programme.answers import allot_answer
    from optimizer.programme.store import usual_store
    from optimizer.programme.survey import site_curves
    from optimizer.report.allotment import ENDINGS, allotment_bytes

    told = _terms(goal, required, floor_hours, shares, later)
    terms = replace(told, gap=gap, limit_seconds=time_limit)
    money = [None] if budgets is None else sums_of_money("--budget", budgets)
    endings = [_ending(name, ENDINGS) for name in outputs]
    place = None if stateless else Path(store) if store else usual_store()
    with ProgressBar("sites") as progress:
        programme = site_curves(
            sites,
            later=terms.limits_later,
            scenarios=scenarios,
            what_if=changes_of(changes),
            store=place,
            progress=progress,
            **workers,
        )
    with ProgressBar("budgets") as progress:
        answer = allot_answer(
            programme,
            terms,
            money,
            scenarios=scenarios,
            progress=progress,
        )
    write = writer(programme.currency)
    contents = [
        (name, allotment_bytes(answer, ending, write))
        for name, ending in zip(outputs, endings, strict=True)
    ]
    contents += _quotes(answer, quotes)
    write_files(contents)

    def show(out: Screen) -> None:
        from optimizer.report.grids import allotment as grids
        from optimizer.report.words import allotment as words
        from optimizer.report.words import notes
        from optimizer.report.words.refusals import refusals

        out.lines(refusals(write, answer.refused))
        if len(answer.answers) == 1:  # else the table of budgets says it
            out.lines(words.supposed(write, answer.programme.supposed))
        for one in answer.answers:
            out.heading(words.headline(write, one.allotment))
            out.lines([words.proof(write, one.allotment), *words.more(write, one)])
        out.lines(notes.note(write, words.failure(write, one)) for one in answer.programme.failures)
        if len(answer.answers) > 1:
            out.tables(
                grids.budgets(write, answer),
                grids.groups_by_budget(write, answer),
                grids.added(write, answer),
            )
        else:
            (one,) = answer.answers
            out.tables(
                grids.sites(write, one, whole=False),
                grids.groups(write, one),
                grids.spending(write, one),
                grids.changes(write, one),
            )
        for one in answer.answers:
            if (regret := grids.regret(write, one)) is not None:
                out.tables(regret)
        out.tables(grids.curve(write, answer, whole=False))
        out.line()
        out.lines(words.critical(write, answer.answers[0].allotment))
        out.line(notes.caution(write))
        tell_written(name for name, _ in contents)

    return Told(lambda: answer, show, currency=programme.currency)


def _quotes(
    answer: AllotAnswer, wanted: tuple[tuple[str, str], ...]
) -> Iterator[tuple[str, bytes]]:
    """Yield the quote of a site's design at the first budget it has one: file and content."""
    import optimizer
    from optimizer.inputs.faults import one_of
    from optimizer.report.quote import quote_bytes

    equipped = {
        line.site.name: (found, line)
        for found in reversed([one.allotment for one in answer.answers])
        for line in found.lines
        if line.gets_something
    }
    for name, file in wanted:
        if name not in equipped:
            wanted_name = one_of("a site that gets something", name, equipped)
            raise wrong_option("--quote", name, wanted_name)
        found, line = equipped[name]
        made = optimizer.make_quote(found.job_of(line), options=[line.point.hours])
        yield file, quote_bytes(made, Path(file).suffix)


def _terms(
    goal: str,
    required: tuple[str, ...],
    floor_hours: int,
    shares: tuple[str, ...],
    later: tuple[str, ...],
) -> Terms:
    """Return what is asked, from the words of the options."""
    from optimizer.programme.terms import Goal, Terms

    goals = {str(one): one for one in Goal}
    names = ", ".join(goals)
    goal_wanted = Phrase("one of {names} with a figure, such as hours=8", names=names)
    named = dict(_pair("--require", text, goal_wanted, known=goals) for text in required)
    share_wanted = Phrase("a share from 0% to 100%, such as 20%, or GROUP=SHARE")
    by_group = [_pair("--group-share", text, share_wanted, most=1) for text in shares]
    money_wanted = Phrase("a number of 0 or more, such as 9000, or YEAR=NUMBER")
    by_year = [_pair("--later-limit", text, money_wanted) for text in later]
    return Terms(
        goal=goals[goal],
        required={goals[name]: figure for name, figure in named.items()},
        floor_hours=floor_hours,
        group_share=next((share for group, share in by_group if not group), 0.0),
        group_shares={group: share for group, share in by_group if group},
        later_limit=next((most for year, most in by_year if not year), None),
        later_limits={_year(year): most for year, most in by_year if year},
    )


def _pair(
    option: str,
    text: str,
    wanted: Phrase,
    *,
    most: float = sys.float_info.max,
    known: Collection[str] | None = None,
) -> tuple[str, float]:
    """Return what stands before and after the last "=" of an option; a share may be per cent."""
    name, _, value = text.rpartition("=")
    percent = value.endswith("%")
    try:
        figure = float(value.removesuffix("%")) / (100 if percent else 1)
    except ValueError:
        figure = float("nan")
    if not 0 <= figure <= most or (known is not None and name not in known):
        raise wrong_option(option, repr(text), wanted)
    return name, figure


def _year(text: str) -> int:
    if not text.isdecimal() or len(text) > _DIGITS or int(text) <= 1:
        wanted = Phrase("a year from 2 on, year 1 beginning at the start")
        raise wrong_option("--later-limit", repr(text), wanted)
    return int(text) - 1


def _ending(name: str, known: tuple[str, ...]) -> str:
    ending = Path(name).suffix.lower()
    if ending not in known:
        wanted = Phrase("a name that ends in one of {known}", known=", ".join(known))
        raise wrong_option("-o", name, wanted)
    return ending
