"""What is bought after the start, year by year, for the limit on any later year.

Periods of a chain do not overlap, and a set's own swaps fall in years that do not depend on the
banks. So the sum due in a year is known for each pair of a set and a period, and a limit on it
rules out pairs, one by one: no row of the program has to couple anything.
"""

import numpy as np

from optimizer.engine.candidates import Candidates
from optimizer.engine.works import bank_works, gross, works_price
from optimizer.formulas.renewals import banks_in_turn, sum_of_powers
from optimizer.formulas.tolerance import whole_years
from optimizer.model.arrays import Floats


def bank_sums(candidates: Candidates) -> Floats:
    """Return what is bought in the last year of each period [currency of today], works included.

    Banks bought at a real number of years count in the whole year in which they fall, several of
    one year together. Shape (banks, periods); a period's earlier years are those of the shorter
    periods from the same start.
    """
    job, banks, life = candidates.job, candidates.banks, candidates.service.life_years[:, None]
    year = (candidates.period_end - candidates.period_start - 1).astype(float)
    before = np.where(year > 0, banks_in_turn(np.maximum(year, 1.0), life), 0.0)
    count = banks_in_turn(year + 1, life) - before
    drift = np.log1p(banks.column("price_drift"))[:, None]
    price = (banks.units * banks.column("price"))[:, None]
    at_first = np.exp(drift * (candidates.period_start + before * life))
    equipment = price * at_first * sum_of_powers(drift * life, count)
    works = bank_works(job, banks, first=False)[:, None] * count
    return np.asarray((equipment + works) * gross(job))


def swap_sums(candidates: Candidates) -> Floats:
    """Return what new sets and generators cost in each later year, works included.

    Shape (sets, years) [currency of today]; 0 where nothing is bought, and in the first year.
    """
    job, sets, generator = candidates.job, candidates.sets, candidates.variant.generator
    horizon = job.site.horizon_years
    found = np.zeros((len(sets), horizon))
    per_unit = works_price(job, "inverter_unit", first=False)
    for index, inverter in enumerate(sets.inverters):
        life = whole_years(inverter.life_years)
        due = gross(job) * int(sets.units[index]) * (inverter.price + per_unit)
        found[index, life:horizon:life] = due
    if generator is not None:
        life = whole_years(generator.life_years)
        found[:, life:horizon:life] += generator.price * gross(job)
    return found


def fuel_sums(candidates: Candidates, hours: int) -> Floats:
    """Return what renewing the fuel costs in each later year, shape (sets, years) [currency]."""
    horizon = candidates.job.site.horizon_years
    found = np.zeros((len(candidates.sets), horizon))
    rules, stored_l = candidates.variant.rules, candidates.litres(hours)
    if rules is not None:
        keeps = rules.fuel_keeps_years
        paid = np.where(np.isfinite(stored_l), stored_l, 0.0) * rules.fuel_price
        found[:, keeps:horizon:keeps] = paid[:, None]
    return found
