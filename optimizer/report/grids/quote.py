"""The tables of a quote."""

from __future__ import annotations

from typing import TYPE_CHECKING

from optimizer.report.grids.grid import Cell, Column, Grid, Kind
from optimizer.report.words import handover
from optimizer.report.words import quote as words
from optimizer.report.words.design import inverter_set

if TYPE_CHECKING:
    from collections.abc import Callable

    from optimizer.quote import PricedOption, Pricing, Quote
    from optimizer.quote.handover import Handover
    from optimizer.quote.lines import Sum
    from optimizer.report.grids.grid import Row, Value
    from optimizer.report.words.writer import Writer

#: A row that holds nothing but its heading has this many empty cells after it.
LINE_COLUMNS = 5


def options(write: Writer, quote: Quote) -> Grid:
    """Return the options side by side: one column each, one row a question."""
    years = quote.job.site.horizon_years

    def row(name: str, cell: Callable[[PricedOption], Value], kind: Kind = Kind.TEXT) -> Row:
        return [name, *(Cell(cell(one), kind) for one in quote.options)]

    rows = [
        row(write.say("Chosen as"), lambda one: words.why(write, one.option)),
        row(write.say("Upfront cost"), lambda one: one.pricing.total, Kind.CENTS),
        row(
            write.say("Life-cycle cost over {years:years}", years=years),
            lambda one: one.option.design.life_cycle_cost,
            Kind.MONEY,
        ),
        row(write.say("Bank"), lambda one: words.bank(write, one.option.design)),
        row(write.say("Inverter-charger"), lambda one: inverter_set(write, one.option.design)),
        row(
            write.say("Independent simulation"),
            lambda one: words.simulation_short(write, one.option.verdict),
        ),
        row(write.say("Replacements"), lambda one: words.replaced(write, one.pricing, years)),
        row(write.say("To set aside a month"), lambda one: one.handover.monthly, Kind.CENTS),
    ]
    names = [words.option_name(write, one.option.design) for one in quote.options]
    columns = [
        Column("question", ""),
        *(Column(f"option_{place}", name) for place, name in enumerate(names, start=1)),
    ]
    heading = write.say(
        "{title} for {site}, {day:date}, {currency}",
        title=words.title(write, quote.company),
        site=quote.job.site.name,
        day=quote.day,
        currency=write.currency,
    )
    return Grid("options", heading, columns, rows)


def price(write: Writer, pricing: Pricing, found: Sum) -> Grid:
    """Return priced lines under their headings, then sum, markup, tax and total."""
    columns = [
        Column("item", write.say("Item")),
        Column("quantity", write.say("Quantity"), Kind.FIGURE, 5),
        Column("unit", write.say("Unit")),
        Column("price_each", write.say("Each"), Kind.PRICE, unit=write.currency),
        Column("amount", write.say("Sum"), Kind.CENTS, unit=write.currency),
    ]
    headings = words.headings(write)
    rows: list[Row] = []
    for heading, lines in found.by_heading():
        rows.append([headings[heading], *[None] * (LINE_COLUMNS - 1)])
        rows += [
            [words.item(write, line.item), line.quantity, line.unit, line.price_each, line.amount]
            for line in lines
        ]
    rows.append([write.say("Sum before tax"), None, None, None, found.net])
    if found.markup:
        rate = Cell(pricing.markup_rate, Kind.SHARE)
        rows.append([write.say("Markup"), None, None, rate, found.markup])
    rate = Cell(pricing.tax_rate, Kind.SHARE)
    rows.append([write.say("Tax"), None, None, rate, found.tax])
    rows.append([write.say("Total"), None, None, None, found.total])
    return Grid("price", write.say("Price"), columns, rows, has_total=True)


def plan(write: Writer, pricing: Pricing) -> Grid:
    """Return the payment plan."""
    columns = [
        Column("when", write.say("When")),
        Column("share", write.say("Share"), Kind.SHARE),
        Column("amount", write.say("Sum"), Kind.CENTS, unit=write.currency),
    ]
    rows: list[Row] = [
        [words.stage(write, due.stage), due.stage.share, due.amount] for due in pricing.plan
    ]
    return Grid("plan", write.say("When to pay"), columns, rows)


