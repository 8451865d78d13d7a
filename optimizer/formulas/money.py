"""Life-cycle cost: present values in real terms (method of ASTM E917 and NIST Handbook 135)."""


def yearly_costs_factor(rate: float, start: int, end: int) -> float:
    """Return the present value of one unit in each year from ``start`` to ``end`` (not counted).

    A year's cost falls at its end: year y is divided by (1 + rate)^(y + 1).

    Returns
    -------
    float in [0, 2000]

    Examples
    --------
    >>> round(yearly_costs_factor(0.03, 0, 20), 4)
    14.8775
    """
    return float(sum((1.0 + rate) ** -(year + 1) for year in range(start, end)))


def capital_recovery_factor(rate: float, years: int) -> float:
    """Return the level yearly payment that one unit of money today is worth over ``years``.

    >>> round(capital_recovery_factor(0.08, 10), 6)
    0.149029

    Returns
    -------
    float in [0, 1.5]
    """
    return 1.0 / yearly_costs_factor(rate, 0, years)


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

    Returns
    -------
    float in [0, 1e20]

    Examples
    --------
    >>> round(drifted_price(1500, -0.05, 5), 4)
    1160.6714
    """
    return float(price * (1.0 + price_drift) ** years)


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

    Returns
    -------
    float in [0, 1e13]

    Examples
    --------
    >>> round(yearly_saving(3000, 0.03, 8), 2)
    337.37
    """
    return price * capital_recovery_factor(rate, years) * (1.0 + rate) ** -years
