"""Money that banks, inverter sets and generators share: section 5 of the model."""

from __future__ import annotations

from math import floor
from typing import TYPE_CHECKING

from .demand import TOLERANCE

if TYPE_CHECKING:
    from .case import Case


def gross(case: Case) -> float:
    return (1 + case.site.markup) * (1 + case.site.tax_rate)


def works_price(case: Case, basis: str, when: str) -> float:
    return sum(
        work.price for work in case.works if work.basis == basis and work.applies in (when, "both")
    )


def present_value(case: Case, yearly: float) -> float:
    """Of a cost that comes every year of the horizon."""
    rate = 1 + case.site.discount_rate
    return sum(yearly / rate ** (year + 1) for year in range(case.site.horizon_years))


def residual(case: Case, price: float, life_years: float) -> float:
    """What the last of a row of equal machines is worth at the horizon, in today's money."""
    site, life = case.site, floor(life_years * (1 + TOLERANCE))
    bought = max(range(0, site.horizon_years, life))
    left = 1 - (site.horizon_years - bought) / life
    return site.residual_share * price * left / (1 + site.discount_rate) ** site.horizon_years
