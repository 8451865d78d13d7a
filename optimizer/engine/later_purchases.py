"""What is bought after the start, year by year, for the limit on any later year.

In a later year at most one bank is bought, and a set's own swaps fall in years that do not depend
on the banks. So the sum due in a year is known for each pair of a set and a span, and a limit on
it rules out pairs, one by one: no row of the program has to couple anything.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from optimizer.engine.works import gross, works_price
from optimizer.formulas.tolerance import whole_years

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from optimizer.engine.candidates import Candidates

    Floats = NDArray[np.float64]


def bank_sums(candidates: Candidates) -> Floats:
    """Return what each bank costs if bought at the start of each year, works included.

    Returns
    -------
    ndarray, shape (banks, years)
        In money of today [currency]; of year 0 too, though no later purchase falls there.
    """
    job, banks = candidates.job, candidates.banks
    models = banks.batteries
    price = np.array([one.price for one in models], dtype=float)
    drift = 1 + np.array([one.price_drift for one in models], dtype=float)
    mass_kg = np.array([one.mass_kg for one in models], dtype=float)
    years = np.arange(job.site.horizon_years)
    per_unit = works_price(job, "battery_unit", first=False)
    per_kg = works_price(job, "kg", first=False)
    per_string = works_price(job, "string", first=False)
    works = banks.units * (per_unit + per_kg * mass_kg) + banks.strings * per_string
    bought = (banks.units * price)[:, None] * drift[:, None] ** years[None, :]
    return np.asarray((bought + works[:, None]) * gross(job))


def swap_sums(candidates: Candidates) -> Floats:
    """Return what the swaps of each inverter set cost in each year, works included.

    Returns
    -------
    ndarray, shape (sets, years)
        In money of today [currency]; 0 where nothing is swapped.
    """
    job, sets = candidates.job, candidates.sets
    horizon = job.site.horizon_years
    found = np.zeros((len(sets), horizon))
    per_unit = works_price(job, "inverter_unit", first=False)
    for index, inverter in enumerate(sets.inverters):
        life = whole_years(inverter.life_years)
        due = gross(job) * int(sets.units[index]) * (inverter.price + per_unit)
        found[index, life:horizon:life] = due
    return found
