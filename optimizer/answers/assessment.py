"""A bank and inverter that stand already, or that were quoted: how long, what fails, what for.

The rule throughout: the strings of one bank are of one age. New strings beside old lead-acid ones
age as the old ones do; a bank that is mixed is assessed by its oldest string.
"""

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from enum import StrEnum

import numpy as np

from optimizer.answers import installed
from optimizer.answers.bank_limits import BankLimits, bank_limits
from optimizer.answers.distance import Distance, distance_of
from optimizer.answers.independent_simulation import (
    AgeStage,
    IndependentSimulation,
    independent_simulation,
)
from optimizer.answers.planned_hours import CarriedLoad, Planned, Service, carried_load, planned_of
from optimizer.answers.questions import within
from optimizer.engine.check import Check, CheckKind
from optimizer.engine.demand import demand_of
from optimizer.engine.verify import checks
from optimizer.formulas.ageing import health
from optimizer.formulas.windows import busy_hours
from optimizer.inputs.bank_words import Assumed, told_bank
from optimizer.inputs.built import checked
from optimizer.inputs.built_bank import checked_bank
from optimizer.model.design import Design
from optimizer.model.existing import Existing
from optimizer.model.job import LONGEST_HOURS, Battery, Job
from optimizer.model.limits import without_limits
from optimizer.model.result import Result
from optimizer.model.shown import shown
from optimizer.simulate import DailyBalance, RideThrough, at_health

#: A bank worn past nothing still has a health to be divided by.
_LEAST_HEALTH = 1e-6


class AssessmentVerdict(StrEnum):
    """Whether what stands there meets the hours required."""

    MEETS = "meets"
    MEETS_FOR_NOW = "meets_for_now"
    FAILS = "fails"


@dataclass(frozen=True, slots=True)
class HoursAt:
    """Hours of the bank at one age, under the loads of today.

    Parameters
    ----------
    stage : AgeStage
        New, now or at the end of life.
    age_years, health : float
        Age [a] and share of the new capacity left.
    planned_hours : int
        The longest whole hours that the planning conditions allow, margin included [h].
    simulated : RideThrough
        Hour by hour from every start, without margin.
    """

    also = ("shortest_hours", "mean_hours", "longest_hours", "season", "start_hour")

    stage: AgeStage
    age_years: float
    health: float
    planned_hours: int
    simulated: RideThrough = field(metadata=shown(hide=True))

    @property
    def shortest_hours(self) -> float:
        """Simulated hours from the worst start [h]."""
        return self.simulated.shortest

    @property
    def mean_hours(self) -> float:
        """Simulated hours in the mean over all starts [h]."""
        return self.simulated.mean

    @property
    def longest_hours(self) -> float:
        """Simulated hours from the best start [h]."""
        return self.simulated.longest

    @property
    def season(self) -> str:
        """Season of the worst start."""
        return self.simulated.worst.season

    @property
    def start_hour(self) -> int:
        """Hour of the day of the worst start."""
        return self.simulated.worst.start_hour


