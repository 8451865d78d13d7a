"""Life-cycle cost: present values in real terms (method of ASTM E917 and NIST Handbook 135)."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable

    import numpy as np
    from numpy.typing import NDArray


def present_value_factor(
    rate: float, years: float | NDArray[np.float64]
) -> float | NDArray[np.float64]:
    """Return what one unit of money paid after ``years`` [a] is worth today.

    Examples
    --------
    >>> round(present_value_factor(0.03, 10), 6)
    0.744094
    """
    return (1.0 + rate) ** (-years)


def yearly_costs_factor(rate: float, start: int, end: int) -> float:
    """Return the present value of one unit in each year from ``start`` to ``end`` (not counted).

    A year's cost falls at its end: year y is divided by (1 + rate)^(y + 1).

    Examples
    --------
    >>> round(yearly_costs_factor(0.03, 0, 20), 4)
    14.8775
    """
    return float(sum((1.0 + rate) ** -(year + 1) for year in range(start, end)))


def gross_factor(markup: float, tax_rate: float) -> float:
    """Return the factor from a net price to what is paid, markup and tax included.

    >>> gross_factor(0.5, 0.2)
    1.7999999999999998
    """
    return (1.0 + markup) * (1.0 + tax_rate)


def nominal_rate(real_rate: float, inflation: float) -> float:
    """Return the nominal rate of a real one (Fisher's relation).

    >>> round(nominal_rate(0.03, 0.02), 4)
    0.0506
    """
    return (1.0 + real_rate) * (1.0 + inflation) - 1.0


def capital_recovery_factor(rate: float, years: int) -> float:
    """Return the level yearly payment that one unit of money today is worth over ``years``.

    >>> round(capital_recovery_factor(0.08, 10), 6)
    0.149029
    """
    return 1.0 / yearly_costs_factor(rate, 0, years)


def straight_line_residual(price: float, age_years: float, life_years: float) -> float:
    """Return what is left of a price when it is written off evenly over a life.

    >>> straight_line_residual(3000, 4, 8)
    1500.0
    """
    return price * max(0.0, 1.0 - age_years / life_years)


def real_rate(nominal_rate: float, inflation: float) -> float:
    """Return the real rate of a nominal one (Fisher's relation).

    >>> round(real_rate(0.0506, 0.02), 4)
    0.03
    """
    return (1.0 + nominal_rate) / (1.0 + inflation) - 1.0


def drifted_price(price: float, price_drift: float, years: float) -> float:
    """Return a price in years to come, in money of today.

    Parameters
    ----------
    price : float
        Price today [currency].
    price_drift : float
        Change a year, above inflation, > −1 [1/a].
    years : float
        From today [a].

    Examples
    --------
    >>> round(drifted_price(1500, -0.05, 5), 4)
    1160.6714
    """
    return float(price * (1.0 + price_drift) ** years)


def annual_equivalent(present_value: float, rate: float, years: int) -> float:
    """Return the level yearly cost that a present value stands for [currency/a].

    Lets quotes of unequal lives be compared, each over its own life (ASTM E917).

    >>> round(annual_equivalent(1000, 0.08, 10), 2)
    149.03
    """
    return present_value * capital_recovery_factor(rate, years)


def yearly_saving(price: float, rate: float, years: int) -> float:
    """Return what to lay aside at each year's end to have a price together after some years.

    Parameters
    ----------
    price : float
        What the replacement will cost [currency].
    rate : float
        Interest on what is laid aside [1/a].
    years : int
        Years until then [a], ≥ 1.

    Examples
    --------
    >>> round(yearly_saving(3000, 0.03, 8), 2)
    337.37
    """
    return price * capital_recovery_factor(rate, years) * (1.0 + rate) ** -years


def present_value_of_purchases(
    price: float,
    every_years: int,
    horizon_years: int,
    rate: float,
    *,
    residual_share: float = 0.0,
    price_drift: float = 0.0,
) -> float:
    """Return the present value of something bought now and again each time its life is over.

    Parameters
    ----------
    price : float
        Price today [currency].
    every_years : int
        Its life [a], ≥ 1.
    horizon_years : int
        Horizon [a].
    rate : float
        Real discount rate [1/a].
    residual_share : float
        Share of the last one's unused life that is worth money at the horizon, 0…1, a straight
        line.
    price_drift : float
        Change of the price a year [1/a].

    Notes
    -----
    Source: ASTM E917 (replacement and residual value as in NIST Handbook 135).

    Examples
    --------
    >>> round(present_value_of_purchases(5000, 5, 15, 0.03), 2)
    13033.51
    """
    bought = range(0, horizon_years, every_years)
    total = sum(drifted_price(price, price_drift, y) * (1.0 + rate) ** -y for y in bought)
    last = bought[-1]
    left = straight_line_residual(
        drifted_price(price, price_drift, last), horizon_years - last, every_years
    )
    return float(total - residual_share * left * (1.0 + rate) ** -horizon_years)


def break_even_rate(
    difference: Callable[[float], float], low: float = 0.0, high: float = 0.5
) -> float | None:
    """Return the discount rate at which two life-cycle costs are equal, None if there is none.

    Parameters
    ----------
    difference : callable
        Takes a rate [1/a]; returns the one cost less the other [currency].
    low, high : float
        Where to look [1/a]; the winner must differ at the two ends.

    Notes
    -----
    Bisection: sure, and quick enough.

    Examples
    --------
    >>> lead = lambda rate: present_value_of_purchases(5000, 5, 15, rate)
    >>> round(break_even_rate(lambda rate: lead(rate) - 14000), 4)
    0.0142
    """
    at_low = difference(low)
    if at_low * difference(high) > 0:
        return None
    while high - low > 1e-12:  # noqa: PLR2004 - far finer than any rate is known
        middle = (low + high) / 2
        if at_low * difference(middle) > 0:
            low = middle
        else:
            high = middle
    return (low + high) / 2
