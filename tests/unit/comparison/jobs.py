"""Small jobs on which the families are close, so that the winner changes somewhere."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from optimizer import load
from optimizer.comparison.parameters import Shape
from optimizer.comparison.study import MIXED
from optimizer.engine.curve import Search

FAMILIES = ("lead", "lithium")
BATTERIES = {
    "Pallinger Saltpan",
    "Ostley Hearth",
    "Harrowgill Neap",
    "Lanternby Rush",
    "Siltbury Tray",
    "Netherlume Kiln",
    "Netherlume Stove",
}
INVERTERS = {
    "Bosunwick Galley 24",
    "Bosunwick Saloon 24",
    "Bosunwick Saloon 48",
    "Thwartline Two 48",
}


def small_house(hours=12, **changes):
    """Return the demo house with seven batteries and four inverters, up to 30 hours."""
    job = load("house")
    catalog = replace(
        job.catalog,
        batteries=tuple(one for one in job.catalog.batteries if one.battery in BATTERIES),
        inverters=tuple(one for one in job.catalog.inverters if one.inverter in INVERTERS),
    )
    site = replace(job.site, max_hours=30, target_hours=hours, **changes)
    return replace(job, site=site, catalog=catalog)


def winner_by_search(job, parameter, value, hours):
    """Return who wins at a value, each side searched whole; None where nothing fits."""
    search = Search(parameter.at(job, value))
    least = search.least(hours)
    if math.isinf(least):
        return None
    own = (search.otherwise(family=family).least(hours, known=least) for family in FAMILIES)
    costs = zip(FAMILIES, own, strict=True)
    return next((family for family, cost in costs if cost <= least + 1e-6), MIXED)


def winner_by_switch_points(found, value):
    """Return who wins at a value as the switch points tell it."""
    if not found.points:
        return found.winner
    winner = found.points[0].below.winner
    for point in found.points:
        if value >= point.above.value:
            winner = point.above.winner
    return winner


def grid(parameter, count):
    """Return values from end to end, none of them on a bracket by design."""
    if parameter.shape is Shape.WHOLE:
        return [float(n) for n in range(round(parameter.low), round(parameter.high) + 1)]
    return [float(value) for value in np.linspace(parameter.low, parameter.high, count)]