@dataclass(frozen=True, repr=False)
class Assessment(Result):
    """What is to be said about a bank and inverter.

    Parameters
    ----------
    job : Job
        The site, without its limits of money.
    existing : Existing
        What was assessed.
    design : Design
        The same from today to the end of the bank's life or of the study period; its hours are
        those required.
    verdict : AssessmentVerdict
        Whether it meets the hours through its service or the study period, for now, or not.
    hours : tuple of HoursAt
        New, now, at the end of life.
    checks : tuple of Check
        Every requirement with what is required and provided.
    carries_years : int
        Years from today through which the planning conditions hold for the hours required, no
        more than the bank's service or the study period; loads grow as the site says.
    carried_load : CarriedLoad or None
        The load that it carries today for the hours required; None where there is no load.
    life, recharge, limits, set_aside, distance, simulation
        See their classes.
    """

    also = ("required_hours", "currency", "is_as_designed")

    job: Job = field(metadata=shown("critical_loads", take=("critical_loads",)))
    existing: Existing = field(metadata=shown(inline=True))
    design: Design = field(metadata=shown(hide=True))
    verdict: AssessmentVerdict
    hours: tuple[HoursAt, HoursAt, HoursAt]
    checks: tuple[Check, ...] = field(metadata=shown("constraints"))
    carries_years: int
    carried_load: CarriedLoad | None
    life: installed.ServiceLife = field(metadata=shown("service_life"))
    recharge: installed.Recharge
    limits: BankLimits
    set_aside: tuple[installed.SetAside, ...]
    distance: Distance
    simulation: IndependentSimulation = field(metadata=shown("independent_simulation"))

    @property
    def failed(self) -> tuple[Check, ...]:
        """The requirements that are not met."""
        return tuple(check for check in self.checks if not check.met)

    @property
    def busy_hours(self) -> int:
        """In how many of the hours required a load draws power, at most [h]."""
        return busy_hours(demand_of(self.job).profiles, self.required_hours)

    @property
    def is_as_designed(self) -> bool:
        """Whether it is unchanged since its quote, and carries what that planned as long."""
        plan = self.existing.plan
        if plan is None or not plan.is_unchanged or plan.planned_hours != self.design.hours:
            return False
        left = (plan.bank_years or 0) - self.existing.age_years
        in_time = self.verdict is AssessmentVerdict.MEETS_FOR_NOW and self.carries_years >= left
        return in_time or not self.failed

    @property
    def required_hours(self) -> int:
        """The autonomy required [h]."""
        return self.design.hours


def assess(job: Job, design: Design | Existing, *, hours: int | None = None) -> Assessment:
    """Assess a bank and inverter: hours new, now and at the end, what fails, what it costs.

    Parameters
    ----------
    job : Job
        From `load`. Its limits of money are left out.
    design : Design or Existing
        From `load_design`, put together by hand, or from `choose`: then its first bank, new.
    hours : int, optional
        Autonomy required [h]; where left out, what the quote of an as-built file planned, else the
        site's target.

    Raises
    ------
    InputError
        The hours are out of range.

    Examples
    --------
    >>> from optimizer import choose, load
    >>> job = load("house")
    >>> assess(job, choose(job, hours=8).design, hours=8).verdict.value
    'meets'
    """
    checked(job)
    existing = checked_bank(
        design if isinstance(design, Existing) else installed.existing_of(design)
    )
    quoted_hours = None if existing.plan is None else existing.plan.planned_hours
    required = hours or quoted_hours or job.site.target_hours
    within(required if hours is None else hours, LONGEST_HOURS)
    job = without_limits(job)
    demand = demand_of(job)
    life = installed.service_life(job, existing, demand)
    standing = installed.installed(job, existing, required)
    bank = standing.banks[0]
    years = np.arange(float(bank.end))
    left = np.maximum(
        _LEAST_HEALTH,
        health(years - bank.start + 1, life.years, existing.battery.end_of_life_soh),
    )
    first_year = replace(bank, battery=installed.within_points(job, bank.battery), start=0, end=1)
    plain = replace(standing, banks=(first_year,))
    planned = planned_of(job, plain, demand, existing.charged_share)
    ages = tuple(
        _hours_at(planned, standing, life, stage)
        for stage in (AgeStage.NEW, AgeStage.NOW, AgeStage.END_OF_LIFE)
    )
    today = planned.service(np.zeros(1), np.array([max(_LEAST_HEALTH, ages[1].health)]), required)
    service = planned.service(years, left, required)
    simulation = independent_simulation(job, standing)
    found = (
        *_energy(required, today, service),
        *_others(job, plain, existing.battery),
        *_scheduled_cuts(simulation.balance),
    )
    return Assessment(
        job=job,
        existing=existing,
        design=standing,
        verdict=_verdict(found),
        hours=ages,  # type: ignore[arg-type] # three, as there are three stages
        checks=found,
        carries_years=service.carries_years if required <= planned.reach_hours else 0,
        carried_load=carried_load(planned, required, ages[1].health),
        life=life,
        recharge=installed.recharge_of(job, existing),
        limits=bank_limits(existing),
        set_aside=tuple(installed.set_aside_of(job, existing, life)),
        distance=distance_of(
            job, replace(existing, charge_at_start=1.0), life.years, demand, required
        ),
        simulation=simulation,
    )


