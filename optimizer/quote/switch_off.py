"""The fewest loads to switch off so that a full bank lasts twice as long: found exactly."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import chain, combinations
from typing import Final

import numpy as np

from optimizer.formulas.load import average_w
from optimizer.model.arrays import Floats
from optimizer.model.design import Design
from optimizer.model.job import Job, Load
from optimizer.model.needs import groups as load_groups
from optimizer.simulate import horizon_hours, ride_through

#: Sets of loads looked at, and simulated, before the search gives up; a home needs a few dozen.
_LOOKED_AT: Final = 500_000
_SIMULATED: Final = 5_000
#: Longer lists are not searched: nobody switches off single loads of so many.
_MOST_LOADS: Final = 400
#: How many times the hours are wanted.
TIMES: Final = 2.0


@dataclass(frozen=True, slots=True)
class SwitchOff:
    """What to switch off, the hours with everything on and then, from the worst start [h].

    ``loads`` is empty where nothing does it or the search was cut short; ``proven`` tells the
    two apart: whether every smaller set is known to fail.
    """

    loads: tuple[str, ...]
    hours_now: float
    hours_then: float
    proven: bool


def fewest_to_double(job: Job, design: Design) -> SwitchOff:
    """Return the fewest loads whose absence doubles the shortest ride-through, in the first year.

    Loads of the site's first tier, critical ones and those never to be switched off stay on; loads
    that serve only together go together, count as one, and stay on together. Of equally few those
    of the site's last tiers, then those that give most hours.

    Sets are tried in order of size. Two cuts keep that short and exact. A load that draws in no
    hour less than another, and is of the same or a later tier, may take its place in any set: so
    only sets are tried that hold, with a load, everything that outdoes it. And a size is passed
    over where even its heaviest loads leave more energy in some window than the bank holds at the
    gentlest rate.
    """
    fixed, groups = _split(job)
    now = _shortest(job, design, [*fixed, *chain.from_iterable(groups)])
    wanted = TIMES * now
    nothing = SwitchOff((), now, now, proven=False)
    if wanted > horizon_hours(job, design) or now <= 0 or len(groups) > _MOST_LOADS:
        return nothing
    if not groups or _shortest(job, design, fixed) < wanted:
        return SwitchOff((), now, now, proven=True)
    drawn = np.array([_drawn(job, group).sum(axis=0) for group in groups])
    held_w = _drawn(job, fixed).sum(axis=0)
    rank = [min(job.site.tiers.index(load.tier) for load in group) for group in groups]
    outdone_by = _outdone_by(drawn, rank)
    looked = simulated = 0
    least = _least_size(design, drawn, held_w, wanted)
    for size in range(least, len(groups) + 1):
        enough: list[tuple[int, float, tuple[int, ...]]] = []
        usable = [place for place, better in enumerate(outdone_by) if len(better) < size]
        for chosen in combinations(usable, size):
            looked += 1
            closed = all(outdone_by[place] <= set(chosen) for place in chosen)
            simulated += closed
            if looked > _LOOKED_AT or simulated > _SIMULATED:
                return nothing
            if not closed:
                continue
            left = [group for place, group in enumerate(groups) if place not in chosen]
            hours = _shortest(job, design, [*fixed, *chain.from_iterable(left)])
            if hours >= wanted:
                enough.append((sum(rank[place] for place in chosen), hours, chosen))
        if enough:
            _, hours, chosen = max(enough, key=lambda one: one[:2])
            names = tuple(load.load for place in chosen for load in groups[place])
            return SwitchOff(names, now, hours, proven=True)
    return SwitchOff((), now, now, proven=True)


def _split(job: Job) -> tuple[list[Load], list[list[Load]]]:
    """Return the loads that stay on, and the others in groups that go together."""
    first_tier = job.site.tiers[0]
    fixed: list[Load] = []
    groups: list[list[Load]] = []
    for group in load_groups(job.loads):
        counted = [load for load in group if load.tier in job.site.tiers]
        if any(load.stays_on or load.tier == first_tier for load in group):
            fixed += counted
        elif counted:
            groups.append(counted)
    return fixed, groups


def _drawn(job: Job, loads: Sequence[Load]) -> Floats:
    """Return the mean power of each load in each hour of each season's day [W], flat."""
    seasons = job.site.seasons
    watts = np.array([[average_w([load], season) for season in seasons] for load in loads])
    return watts.reshape(len(loads), 24 * len(seasons))


def _shortest(job: Job, design: Design, loads: Iterable[Load]) -> float:
    """Return the shortest ride-through of the first year with some of the loads [h]."""
    fewer = replace(job, loads=tuple(loads))
    return ride_through(fewer, design, years=(0,)).shortest


def _outdone_by(drawn: Floats, rank: Sequence[int]) -> list[frozenset[int]]:
    """Return for each load those that may take its place in any set."""
    tiers = np.array(rank)
    found = []
    for place in range(len(drawn)):
        better = (drawn >= drawn[place]).all(axis=1) & (tiers >= tiers[place])
        twins = (drawn == drawn[place]).all(axis=1) & (tiers == tiers[place])
        better &= ~(twins & (np.arange(len(drawn)) >= place))  # of twins the first goes before
        found.append(frozenset(int(other) for other in np.flatnonzero(better)))
    return found


def _least_size(design: Design, drawn: Floats, held_w: Floats, wanted_hours: float) -> int:
    """Return a size below which no set can do, from the energy of the worst whole window."""
    hours = int(wanted_hours)
    if hours < 1:
        return 1
    period = design.banks[0]
    volts = period.series * period.battery.voltage_v
    # at the gentlest a bank gives max_dod of what it holds: no rate effect, no cold, no ageing
    held_wh = volts * period.strings * period.battery.capacity_ah * period.battery.max_dod
    idle_wh = hours * design.inverter_units * design.inverter.no_load_w
    most_ac_wh = (held_wh * (1 + 1e-6) - idle_wh) * design.inverter.efficiency
    days, rest = divmod(hours, 24)
    clock = np.arange(24)
    counts = days + (((clock[None, :] - clock[:, None]) % 24) < rest)

    def windows(watts: Floats) -> Floats:
        return (watts.reshape(len(watts), -1, 24) @ counts.T).reshape(len(watts), -1)

    energy = windows(drawn)
    heaviest = np.sort(energy, axis=0)[::-1].cumsum(axis=0)
    excess = energy.sum(axis=0) + windows(held_w[None, :])[0] - most_ac_wh
    if (excess <= 0).all():
        return 1
    enough = (heaviest >= excess).all(axis=1)
    return int(enough.argmax()) + 1 if enough.any() else len(drawn)
