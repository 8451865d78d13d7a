"""Results as tables for the terminal."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from rich.table import Table
from rich.text import Text

from optimizer.engine import cashflow
from optimizer.report.words import (
    bank_in_words,
    hours_in_words,
    money,
    plain,
    replacements_in_words,
    set_in_words,
)
from optimizer.report.words.checks import check_name, check_unit
from optimizer.report.words.writer import Writer
from optimizer.simulate import verdict

if TYPE_CHECKING:
    from collections.abc import Sequence

    from optimizer.answers.choice import Choice, Explained
    from optimizer.answers.curve import Curve
    from optimizer.answers.purchases import Material
    from optimizer.answers.site_survey import Survey
    from optimizer.engine.cashflow import Payment
    from optimizer.model.design import Design
    from optimizer.model.job import Job

#: The lines money is paid in, in the order of the model, with their headings.
CASH_LINES = {
    "inverter": "Inverter set",
    "wiring": "Cable, fuse",
    "battery": "Bank",
    "works": "Works",
    "standby": "Standby",
    "upkeep": "Upkeep",
    "losses": "Losses",
    "value": "Value left",
}


def new_table(title: str, *columns: tuple[str, bool]) -> Table:
    """Return an empty table; each column a heading and whether it holds numbers."""
    table = Table(title=title, title_justify="left", title_style="bold", box=None, pad_edge=False)
    for heading, numbers in columns:
        table.add_column(
            heading, justify="right" if numbers else "left", no_wrap=numbers, overflow="fold"
        )
    return table


def matters_table(title: str, matters: Sequence[tuple[str, str]]) -> Table:
    """Return sentences, each beside the matter it is about."""
    table = new_table(title, ("", False), ("", False))
    table.show_header = False
    table.columns[0].no_wrap = True
    for matter, sentence in matters:
        table.add_row(matter, sentence)
    return table


def curve_table(curve: Curve) -> Table:
    """Return the whole curve, one row a point, with the step to the next."""
    site = curve.job.site
    table = new_table(
        f"{plain(site.name)}: cost over {site.horizon_in_words} against hours, {site.currency}",
        ("Hours", True),
        ("Life-cycle", True),
        ("Upfront", True),
        ("Simulated*", True),
        ("Bank: series × strings", False),
        ("Inverter set", False),
        ("Replacements", False),
        ("Next step, per hour", True),
    )
    following = [*curve.points[1:], None]
    for point, longer in zip(curve.points, following, strict=True):
        if longer is None:
            step = f"none offered up to {site.max_hours} h"
        else:
            hours = longer.hours - point.hours
            cost = longer.life_cycle_cost - point.life_cycle_cost
            step = f"+{hours} h: {money(cost / hours)}"
        table.add_row(
            str(point.hours),
            money(point.life_cycle_cost),
            money(point.upfront_cost),
            _simulated(curve.job, point),
            plain(bank_in_words(point.banks[0], point.voltage_v)),
            plain(set_in_words(point)),
            plain(replacements_in_words(cashflow.payments(curve.job, point))),
            step,
        )
    table.caption = (
        "* hours by the second opinion: simulated hour by hour, without margin, from the worst "
        "start in the worst year"
    )
    table.caption_justify = "left"
    return table


def _simulated(job: Job, point: Design) -> str:
    found = verdict(job, point)
    return hours_in_words(found.hours, found.horizon_hours)


def checks_table(explained: Sequence[Explained], currency: str) -> Table:
    """Return every requirement with what is required and provided, and what binds."""
    table = new_table(
        "What it must meet",
        ("Requirement", False),
        ("Required", True),
        ("Provided", True),
        ("Unit", False),
        ("To spare", True),
        (f"Without it, {currency} less", True),
    )
    write = Writer(currency)
    for one in explained:
        check = one.check
        sign = "≤" if check.at_most else "≥"
        spare = "" if check.margin == float("inf") else f"{check.margin:.0%}"
        table.add_row(
            check_name(write, check),
            f"{sign} {figure(check.required)}",
            figure(check.provided),
            check_unit(write, check),
            spare,
            money(one.saving) if one.binds else "",
        )
    return table


def figure(value: float) -> str:
    """Return a quantity with three digits that matter, and separators."""
    size = abs(value)
    decimals = 0 if size >= 100 or value == int(value) else 1 if size >= 10 else 2  # noqa: PLR2004
    return f"{value:,.{decimals}f}"


def cash_table(flow: Sequence[Payment], job: Job) -> Table:
    """Return the money by year, one row a point in time, one column a line."""
    site = job.site
    sums: defaultdict[tuple[int, str], float] = defaultdict(float)
    for payment in flow:
        sums[payment.time_years, payment.kind] += payment.amount
    kinds = [kind for kind in CASH_LINES if any(key[1] == kind for key in sums)]
    table = new_table(
        f"Money, {site.currency} of today; present value at {site.discount_rate:.1%} real",
        ("", False),
        *((CASH_LINES[kind], True) for kind in kinds),
        ("Sum", True),
        ("Present value", True),
    )
    total = 0.0
    for time_years in range(site.horizon_years + 1):
        amounts = [sums.get((time_years, kind), 0.0) for kind in kinds]
        value = sum(amounts) / (1 + site.discount_rate) ** time_years
        total += value
        when = "start" if time_years == 0 else f"after year {time_years}"
        cells = [money(amount) if amount else "" for amount in amounts]
        table.add_row(when, *cells, money(sum(amounts)), money(value))
    table.add_row("in all", *[""] * (len(kinds) + 1), Text(money(total, decimals=2), "bold"))
    return table


def material_table(lines: Sequence[Material], job: Job) -> Table:
    """Return the material list at net prices, and how the gross sum follows."""
    site = job.site
    table = new_table(
        f"To buy at the start, {site.currency} net",
        ("Item", False),
        ("Quantity", True),
        ("Each", True),
        ("Sum", True),
    )
    net = 0.0
    for line in lines:
        total = line.quantity * line.price_each
        net += total
        quantity = f"{line.quantity:,g} {line.unit}".rstrip()
        table.add_row(
            plain(line.item), quantity, money(line.price_each, decimals=2), money(total, decimals=2)
        )
    gross = net * (1 + site.markup) * (1 + site.tax_rate)
    table.add_row("Net", "", "", money(net, decimals=2))
    terms = f"Paid, markup {site.markup:.0%} and tax {site.tax_rate:.0%} included"
    table.add_row(terms, "", "", Text(money(gross, decimals=2), "bold"))
    return table


def survey_tables(found: Survey, currency: str) -> list[Table]:
    """Return what was understood of a site."""
    energy = new_table(
        "Loads, kWh a day",
        ("Tier", False),
        *((plain(season), True) for season in found.seasons),
        ("Counted", False),
    )
    for tier in dict.fromkeys(tier for tier, _ in found.energy_kwh_day):
        values = [f"{found.energy_kwh_day[tier, season]:,.2f}" for season in found.seasons]
        energy.add_row(plain(tier), *values, "yes" if tier in found.tiers_counted else "no")
    demand = new_table("What must be carried", ("", False), ("", True), ("", False))
    demand.add_row("All at once", f"{found.peak_w:,.0f}", "W")
    demand.add_row("All at once, apparent", f"{found.peak_va:,.0f}", "VA")
    demand.add_row("With the largest motor starting", f"{found.surge_w:,.0f}", "W")
    demand.add_row("Mean over the year", f"{found.mean_w:,.0f}", "W")
    for hours, energy_kwh in found.worst_window_kwh.items():
        demand.add_row(f"Worst {hours} h of any season", f"{energy_kwh:,.2f}", "kWh")
    grid = new_table("The grid, in a year", ("", False), ("", True), ("", False))
    grid.add_row("Outages", f"{found.outages_per_year:,.1f}", "")
    grid.add_row("Hours without supply", f"{found.outage_hours_per_year:,.1f}", "h")
    grid.add_row("Not served if nothing is done", f"{found.unserved_kwh_per_year:,.1f}", "kWh")
    if found.value_of_unserved_per_year is not None:
        worth = money(found.value_of_unserved_per_year)
        grid.add_row("What that is worth, as the site values it", worth, currency)
    tables = [energy, demand, grid]
    if found.old_prices:
        old = new_table(
            "Prices older than a year", ("Table", False), ("Name", False), ("Date", False)
        )
        for one in found.old_prices:
            old.add_row(one.table, plain(one.name), one.price_date.isoformat())
        tables.append(old)
    return tables


def binding_in_words(choice: Choice) -> list[str]:
    """Return what binds, one line each."""
    lines = []
    write = Writer(choice.job.site.currency)
    for one in choice.binding:
        name = check_name(write, one.check)
        if one.binds:
            saved = money(one.saving, choice.job.site.currency)
            lines.append(f"{name}: without it {saved} less")
        else:
            spare = f"{max(0.0, one.check.margin):.1%}"
            lines.append(f"{name}: {spare} to spare, the least of all")
    return lines
