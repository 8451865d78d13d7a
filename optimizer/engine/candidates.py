"""Site and price list as columns: every inverter set and bank that is offered, with its money.

The non-linear physics (rate, cold, ageing, wear, wiring) is worked out here, once; what follows
is linear in the choices. What is left out here is left out because the site rules it out, never
because it is dear.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np

from optimizer.engine.banks import Banks, bank_money, build_banks
from optimizer.engine.demand import demand_of
from optimizer.engine.inverter_sets import InverterSets, build_sets
from optimizer.engine.works import gross, works_price
from optimizer.formulas.ageing import health
from optimizer.formulas.inverter import drawn_wh
from optimizer.formulas.load import worst_window_wh
from optimizer.formulas.rate import fixed_time_share, uneven_load_factors
from optimizer.formulas.tolerance import at_least
from optimizer.model.demand import Demand
from optimizer.model.job import Job
from optimizer.model.requirement import Requirement

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Ints = NDArray[np.int64]
    Bools = NDArray[np.bool_]


@dataclass(frozen=True)
class Candidates:
    """All columns of a job.

    ``arc_start`` and ``arc_end`` list the spans of years [a] a bank can serve, by start then
    end; ``arc_cost`` and ``arc_health`` have one row a bank and one column a span: the present
    value of buying then, keeping and giving up the bank, infinite where its life rules the span
    out, and the health in the span's last year.
    """

    job: Job
    demand: Demand
    sets: InverterSets
    banks: Banks
    arc_start: Ints
    arc_end: Ints
    arc_cost: Floats
    arc_health: Floats
    bank_upfront: Floats
    vented_works: float
    lifted: frozenset[Requirement] = frozenset()
    _factors: dict[int, Floats] = field(default_factory=dict, repr=False)

    @cached_property
    def compatible(self) -> Bools:
        """Which banks each set can be wired to, shape (sets, banks).

        Same voltage, discharge current at the peak, and charger amperes to refill in time.
        """
        sets, banks = self.sets, self.banks
        same_voltage = sets.voltage_v[:, None] == banks.voltage_v[None, :]
        allowed = np.asarray(same_voltage)
        if Requirement.DISCHARGE not in self.lifted:
            allowed &= at_least(banks.discharge_a[None, :], sets.peak_current_a[:, None])
        if Requirement.REFILL not in self.lifted:
            allowed &= at_least(sets.charger_a[:, None], banks.charge_a[None, :])
        return allowed

    @cached_property
    def _exponents(self) -> tuple[Floats, Ints]:
        distinct, which = np.unique(self.banks.peukert, return_inverse=True)
        return distinct, which

    def usable_wh(self, hours: int) -> Floats:
        """Return the usable energy of every bank when new, drawn over ``hours`` [Wh]."""
        if hours not in self._factors:
            distinct, which = self._exponents
            uneven = uneven_load_factors(self.demand.profiles, hours, distinct)
            rate = fixed_time_share(hours, self.banks.rate_h, self.banks.peukert)
            self._factors[hours] = self.banks.usable_wh * rate / uneven[which]
        return self._factors[hours]

    def needed_wh(self, hours: int) -> Floats:
        """Return what each set draws over ``hours`` in each year [Wh], shape (sets, years)."""
        site = self.job.site
        growth = (1 + site.load_growth) ** np.arange(site.horizon_years, dtype=float)
        energy_ac_wh: Floats = worst_window_wh(self.demand.profiles, hours) * growth
        return drawn_wh(
            energy_ac_wh[None, :],
            hours,
            self.sets.efficiency[:, None],
            self.sets.no_load_w[:, None],
            site.design_margin,
        )


def build_candidates(
    job: Job, family: str | None = None, lifted: frozenset[Requirement] = frozenset()
) -> Candidates:
    """Work out every column of a job.

    Parameters
    ----------
    job : Job
        What was read from the files.
    family : str, optional
        Only banks of this chemistry family.
    lifted : frozenset of Requirement
        Requirements to leave out, for telling what they cost or stand in the way of.

    Returns
    -------
    Candidates
        Possibly without any set or bank.
    """
    demand = demand_of(job)
    banks = build_banks(job, demand, family, lifted)
    starts, ends = np.triu_indices(job.site.horizon_years + 1, 1)
    cost, upfront = bank_money(job, banks, starts, ends)
    ages = ends - starts
    arc_health = health(
        ages[None, :].astype(float),
        banks.service_life_years[:, None],
        banks.end_of_life_soh[:, None],
    )
    return Candidates(
        job=job,
        demand=demand,
        sets=build_sets(job, demand, lifted),
        banks=banks,
        arc_start=starts,
        arc_end=ends,
        arc_cost=cost,
        arc_health=np.asarray(arc_health),
        bank_upfront=upfront,
        vented_works=works_price(job, "vented_bank", first=True) * gross(job),
        lifted=lifted,
    )
