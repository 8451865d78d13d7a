"""One design explained, as tables."""

import math
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import replace
from string import ascii_uppercase
from typing import TYPE_CHECKING

from optimizer.answers.choice import Choice, Explained
from optimizer.answers.curve import Point
from optimizer.answers.purchases import CostShare, share_of
from optimizer.engine.cashflow import Kind as PaymentKind
from optimizer.engine.cashflow import Payment
from optimizer.engine.check import CONDITIONS, Check, CheckKind
from optimizer.model.job import Job
from optimizer.report.grids.grid import Cell, Column, Grid, Kind, Row, Value, quantities
from optimizer.report.words import design as words
from optimizer.report.words.checks import check_name, check_unit, is_of_one_bank
from optimizer.report.words.design import cash_lines, material
from optimizer.report.words.writer import Writer

if TYPE_CHECKING:  # reading job files takes longer to import than a choice to show
    from optimizer.inputs.job_file import Kept

#: Units of quantities of which a share may be to spare; a share of degrees or counts says nothing.
_NO_SHARE = frozenset({"", "°C"})


def summary(write: Writer, design: Point) -> Grid:
    """Return what a design is, one quantity a row."""
    money = Kind.MONEY
    bank, run = design.banks[0], design.wiring
    contract, generator = design.contract, design.generator
    rows: list[Row] = [
        [write.say("Autonomy"), Cell(design.hours, Kind.HOURS), "h"],
        [write.say("Upfront cost"), Cell(design.upfront_cost, money), write.currency],
        [write.say("Life-cycle cost"), Cell(design.life_cycle_cost, money), write.currency],
        [write.say("Bank, series × strings"), words.bank(write, bank, design.voltage_v), ""],
        [
            write.say("Service life of the bank"),
            Cell(bank.service_life_years, Kind.NUMBER, 1),
            write.say("years"),
        ],
        [write.say("Energy of the bank"), Cell(bank.energy_wh / 1000, Kind.NUMBER, 1), "kWh"],
        [write.say("Inverter set"), words.inverter_set(write, design), ""],
        [write.say("Power of the inverter set"), Cell(design.power_w / 1000, Kind.FIGURE), "kW"],
        [write.say("Bank and inverter"), Cell(design.mass_kg, Kind.NUMBER), "kg"],
    ]
    if run is not None:
        rows.append([write.say("Battery cable and fuse"), words.wiring(write, run), ""])
    if contract is not None:
        rows.append([write.say("Supply contract"), Cell(contract.power_w, Kind.NUMBER), "W"])
    if generator is not None:
        rows.append([write.say("Generator"), generator.generator, ""])
        rows.append([write.say("Fuel stored"), Cell(design.fuel_l, Kind.NUMBER, 1), "l"])
    rows.append([write.say("Replacements"), words.replacements(write, design.replacements), ""])
    return Grid("design", write.say("The design"), quantities(), rows)


def kept(write: Writer, designs: "Sequence[Kept]", inputs: str) -> Grid:
    """Return designs set aside, lettered; ``inputs`` tells which answer the job as it is now."""
    columns = [
        Column("letter", ""),
        Column("hours", write.say("Autonomy"), Kind.HOURS, unit="h"),
        Column("upfront_cost", write.say("Upfront cost"), Kind.MONEY),
        Column("life_cycle_cost", write.say("Life-cycle cost"), Kind.MONEY),
        Column("currency", write.say("Currency")),
        Column("bank", write.say("Bank, series × strings")),
        Column("inverter", write.say("Inverter set")),
        Column("replacements", write.say("Replacements")),
        Column("inputs", write.say("Inputs")),
    ]
    rows: list[Row] = [
        [
            letter,
            one.hours,
            one.upfront_cost,
            one.life_cycle_cost,
            one.currency,
            one.bank,
            one.inverter,
            one.replacements,
            write.say("as now") if one.inputs == inputs else write.say("before a change"),
        ]
        for letter, one in zip(ascii_uppercase, designs, strict=False)
    ]
    return Grid("kept", write.say("Designs side by side"), columns, rows)


