"""The hours that the planning conditions allow what stands there, by year and health."""

from dataclasses import dataclass, replace

import numpy as np

from optimizer.engine.bank_checks import peak_depth, usable_new_wh
from optimizer.engine.check import CheckKind
from optimizer.engine.generators import litres_stored
from optimizer.engine.variants import Variant, variant_of, variant_of_design
from optimizer.engine.verify import checks
from optimizer.formulas.inverter import drawn_wh
from optimizer.formulas.temperature import heat_factor
from optimizer.formulas.tolerance import RELATIVE_TOLERANCE, at_least
from optimizer.model.arrays import Floats
from optimizer.model.demand import Demand
from optimizer.model.design import Design
from optimizer.model.job import LONGEST_HOURS, Generator, Job

#: Autonomies looked at [h].
_HOURS = np.arange(1, LONGEST_HOURS + 1)
_LENIENT = 1 + RELATIVE_TOLERANCE
#: What is divided by is never quite nothing.
_LEAST_SHARE = 1e-9
#: Without these a generator carries nothing, however much fuel there is.
_GENERATOR_CARRIES = frozenset(
    {
        CheckKind.GENERATOR_POWER,
        CheckKind.GENERATOR_APPARENT_POWER,
        CheckKind.GENERATOR_SURGE,
        CheckKind.GENERATOR_REFILL,
    }
)


@dataclass(frozen=True, slots=True)
class Service:
    """Whether a bank carries some hours year by year, until it is replaced.

    Parameters
    ----------
    needed_wh, there_wh : numpy.ndarray
        What the hours need and what the bank has for them in each year from today [Wh].
    """

    needed_wh: Floats
    there_wh: Floats

    @property
    def hardest_year(self) -> int:
        """The year in which energy lacks most, from 0."""
        return int((self.needed_wh / self.there_wh).argmax())

    @property
    def carries_years(self) -> int:
        """Years from today through which the hours are carried."""
        short = np.flatnonzero(self.needed_wh > self.there_wh * _LENIENT)
        return int(short[0]) if short.size else len(self.there_wh)


@dataclass(frozen=True, slots=True, eq=False)
class Planned:
    """What each whole autonomy asks of a bank and what the bank has, as the program plans."""

    variant: Variant  # with the contract and the generator that stand there
    design: Design  # its first bank is the one that is meant
    charged_share: float  # what is there as an outage begins of what a full bank has
    new_wh: Floats  # by autonomy: what a new bank gives
    largest_wh: Floats  # by autonomy: energy of the loads of year 0 in the hardest stretch
    span_h: Floats  # by autonomy: hours that the bank itself carries
    reach_hours: int  # the longest that generator and fuel allow; all looked at without one

    def energy_wh(self, years: Floats, left: Floats) -> tuple[Floats, Floats]:
        """Return what is needed and what is there [Wh], each of shape (years, hours).

        ``years`` are those of the load's growth, from 0; ``left`` the bank's health in each.
        """
        site, inverter, bank = self.variant.job.site, self.design.inverter, self.design.banks[0]
        growth = (1 + site.load_growth) ** years[:, None]
        needed: Floats = drawn_wh(
            self.largest_wh * growth,
            self.span_h,  # type: ignore[arg-type] # numpy broadcasts it over the years
            inverter.efficiency,  # type: ignore[arg-type] # likewise, one number for all
            self.design.inverter_units * inverter.no_load_w,  # type: ignore[arg-type] # likewise
            site.design_margin,
        )
        healths = np.maximum(_LEAST_SHARE, left).tolist()
        peaks = np.array([peak_depth(self.variant, self.design, bank, one) for one in healths])
        share = np.maximum(_LEAST_SHARE, self.charged_share - peaks / bank.battery.max_dod)
        return needed, self.new_wh * (left * share)[:, None]

    def hours(self, years: Floats, left: Floats) -> int:
        """Return the longest autonomy met in all of some years [h], 0 where none is."""
        needed, there = self.energy_wh(years, left)
        enough = np.all(needed <= there * _LENIENT, axis=0)
        met = np.flatnonzero(np.atleast_1d(enough)[: self.reach_hours])
        return int(_HOURS[met[-1]]) if met.size else 0

    def service(self, years: Floats, left: Floats, hours: int) -> Service:
        """Return how the years go for an autonomy [h]."""
        needed, there = self.energy_wh(years, left)
        # what is met at longer hours is met here too: the hardest of them need not be
        longer = slice(hours - 1, max(hours, self.reach_hours))
        share = (needed / there)[:, longer].min(axis=1)
        asked, here = needed[:, hours - 1], there[:, hours - 1]
        here = np.divide(asked, share, out=here.copy(), where=share > 0)
        return Service(asked, here)


