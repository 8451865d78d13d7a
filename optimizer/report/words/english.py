"""Designs in words and numbers a person reads."""

from __future__ import annotations

from typing import TYPE_CHECKING

from optimizer.answers.purchases import purchases

if TYPE_CHECKING:
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
    later = [one for one in purchases(flow) if one.year > 0 and one.items]
    if not later:
        return "none"
    return "; ".join(f"year {one.year + 1}: {', '.join(one.items)}" for one in later)


def purchase_in_words(purchase: Purchase | None, currency: str, horizon_years: int) -> str:
    """Return the next purchase: year, items and sum, at today's prices with drift."""
    if purchase is None:
        return f"nothing more to buy within {horizon_years} years"
    what = " and ".join(purchase.items)
    return f"year {purchase.year + 1}: {what}, {money(purchase.amount, currency)}"