def assess_told(
    bank: str,
    job: Job | None = None,
    *,
    load_w: float | None = None,
    age_years: float = 0.0,
    hours: int | None = None,
) -> tuple[Assessment, tuple[Assumed, ...]]:
    """Assess a bank that is told in a few words, with all that is assumed of it.

    Parameters
    ----------
    bank : str
        Such as ``12 V 95 Ah agm``.
    job : Job, optional
        The site and its prices; a temperate house with the demo's where left out.
    load_w : float, optional
        A plain load that runs all the time [W], in place of the site's loads.
    age_years : float
        Age of the bank [a].
    hours : int, optional
        Autonomy required [h]; where left out, what it can be planned for as it is.

    Raises
    ------
    InputError
        The words are no battery, neither a site nor a load is given, or a number is out of range.

    Examples
    --------
    >>> found, assumed = assess_told("12 V 95 Ah agm", load_w=300)
    >>> round(found.hours[0].shortest_hours, 1), len(assumed)
    (1.2, 9)
    """
    told = told_bank(bank, job, load_w=load_w, age_years=age_years)
    if hours is None:
        hours = max(1, assess(told.job, told.existing, hours=1).hours[1].planned_hours)
    return assess(told.job, told.existing, hours=hours), told.assumed


def _verdict(found: tuple[Check, ...]) -> AssessmentVerdict:
    """Return the verdict: for now where nothing fails but the energy of a later year."""
    failed = [check.kind for check in found if not check.met]
    if not failed:
        return AssessmentVerdict.MEETS
    if failed == [CheckKind.ENERGY]:
        return AssessmentVerdict.MEETS_FOR_NOW
    return AssessmentVerdict.FAILS


def _hours_at(
    planned: Planned, standing: Design, life: installed.ServiceLife, stage: AgeStage
) -> HoursAt:
    job, battery = planned.variant.job, standing.banks[0].battery
    age = {AgeStage.NEW: 0.0, AgeStage.NOW: life.age_years}.get(stage, life.years)
    left = max(0.0, float(health(age, life.years, battery.end_of_life_soh)))
    today = replace(standing, banks=(replace(standing.banks[0], start=0, end=1),))
    # beside a generator too it is followed to where fuel and bank are at an end
    limit_h = float(LONGEST_HOURS) if standing.generator is not None else None
    simulated = at_health(job, today, left, limit_hours=limit_h)
    return HoursAt(stage, age, left, planned.hours(np.zeros(1), np.array([left])), simulated)


def _energy(hours: int, today: Service, service: Service) -> Iterator[Check]:
    """Yield the energy today and in the hardest year."""
    hardest = service.hardest_year
    for kind, year, when, place in (
        (CheckKind.ENERGY_TODAY, None, today, 0),
        (CheckKind.ENERGY, hardest, service, hardest),
    ):
        yield Check(
            kind,
            required=float(when.needed_wh[place]) / 1000,
            provided=float(when.there_wh[place]) / 1000,
            year=year,
            hours=hours,
        )


def _others(job: Job, design: Design, battery: Battery) -> Iterator[Check]:
    """Yield what is required of any design, but for energy, age and money.

    A generator is asked for nothing where the hours are over before it has to run.
    """
    rules = job.site.generator
    within_night = rules is not None and design.hours <= rules.night_hours
    for check in checks(job, design.bank_alone if within_night else design):
        kept = check.requirement is not None or check.kind is CheckKind.SERIES
        if kept and check.kind is not CheckKind.LOWEST_TEMPERATURE:
            yield replace(check, bank=None)
    coldest = max(battery.min_charge_degc, battery.cold_points[0][0])
    for kind, required, provided in (
        (CheckKind.INVERTER_UNITS, design.inverter.max_units, design.inverter_units),
        (CheckKind.LOWEST_TEMPERATURE, coldest, job.site.min_degc),
    ):
        yield Check(kind, required=required, provided=provided)


def _scheduled_cuts(balance: DailyBalance | None) -> Iterator[Check]:
    if balance is None:
        return
    needed, amps = balance.amps_needed, balance.amps_charger
    yield Check(CheckKind.SCHEDULED_CUTS_CLOSE, required=needed, provided=amps)
    if balance.closes:
        carried = float(balance.cuts_carried)
        yield Check(CheckKind.SCHEDULED_CUTS_CARRIED, required=1.0, provided=carried)