def requirements(write: Writer, checks: Sequence[Check]) -> Grid:
    """Return every requirement with what is required and provided, met or not."""
    columns = [*_check_columns(write), Column("met", "", is_short=True)]
    rows: list[Row] = [
        [*_check_cells(write, one), write.say("met") if one.met else write.say("NOT MET")]
        for one in checks
    ]
    return Grid("requirements", write.say("What it must meet"), columns, rows)


def limits(write: Writer, explained: Sequence[Explained]) -> Grid:
    """Return every requirement of a design with what lifting it would save.

    Where several banks follow one another, a requirement is told of the bank that meets it most
    narrowly.
    """
    columns, one_bank = _check_columns(write), is_of_one_bank([one.check for one in explained])
    hardest: dict[CheckKind, Explained] = {}
    for one in explained:
        held = hardest.setdefault(one.check.kind, one)
        if (-(one.saving or 0), one.check.margin) < (-(held.saving or 0), held.check.margin):
            hardest[one.check.kind] = one
    shown = list(hardest.values())
    rows = [_check_cells(write, one.check, one_bank=one_bank) for one in shown]
    if any(one.binds for one in shown):
        saving = write.say("Saving if lifted")
        columns.append(Column("saving", saving, Kind.MONEY, unit=write.currency))
        for row, one in zip(rows, shown, strict=True):
            row.append(one.saving if one.binds else None)
    notes = (
        ()
        if len(shown) == len(explained)
        else (write.say("Of each, the bank with the least to spare."),)
    )
    return Grid("limits", write.say("What it must meet"), columns, rows, notes)


def _check_columns(write: Writer) -> list[Column]:
    return [
        Column("requirement", write.say("Requirement")),
        Column("required", write.say("Required"), Kind.FIGURE),
        Column("provided", write.say("Provided"), Kind.FIGURE),
        Column("unit", write.say("Unit"), is_short=True),
        Column("margin", write.say("To spare"), Kind.SHARE, 0),
    ]


def _check_cells(write: Writer, check: Check, *, one_bank: bool = False) -> list[Value | Cell]:
    name = check_name(write, replace(check, bank=None) if one_bank else check)
    unit = check_unit(write, check)
    if check.kind in CONDITIONS:
        return [name, Cell(True, Kind.YES_NO), Cell(bool(check.provided), Kind.YES_NO), unit, None]
    spare = None if math.isinf(check.margin) or check.unit in _NO_SHARE else check.margin
    required = Cell(check.required, Kind.FIGURE, sign="≤" if check.at_most else "≥")
    return [name, required, check.provided, unit, spare]


def cash(write: Writer, job: Job, design: Point) -> Grid:
    """Return the money by year, one row a point in time, one column a line."""
    site, rate = job.site, job.site.discount_rate
    sums: defaultdict[tuple[int, str], float] = defaultdict(float)
    present: defaultdict[int, float] = defaultdict(float)  # purchases fall within years too
    for payment in design.payments:
        sums[payment.counted_year, payment.kind] += payment.amount
        present[payment.counted_year] += payment.present_value(rate)
    paid = {kind for _, kind in sums}
    kinds = {kind: name for kind, name in cash_lines(write).items() if kind in paid}
    columns = [
        Column("years", write.say("After"), Kind.NUMBER, unit=write.say("years")),
        *(Column(kind, name, Kind.MONEY, is_detail=True) for kind, name in kinds.items()),
        Column("sum", write.say("Sum"), Kind.MONEY),
        Column("present_value", write.say("Present value"), Kind.MONEY),
    ]
    rows: list[Row] = []
    for year in range(site.horizon_years + 1):
        amounts = [sums.get((year, kind)) for kind in kinds]
        in_year = sum(amount for amount in amounts if amount is not None)
        rows.append([year, *amounts, in_year, present[year]])
    totals = [sum(sums[year, kind] for year, one in list(sums) if one == kind) for kind in kinds]
    total = sum(payment.present_value(rate) for payment in design.payments)
    rows.append([write.say("Total"), *totals, sum(totals), total])
    title = write.say(
        "Money, {currency} of today; present value at {rate:share.1} real",
        rate=rate,
    )
    return Grid("cash", title, columns, rows, has_total=True)


