"""What was understood of a site, before any equipment is chosen."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date

from optimizer.answers.nothing_done import nothing_done
from optimizer.answers.old_prices import OldPrice, old_prices
from optimizer.engine.demand import demand_of
from optimizer.formulas.load import average_w
from optimizer.formulas.windows import windows
from optimizer.model.job import Job, Load, Season
from optimizer.model.result import Result
from optimizer.model.shown import shown
from optimizer.model.warning import JobWarning

#: Windows shown to people [h].
WINDOWS_H = (4, 8, 12, 24, 48)


@dataclass(frozen=True, slots=True)
class TierEnergy:
    """Energy a day of one tier of the loads in one season [kWh]."""

    tier: str
    season: str
    kwh_day: float


@dataclass(frozen=True, slots=True, repr=False)
class Survey(Result):
    """A site in numbers.

    ``energy`` is that of every tier of the loads, counted or not; ``load_kwh_day`` each load's,
    mean over the year; ``worst_window_kwh`` the largest energy of any window by its hours; the
    last three are what a year's outages leave undone without any equipment, at the mean load.
    """

    job: Job = field(metadata=shown("critical_loads", take=("critical_loads",)))
    energy: tuple[TierEnergy, ...]
    load_kwh_day: dict[str, float]
    tiers_counted: tuple[str, ...]
    seasons: tuple[str, ...]
    mean_w: float
    peak_w: float
    peak_va: float
    surge_w: float
    worst_window_kwh: dict[int, float]
    outages_per_year: float
    outage_hours_per_year: float
    unserved_kwh_per_year: float
    value_of_unserved_per_year: float | None
    old_prices: tuple[OldPrice, ...]
    warnings: tuple[JobWarning, ...]

    @property
    def counted_kwh_day(self) -> float:
        """Energy a day of every tier that counts, mean over the year [kWh]."""
        return self.mean_w * 24 / 1000


def survey(job: Job, today: date | None = None) -> Survey:
    """Return what was understood of a job: loads, peaks, outages, old prices.

    Parameters
    ----------
    job : Job
        From `load`.
    today : date, optional
        Against which prices are old; this day where left out.
    """
    site = job.site
    demand = demand_of(job)
    tiers = tuple(dict.fromkeys(load.tier for load in job.loads))

    def kwh_day(loads: Sequence[Load], season: Season) -> float:
        return float(average_w(loads, season).sum()) / 1000

    lost, worth = nothing_done(job), site.value_of_lost_load
    return Survey(
        job=job,
        energy=tuple(
            TierEnergy(
                tier, season.name, kwh_day([one for one in job.loads if one.tier == tier], season)
            )
            for tier in tiers
            for season in site.seasons
        ),
        load_kwh_day={
            load.load: sum(
                len(season.months) / 12 * kwh_day([load], season) for season in site.seasons
            )
            for load in job.loads
        },
        tiers_counted=site.tiers,
        seasons=tuple(season.name for season in site.seasons),
        mean_w=demand.mean_w,
        peak_w=demand.peak_w,
        peak_va=demand.peak_va,
        surge_w=demand.surge_w,
        worst_window_kwh={
            hours: windows(demand.layers, hours).largest_wh / 1000 for hours in WINDOWS_H
        },
        outages_per_year=lost.outages_per_year,
        outage_hours_per_year=lost.hours_per_year,
        unserved_kwh_per_year=lost.unserved_kwh_per_year,
        value_of_unserved_per_year=None if worth is None else worth * lost.unserved_kwh_per_year,
        old_prices=old_prices(job, today or date.today()),
        warnings=job.warnings,
    )
