"""The hours that the planning conditions allow a bank, by its health."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, ClassVar

import numpy as np

from optimizer.answers.installed import bank_of, within_points
from optimizer.engine.bank_checks import usable_new_wh
from optimizer.engine.variants import variant_of
from optimizer.formulas.inverter import drawn_wh
from optimizer.formulas.temperature import heat_factor
from optimizer.formulas.tolerance import RELATIVE_TOLERANCE
from optimizer.model.job import LONGEST_HOURS

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from optimizer.model.demand import Demand
    from optimizer.model.existing import Existing
    from optimizer.model.job import Job

    Floats = NDArray[np.float64]

#: Autonomies looked at [h].
_HOURS = np.arange(1, LONGEST_HOURS + 1)


def health_needed(job: Job, existing: Existing, demand: Demand, years: Floats) -> Floats:
    """Return the health at which the bank just meets each autonomy, shape (years, hours).

    ``years`` are those of the load's growth, from 0; the hours are 1, 2, … .
    """
    site, inverter = job.site, existing.inverter
    bank = replace(bank_of(existing), battery=within_points(job, existing.battery))
    usable, energy, variant = [], [], variant_of(job, demand)
    for hours in _HOURS.tolist():
        stretches = variant.stretches(hours)
        usable.append(usable_new_wh(variant, bank, stretches))
        energy.append(stretches.largest_wh)
    growth = (1 + site.load_growth) ** years[:, None]
    drawn: Floats = drawn_wh(
        np.array(energy) * growth,
        _HOURS,  # type: ignore[arg-type]
        inverter.efficiency,  # type: ignore[arg-type]
        existing.units * inverter.no_load_w,  # type: ignore[arg-type]
        site.design_margin,
    )
    needed: Floats = drawn / (np.array(usable) * existing.charged_share)
    return needed


@dataclass(frozen=True, slots=True)
class CarriedLoad:
    """The load that a bank and inverter carry for some hours, as planned, today.

    Parameters
    ----------
    hours : int
        How long [h].
    mean_w : float
        In the mean over the heaviest stretch of that length [W].
    factor : float
        The same as a multiple of the loads surveyed, which keep their pattern.
    by_bank, by_inverter : float
        That multiple if the bank's energy alone counted, and the inverter's power alone.
    """

    also: ClassVar[tuple[str, ...]] = ("limited_by_inverter",)

    hours: int
    mean_w: float
    factor: float
    by_bank: float
    by_inverter: float

    @property
    def limited_by_inverter(self) -> bool:
        """Whether the inverter's power, not the bank's energy, is what ends it."""
        return self.by_inverter < self.by_bank


def carried_load(
    job: Job, existing: Existing, demand: Demand, hours: int, health: float
) -> CarriedLoad | None:
    """Return the load that what stands there carries for ``hours``, None where there is none."""
    site, inverter = job.site, existing.inverter
    bank = replace(bank_of(existing), battery=within_points(job, existing.battery))
    variant = variant_of(job, demand)
    stretches = variant.stretches(hours)
    if stretches.largest_wh <= 0:
        return None
    # neither the rate nor the unevenness changes where all loads grow alike
    there_wh = usable_new_wh(variant, bank, stretches) * health * existing.charged_share
    idle_wh = hours * existing.units * inverter.no_load_w
    served_wh = max(0.0, there_wh / (1 + site.design_margin) - idle_wh) * inverter.efficiency
    degc = site.max_degc
    power_w = inverter.power_w * heat_factor(inverter.power_w, inverter.power_w_40c, degc)
    by_bank = served_wh / stretches.largest_wh
    by_inverter = existing.units * power_w / demand.peak_w
    factor = min(by_bank, by_inverter)
    return CarriedLoad(hours, factor * stretches.largest_wh / hours, factor, by_bank, by_inverter)


def planned_hours(needed: Floats, health: float = 1.0) -> int:
    """Return the longest of the autonomies that a health meets [h], 0 where it meets none."""
    met = np.flatnonzero(needed <= health * (1 + RELATIVE_TOLERANCE))
    return int(_HOURS[met[-1]]) if met.size else 0


@dataclass(frozen=True, slots=True)
class Service:
    """Whether a bank carries some hours year by year, until it is replaced.

    Parameters
    ----------
    needed, left : numpy.ndarray
        Health needed and health there at the end of each year from today.
    """

    needed: Floats
    left: Floats

    @property
    def hardest_year(self) -> int:
        """The year in which health lacks most, from 0."""
        return int((self.needed / self.left).argmax())

    @property
    def carries_years(self) -> int:
        """Years from today through which the hours are carried."""
        short = np.flatnonzero(self.needed / self.left > 1 + RELATIVE_TOLERANCE)
        return int(short[0]) if short.size else len(self.left)


def service_of(needed: Floats, left: Floats, hours: int) -> Service:
    """Return how the years go for an autonomy [h], of what `health_needed` returns."""
    # what is met at longer hours is met here too: the hardest of them need not be
    return Service(needed[:, hours - 1 :].min(axis=1), left)
