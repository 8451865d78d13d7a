"""The options of a quote as a table for the terminal."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.table import Table

from optimizer.formulas.rounding import exact
from optimizer.report.quote import texts
from optimizer.report.words import plain

if TYPE_CHECKING:
    from optimizer.quote import Quote


def options_table(quote: Quote) -> Table:
    """Return the options, one row each."""
    write, site = texts.writer_for(quote), quote.job.site
    table = Table(
        title=f"{texts.title(quote)} for {plain(site.name)}, {write.day(quote.day)}",
        title_justify="left",
        title_style="bold",
        box=None,
        pad_edge=False,
    )
    for heading, numbers in (
        ("Option", False),
        (f"To pay, {site.currency}", True),
        (f"Over {site.horizon_in_words}", True),
        ("Bank and inverter set", False),
        ("Chosen as", False),
        ("Second opinion", False),
    ):
        table.add_column(
            heading, justify="right" if numbers else "left", no_wrap=numbers, overflow="fold"
        )
    for option in quote.options:
        design = option.option.design
        table.add_row(
            plain(option.option.name),
            write.amount(option.pricing.total),
            write.number(exact(design.life_cycle_cost)),
            f"{texts.bank(option)} behind {texts.inverter_set(option)}",
            option.option.why,
            texts.second_opinion(option.option.verdict, write),
        )
    return table