def reconciliation(write: Writer, job: Job, design: Point) -> Grid:
    """Return how the life-cycle cost follows from the upfront cost, line by line.

    What is bought upfront stands line by line; replacements by the year; the rest in its groups.
    """
    rate, names = job.site.discount_rate, cash_lines(write)
    order = list(CostShare)
    flow = sorted(design.payments, key=lambda one: order.index(share_of(one)))
    lines: dict[str, list[Payment]] = {}
    for payment in flow:
        match share_of(payment):
            case CostShare.EQUIPMENT | CostShare.LABOUR:
                name = names[payment.kind]
            case CostShare.REPLACEMENTS if payment.kind is PaymentKind.FUEL:
                name = write.say("Fuel renewed")
            case CostShare.REPLACEMENTS:
                name = write.say("Replacements in year {year}", year=payment.year + 1)
            case CostShare.RUNNING:
                name = write.say("Running costs")
            case CostShare.RESIDUAL_VALUE:
                name = write.say("Residual and scrap value")
        lines.setdefault(name, []).append(payment)
    lines = {name: lines.pop(name) for name in names.values() if name in lines} | {
        write.say("Upfront cost"): [one for one in flow if one.time_years == 0],
        **lines,
        write.say("Life-cycle cost"): flow,
    }
    rows: list[Row] = [
        [name, sum(one.amount for one in paid), sum(one.present_value(rate) for one in paid)]
        for name, paid in lines.items()
    ]
    columns = [
        Column("line", ""),
        Column("today", write.say("Money of today"), Kind.MONEY, unit=write.currency),
        Column("present_value", write.say("Present value"), Kind.MONEY, unit=write.currency),
    ]
    note = write.say(
        "The present value counts later money at {rate:share.1} a year less, above inflation.",
        rate=rate,
    )
    title = write.say("From the upfront to the life-cycle cost")
    return Grid("reconciliation", title, columns, rows, [note], has_total=True)


def materials(write: Writer, chosen: Choice) -> Grid:
    """Return the material list at net prices, and how the gross sum follows."""
    site = chosen.job.site
    columns = [
        Column("item", write.say("Item")),
        Column("quantity", write.say("Quantity"), Kind.FIGURE),
        Column("unit", write.say("Unit"), is_short=True),
        Column("price_each", write.say("Each"), Kind.CENTS),
        Column("price", write.say("Sum"), Kind.CENTS),
    ]
    lines = chosen.materials
    net = sum(line.amount for line in lines)
    paid = write.say(
        "Upfront cost, markup {markup:share} and tax {tax:share} included",
        markup=site.markup,
        tax=site.tax_rate,
    )
    rows: list[Row] = [
        [material(write, line), line.quantity, line.unit, line.price_each, line.amount]
        for line in lines
    ]
    gross = net * (1 + site.markup) * (1 + site.tax_rate)
    rows += [[write.say("Net"), None, None, None, net], [paid, None, None, None, gross]]
    rules, fuel_l = site.generator, chosen.design.fuel_l
    if rules is not None and fuel_l:
        fuel = fuel_l * rules.fuel_price
        rows += [
            [write.say("Fuel stored"), fuel_l, "l", rules.fuel_price, fuel],
            [write.say("Upfront cost with fuel"), None, None, None, gross + fuel],
        ]
    title = write.say("To buy at the start, {currency} net")
    return Grid("materials", title, columns, rows, has_total=True)
