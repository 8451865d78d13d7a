"""Where the money of a design goes: what is paid, grouped as a buyer asks."""

from collections.abc import Iterable
from enum import StrEnum

from optimizer.engine.cashflow import PURCHASES, RETURNS, Kind, Payment


class CostShare(StrEnum):
    """What a payment is part of; the first two are the upfront cost."""

    EQUIPMENT = "equipment"
    LABOUR = "labour"
    REPLACEMENTS = "replacements"
    RUNNING = "running"
    RESIDUAL_VALUE = "residual_value"


def share_of(payment: Payment) -> CostShare:
    """Return what a payment is part of."""
    if payment.kind in RETURNS:
        return CostShare.RESIDUAL_VALUE
    if payment.kind not in PURCHASES:
        return CostShare.RUNNING
    if payment.time_years > 0:
        return CostShare.REPLACEMENTS
    return CostShare.LABOUR if payment.kind is Kind.WORKS else CostShare.EQUIPMENT


def cost_shares(payments: Iterable[Payment], discount_rate: float) -> dict[CostShare, float]:
    """Return the present value of each share [currency]; together the life-cycle cost."""
    shares = dict.fromkeys(CostShare, 0.0)
    for payment in payments:
        shares[share_of(payment)] += payment.present_value(discount_rate)
    return shares