def planned_of(job: Job, design: Design, demand: Demand, charged_share: float = 1.0) -> Planned:
    """Return what is planned of what stands there; the room is within the first bank's data."""
    variant, bank = variant_of_design(job, design, demand), design.banks[0]
    alone = variant_of(job, demand, design.contract)
    usable, energy, spans = [], [], []
    for hours in _HOURS.tolist():
        own = variant if _beyond_night(variant, hours) else alone
        stretches = own.stretches(hours)
        usable.append(usable_new_wh(variant, bank, stretches))
        energy.append(stretches.largest_wh)
        spans.append(float(stretches.hours))
    return Planned(
        variant,
        design,
        charged_share,
        np.array(usable),
        np.array(energy),
        np.array(spans),
        _reach_hours(job, design, variant),
    )


def _beyond_night(variant: Variant, hours: int) -> bool:
    return variant.rules is not None and hours > variant.rules.night_hours


def _reach_hours(job: Job, design: Design, variant: Variant) -> int:
    if variant.rules is None:
        return LONGEST_HOURS
    night = variant.rules.night_hours
    found = checks(job, design, variant)
    if not all(check.met for check in found if check.kind in _GENERATOR_CARRIES):
        return night
    idle_w = design.inverter_units * design.inverter.no_load_w
    for hours in range(night + 1, LONGEST_HOURS + 1):
        litres = litres_stored(variant, hours, design.inverter.efficiency, idle_w)
        if not at_least(design.fuel_l, float(litres)):
            return hours - 1
    return LONGEST_HOURS


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
    by_generator : float or None
        The same of the generator's power and of the fuel that may be stored; None where the
        hours need none.
    """

    also = ("limited_by_inverter", "limited_by_generator")

    hours: int
    mean_w: float
    factor: float
    by_bank: float
    by_inverter: float
    by_generator: float | None

    @property
    def limited_by_inverter(self) -> bool:
        """Whether the inverter's power, not the bank's energy, is what ends it."""
        return self.by_inverter < self.by_bank and not self.limited_by_generator

    @property
    def limited_by_generator(self) -> bool:
        """Whether the generator's power or fuel is what ends it."""
        least = min(self.by_bank, self.by_inverter)
        return self.by_generator is not None and self.by_generator < least


def carried_load(planned: Planned, hours: int, health: float) -> CarriedLoad | None:
    """Return the load that what stands there carries for ``hours``, None where there is none."""
    variant, design = planned.variant, planned.design
    job, demand, inverter = variant.job, variant.demand, design.inverter
    largest_wh, span_h = float(planned.largest_wh[hours - 1]), float(planned.span_h[hours - 1])
    if largest_wh <= 0:
        return None
    # neither the rate nor the unevenness changes where all loads grow alike
    _, there_wh = planned.energy_wh(np.zeros(1), np.array([health]))
    idle_wh = span_h * design.inverter_units * inverter.no_load_w
    there_ac_wh = float(there_wh[0, hours - 1]) / (1 + job.site.design_margin) - idle_wh
    served_wh = max(0.0, there_ac_wh) * inverter.efficiency
    degc = job.site.max_degc
    power_w = inverter.power_w * heat_factor(inverter.power_w, inverter.power_w_40c, degc)
    by_bank = served_wh / largest_wh
    by_inverter = design.inverter_units * power_w / demand.peak_w
    by_generator = None
    if design.generator is not None and _beyond_night(variant, hours):
        by_generator = _by_generator(variant, design, design.generator, hours)
        largest_wh = variant.whole_outage(hours).largest_wh
    factor = min(one for one in (by_bank, by_inverter, by_generator) if one is not None)
    mean_w = factor * largest_wh / hours
    carried = CarriedLoad(hours, mean_w, factor, by_bank, by_inverter, by_generator)
    rules = variant.rules
    if rules is None or not hours <= rules.night_hours < planned.reach_hours:
        return carried
    # what is carried through whole nights is carried for a part of one too
    longer = carried_load(planned, rules.night_hours + 1, health)
    if longer is None or longer.factor <= factor:
        return carried
    return replace(longer, hours=hours, mean_w=longer.factor * largest_wh / hours)


def _by_generator(variant: Variant, design: Design, generator: Generator, hours: int) -> float:
    """Return the multiple of the loads that the generator's power and the fuel limit allow."""
    rules, idle_w = variant.rules, design.inverter_units * design.inverter.no_load_w
    most_l = 0.0 if rules is None else rules.max_stored_l

    def litres(growth: float) -> float:
        scaled = replace(variant, demand=replace(variant.demand, growth=growth))
        return float(litres_stored(scaled, hours, design.inverter.efficiency, idle_w))

    # the litres are a straight line over the loads
    by_fuel = max(0.0, most_l - litres(0.0)) / (litres(1.0) - litres(0.0))
    return min(generator.power_w / variant.demand.peak_w, by_fuel)
