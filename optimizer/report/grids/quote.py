"""The tables of a quote."""

from collections.abc import Callable
from decimal import Decimal

from optimizer.quote import PricedOption, Pricing, Quote
from optimizer.quote.handover import Handover, SeasonHours
from optimizer.quote.priced_lines import Margin
from optimizer.quote.sums import Sum
from optimizer.report.grids.grid import Cell, Column, Grid, Kind, Row, Value
from optimizer.report.words import handover, letter, quote_lines
from optimizer.report.words import quote as words
from optimizer.report.words.design import inverter_set, units
from optimizer.report.words.writer import Writer


def options(write: Writer, quote: Quote) -> Grid:
    """Return the options side by side: one column each, one row a question."""
    years = quote.job.site.horizon_years

    def row(name: str, cell: Callable[[PricedOption], Value], kind: Kind = Kind.TEXT) -> Row:
        return [name, *(Cell(cell(one), kind) for one in quote.options)]

    rows = [
        row(write.say("Chosen as"), lambda one: words.why(write, one)),
        row(write.say("Upfront cost, tax included"), lambda one: one.pricing.total, Kind.CENTS),
        row(
            write.say("Life-cycle cost over {years:years}", years=years),
            lambda one: one.pricing.life_cycle_cost,
            Kind.MONEY,
        ),
        row(write.say("Bank"), lambda one: units(write, one.design.banks[0])),
        row(write.say("Inverter-charger"), lambda one: inverter_set(write, one.design)),
        row(
            write.say("Independent simulation"),
            lambda one: words.simulation_short(write, one.verdict),
        ),
        row(
            write.say("Energy for the loads in one outage"),
            lambda one: words.outage_energy(write, one.handover),
        ),
        row(write.say("Mass"), lambda one: words.masses(write, one.design)),
        row(write.say("Replacements"), lambda one: quote_lines.replaced(write, one.pricing, years)),
        row(write.say("To set aside a month"), lambda one: one.handover.monthly, Kind.CENTS),
    ]
    if any(one.design.generator is not None for one in quote.options):
        name = write.say("Generator")
        rows.insert(5, row(name, lambda one: words.generator(write, one.design)))
    if any(one.design.contract is not None for one in quote.options):
        name = write.say("Supply contract with the utility")
        rows.insert(5, row(name, lambda one: words.contract(write, one.design)))
    names = [words.option_name(write, one.design) for one in quote.options]
    columns = [
        Column("question", ""),
        *(Column(f"option_{place}", name) for place, name in enumerate(names, start=1)),
    ]
    heading = write.say(
        "{title} for {site}, {day:date}, {currency}",
        title=letter.title(write, quote.company),
        site=quote.job.site.name,
        day=quote.day,
    )
    return Grid("options", heading, columns, rows, has_alternatives=True)


def price(write: Writer, found: Sum) -> Grid:
    """Return priced lines under their headings, then what is added, tax by rate, the total."""
    several = len(found.taxes) > 1
    rates = [Column("tax_rate", write.say("Tax"), Kind.SHARE)] if several else []
    columns = [
        Column("item", write.say("Item")),
        Column("quantity", write.say("Quantity"), Kind.FIGURE, 5),
        Column("unit", write.say("Unit")),
        Column("price_each", write.say("Each"), Kind.PRICE, unit=write.currency),
        *rates,
        Column("amount", write.say("Sum"), Kind.CENTS, unit=write.currency),
    ]

    def total(name: str, amount: Decimal, rate: Decimal | None = None) -> Row:
        shown = None if rate is None else Cell(rate, Kind.SHARE)
        return [name, None, None, shown, *[None] * len(rates), amount]

    headings = quote_lines.headings(write)
    rows: list[Row] = []
    for heading, lines in found.by_heading():
        rows.append([headings[heading], *[None] * (len(columns) - 1)])
        for line in lines:
            tax = [line.tax_rate] if several else []
            name = quote_lines.item(write, line.item)
            rows.append([name, line.quantity, line.unit, line.price_each, *tax, line.amount])
    if found.added:
        rows.append(total(write.say("Sum of the lines"), found.net))
        rows += [total(quote_lines.added(write, one), one.amount, one.rate) for one in found.added]
    rows.append(total(write.say("Sum before tax"), found.before_tax))
    for part in found.taxes:
        rows.append(
            total(quote_lines.tax(write, part, is_alone=not several), part.amount, part.rate)
        )
    rows.append(total(write.say("Total"), found.total))
    return Grid("price", write.say("Price"), columns, rows, has_total=True)


def plan(write: Writer, pricing: Pricing) -> Grid:
    """Return the payment plan."""
    columns = [
        Column("when", write.say("When")),
        Column("share", write.say("Share"), Kind.SHARE),
        Column("amount", write.say("Sum"), Kind.CENTS, unit=write.currency),
    ]
    rows: list[Row] = [
        [quote_lines.stage(write, due.stage), due.stage.share, due.amount] for due in pricing.plan
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
                        item=quote_lines.item(write, line.item),
                    )
                    for line in run[0].sum.lines
                ]
            ),
            quote_lines.replacement_time(write, quote.day, run),
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

    def row(one: Margin) -> Row:
        line, bought = one.line, one.line.bought
        return [
            quote_lines.item(write, line.item),
            bought.supplier if bought else None,
            bought.supplier_code if bought else None,
            line.price_date,
            line.quantity,
            line.cost_each,
            one.cost,
            one.selling,
            one.margin,
            one.share,
        ]

    rows = [row(one) for one in option.pricing.margins]
    name = words.option_name(write, option.design)
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
    """Return the hours of each season, new and in the last year, all on and first tier alone.

    Where all is of the first tier, that is said once.
    """
    last = sheet.last_year + 1
    alone = {"tier": sheet.first_tier, "year": last}
    columns = [
        Column("season", write.say("Hours from the worst start")),
        Column("new", write.say("everything, year 1"), Kind.HOURS),
        Column("last", write.say("everything, year {year}", year=last), Kind.HOURS),
        Column("tier_new", write.say("{tier} alone, year 1", **alone), Kind.HOURS),
        Column("tier_last", write.say("{tier} alone, year {year}", **alone), Kind.HOURS),
    ]
    if all(one.tier == sheet.first_tier for one in sheet.kept):
        columns = columns[:3]

    def hours(value: float) -> Cell:
        return Cell(value, Kind.HOURS, 0 if value >= 10 else 1)  # noqa: PLR2004 - two digits

    def row(one: SeasonHours) -> Row:
        spans = one.new, one.last, one.first_tier_new, one.first_tier_last
        return [one.season, *map(hours, spans[: len(columns) - 1])]

    rows = [row(one) for one in sheet.seasons]
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