def replacements(write: Writer, quote: Quote, pricing: Pricing) -> Grid:
    """Return what is replaced within the study period, at today's prices."""
    columns = [
        Column("item", write.say("Item")),
        Column("when", write.say("When")),
        Column("amount", write.say("Today"), Kind.CENTS, unit=write.currency),
    ]
    rows: list[Row] = [
        [
            write.listed(
                [
                    write.say(
                        "{n} {unit} {item}",
                        n=write.plain(line.quantity),
                        unit=line.unit or "×",
                        item=words.item(write, line.item),
                    )
                    for line in run[0].sum.lines
                ]
            ),
            words.replacement_time(write, quote.day, run),
            run[0].sum.total,
        ]
        for run in pricing.replacement_runs
    ]
    return Grid(
        "replacements", write.say("Replacements, at today's prices, tax included"), columns, rows
    )


def margins(write: Writer, option: PricedOption) -> Grid:
    """Return what each line costs, brings and leaves: for the installer alone."""
    currency = write.currency
    columns = [
        Column("item", write.say("Item")),
        Column("supplier", write.say("Supplier")),
        Column("supplier_code", write.say("Code")),
        Column("price_date", write.say("Price of"), Kind.DATE),
        Column("quantity", write.say("Quantity"), Kind.FIGURE, 5),
        Column("cost_each", write.say("Cost each"), Kind.PRICE, unit=currency),
        Column("cost", write.say("Cost"), Kind.CENTS, unit=currency),
        Column("selling", write.say("Selling"), Kind.CENTS, unit=currency),
        Column("margin", write.say("Margin"), Kind.CENTS, unit=currency),
        Column("margin_share", write.say("Share"), Kind.SHARE, 2),
    ]
    rows = [
        [
            words.item(write, one.line.item),
            one.line.supplier,
            one.line.supplier_code,
            one.line.price_date,
            one.line.quantity,
            one.line.cost_each,
            one.cost,
            one.selling,
            one.margin,
            one.share,
        ]
        for one in option.margins
    ]
    name = words.option_name(write, option.option.design)
    return Grid("margins", write.say("For the installer alone: {name}", name=name), columns, rows)


def kept(write: Writer, quote: Quote, sheet: Handover) -> Grid:
    """Return what stays on, tier by tier, with what it takes a day in each season."""
    columns = [
        Column("load", write.say("Load")),
        Column("tier", write.say("Tier")),
        *(
            Column(
                f"kwh_day_{season.name}",
                write.say("kWh a day, {season}", season=season.name),
                Kind.NUMBER,
                2,
            )
            for season in quote.job.site.seasons
        ),
    ]
    rows: list[Row] = [
        [
            write.say("{n} × {load}", n=one.count, load=one.load) if one.count > 1 else one.load,
            one.tier,
            *one.kwh_day,
        ]
        for one in sheet.kept
    ]
    return Grid("kept", write.say("What stays on"), columns, rows)


def seasons(write: Writer, sheet: Handover) -> Grid:
    """Return the hours of each season, new and in the last year, all on and first tier alone."""
    last = sheet.last_year + 1
    alone = {"tier": sheet.first_tier, "year": last}
    columns = [
        Column("season", write.say("Hours from the worst start")),
        Column("new", write.say("everything, year 1"), Kind.HOURS),
        Column("last", write.say("everything, year {year}", year=last), Kind.HOURS),
        Column("tier_new", write.say("{tier} alone, year 1", **alone), Kind.HOURS),
        Column("tier_last", write.say("{tier} alone, year {year}", **alone), Kind.HOURS),
    ]

    def hours(value: float) -> Cell:
        return Cell(value, Kind.HOURS, 0 if value >= 10 else 1)  # noqa: PLR2004

    rows: list[Row] = [
        [
            one.season,
            *map(hours, (one.new, one.last, one.first_tier_new, one.first_tier_last)),
        ]
        for one in sheet.seasons
    ]
    return Grid("seasons", write.say("For how long"), columns, rows)


def parts(write: Writer, sheet: Handover) -> Grid:
    """Return when each part is due and what to set aside for it."""
    columns = [
        Column("part", write.say("Part")),
        Column("due", write.say("Due"), Kind.DATE),
        Column("amount", write.say("Today"), Kind.CENTS, unit=write.currency),
        Column("monthly", write.say("A month"), Kind.CENTS, unit=write.currency),
    ]
    rows: list[Row] = [
        [handover.part(write, one), one.due, one.amount, one.monthly] for one in sheet.parts
    ]
    rows.append([write.say("To set aside"), None, None, sheet.monthly])
    note = write.say(
        "At today's prices, labour and tax included, without interest. A bank is due when it has "
        "the strength of its last planned year."
    )
    title = write.say("When parts are due, and what to set aside")
    return Grid("parts", title, columns, rows, [note], has_total=True)
