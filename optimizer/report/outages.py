"""A design through the outages as they come: words and tables."""

from __future__ import annotations

from typing import TYPE_CHECKING

from optimizer.report.opinion import (
    balance_in_words,
    estimate_in_words,
    longest_known_in_words,
    method_in_words,
    share_in_words,
)
from optimizer.report.tables import new_table
from optimizer.report.words import bank_in_words, hours_in_words, plain, set_in_words

if TYPE_CHECKING:
    from rich.table import Table

    from optimizer.answers.outage_run import OutageRun
    from optimizer.model.job import Job
    from optimizer.simulate import Replay


_OWN_DURATIONS = {
    "log": "the site's log",
    "typed": "the site's rows",
    "daily": "the site's schedule",
}


def head_in_words(job: Job, run: OutageRun, *, chosen: bool) -> str:
    """Return what was run."""
    bank = plain(bank_in_words(run.design.banks[0], run.design.voltage_v))
    what = f"{bank}, behind {plain(set_in_words(run.design))}"
    if chosen:
        carries = f"the cheapest design that carries {run.design.hours} h"
        return f"{plain(job.site.name)}: {carries}. {what}."
    return f"{plain(job.site.name)}: {what}, as it stands."


def outage_tables(run: OutageRun) -> list[Table]:
    """Return the site's log, outage by outage, and the simulated years."""
    found = [] if run.replay is None else [_log_table(run.replay)]
    return [*found, _drawn_table(run)]


def _log_table(replay: Replay) -> Table:
    total = len(replay.outages)
    table = new_table(
        f"The site's own log, with the bank as it is in year {replay.year + 1}: "
        f"{replay.carried} of {total} carried",
        ("Start", False),
        ("Lasted, h", True),
        ("Carried, h", True),
        ("Asked, kWh", True),
        ("Not served, kWh", True),
        ("Bank used before", True),
        ("after", True),
        ("", False),
    )
    for outage in replay.outages:
        table.add_row(
            f"{outage.start:%Y-%m-%d %H:%M}",
            f"{outage.hours:.1f}",
            f"{outage.hours:.1f}" if outage.carried else hours_in_words(outage.hours_carried),
            f"{outage.kwh_asked:.2f}",
            f"{outage.kwh_unserved:.2f}" if outage.kwh_unserved > 0 else "",
            f"{outage.depth_before:.0%}",
            f"{outage.depth_after:.0%}",
            "carried" if outage.carried else "NOT CARRIED",
        )
    hours = sum(outage.hours for outage in replay.outages)
    carried = sum(min(outage.hours, outage.hours_carried) for outage in replay.outages)
    asked = sum(outage.kwh_asked for outage in replay.outages)
    unserved = sum(outage.kwh_unserved for outage in replay.outages)
    table.add_row(
        "in all", f"{hours:.1f}", f"{carried:.1f}", f"{asked:.2f}", f"{unserved:.2f}", "", "", ""
    )
    return table


def _drawn_table(run: OutageRun) -> Table:
    drawn = run.simulated_years
    table = new_table(
        f"{drawn.years:,} simulated years, durations from "
        f"{_OWN_DURATIONS.get(run.durations, plain(run.durations))}",
        ("", False),
        ("", True),
        ("", False),
    )
    table.show_header = False
    if drawn.share_carried is None:
        table.add_row("Outages", "none drawn", "")
        return table
    rows = (
        ("Outages a year", f"{drawn.outages_a_year:,.1f}", ""),
        ("Share carried to the end", share_in_words(drawn.share_carried), ""),
        ("Without supply, a year", estimate_in_words(drawn.hours_unserved), "h"),
        ("Not served, a year", estimate_in_words(drawn.kwh_unserved), "kWh"),
        ("With nothing in place, a year", f"{run.nothing_done.unserved_kwh_per_year:,.1f}", "kWh"),
        ("Years in which every outage is carried", f"{drawn.share_of_years_whole:.1%}", ""),
        ("Longest outage carried", f"{drawn.longest_carried_hours:.1f}", "h"),
        ("Longest outage drawn", f"{drawn.longest_hours:.1f}", "h"),
    )
    for row in rows:
        table.add_row(*row)
    return table


def notes_in_words(run: OutageRun) -> list[str]:
    """Return how it was counted, and the day of scheduled cuts."""
    notes = [
        f"{method_in_words(run.simulated_years)} {longest_known_in_words(run.simulated_years)} "
        "The years are spread evenly over the bank's service; each starts with a full bank, "
        "which is charged between outages at the charger's limit."
    ]
    if run.balance is not None:
        notes.append(f"Scheduled cuts: {balance_in_words(run.balance)}")
    return notes
