"""Designs in words and numbers a person reads."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from optimizer.answers.purchases import purchases

if TYPE_CHECKING:
    from optimizer.answers.choice import Choice
    from optimizer.answers.purchases import Purchase
    from optimizer.engine.cashflow import Payment
    from optimizer.model.design import BankPeriod, Design


def money(amount: float, currency: str = "", decimals: int = 0) -> str:
    """Return an amount with separators, and its currency where given.

    >>> money(5132.6, "EUR"), money(-0.2)
    ('5,133 EUR', '0')
    """
    text = f"{amount:,.{decimals}f}"
    if float(text.replace(",", "")) == 0:
        text = f"{0:,.{decimals}f}"
    return f"{text} {currency}".rstrip()


def family(name: str) -> str:
    """Return a family's name for people."""
    return {"lead": "lead-acid", "mixed": "mixed chain"}.get(name, name)


def hours_in_words(hours: float, horizon_hours: float = math.inf) -> str:
    """Return hours with one decimal, never rounded up.

    >>> hours_in_words(6.99), hours_in_words(240.0, 240.0)
    ('6.9', '≥ 240')
    """
    if hours >= horizon_hours:
        return f"≥ {horizon_hours:.0f}"
    return f"{math.floor(hours * 10 + 1e-6) / 10:.1f}"


def bank_in_words(bank: BankPeriod, voltage_v: int) -> str:
    """Return a bank as the trade writes it: model, series × parallel, voltage.

    Series counts units in one string, parallel counts strings.
    """
    return f"{bank.battery.battery}, {bank.series} × {bank.strings}, {voltage_v} V"


def set_in_words(design: Design) -> str:
    """Return an inverter set: how many of which model."""
    if design.inverter_units == 1:
        return design.inverter.inverter
    return f"{design.inverter_units} × {design.inverter.inverter}"


def replacements_in_words(flow: tuple[Payment, ...]) -> str:
    """Return what is bought after the start, with its years counted from 1.

    Equipment bought at the start of the sixth year reads "year 6".
    """
    later = [purchase for purchase in purchases(flow) if purchase.year > 0]
    if not later:
        return "none"
    return "; ".join(f"year {one.year + 1}: {', '.join(one.items)}" for one in later)


def purchase_in_words(purchase: Purchase | None, currency: str, horizon_years: int) -> str:
    """Return the next purchase: year, items and sum, at today's prices with drift."""
    if purchase is None:
        return f"nothing more to buy within {horizon_years} years"
    what = " and ".join(purchase.items)
    return f"year {purchase.year + 1}: {what}, {money(purchase.amount, currency)}"


def choice_in_words(choice: Choice) -> str:
    """Return the answer in one or two sentences a customer understands."""
    design, site = choice.design, choice.job.site
    bank = design.banks[0]
    strings = "one string" if bank.strings == 1 else f"{bank.strings} strings"
    units = f"of {bank.series} " if bank.series > 1 else "of one "
    years = site.horizon_in_words
    hours = f"{design.hours} hours" if design.hours > 1 else "One hour"
    return (
        f"{hours} without the grid: {money(design.upfront_cost, site.currency)} "
        f"today; {money(design.life_cycle_cost, site.currency)} over {years}, with running costs "
        f"and later purchases added and the value left at the end taken off. "
        f"{strings.capitalize()} {units}{bank.battery.battery} ({bank.battery.chemistry}) at "
        f"{design.voltage_v} V behind {set_in_words(design)}."
    )
