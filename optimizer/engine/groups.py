"""Sets and banks of one voltage together, and sets that another beats in every respect."""

import math
from collections.abc import Iterator
from typing import NamedTuple

import numpy as np

from optimizer.engine.candidates import Candidates
from optimizer.engine.later_purchases import swap_sums
from optimizer.engine.money_scale import cost_tolerance
from optimizer.model.arrays import Bools, Floats, Ints


class Group(NamedTuple):
    """The sets of one voltage and the banks that fit some of them, in the price list's order.

    ``least_through`` is the cost of the cheapest chain through each bank, whatever energy is
    needed. ``rows_of_set`` are the places of the banks that fit each set; ``renewed`` marks
    banks whose last year in service may not be their hardest.
    """

    sets: Ints
    banks: Ints
    cost: Floats
    upfront: Floats
    vented: Bools
    renewed: Bools
    least_through: Floats
    rows_of_set: tuple[Ints, ...]


def make_groups(candidates: Candidates, kept: Ints) -> Iterator[Group]:
    """Yield the groups of the sets that are kept."""
    c, site = candidates, candidates.job.site
    serves = np.isfinite(c.period_cost).any(axis=1)
    for voltage_v in sorted(set(c.sets.voltage_v[kept].tolist())):
        sets = kept[c.sets.voltage_v[kept] == voltage_v]
        wired = c.compatible[sets] & serves
        banks = np.flatnonzero(wired.any(axis=0))
        if not banks.size:
            continue
        cost = c.period_cost[banks]
        shrinking, endures = site.load_growth < 0, c.service.life_years[banks] >= site.horizon_years
        yield Group(
            sets=sets,
            banks=banks,
            cost=cost,
            upfront=c.bank_upfront[banks],
            vented=c.banks.vented[banks],
            renewed=~endures | shrinking,
            least_through=through(c, cost).min(axis=1),
            rows_of_set=tuple(np.flatnonzero(row[banks]) for row in wired),
        )


def through(candidates: Candidates, cost: Floats) -> Floats:
    """Return for each bank and period the cost of the cheapest chain that holds them."""
    c, endless = candidates, [math.inf] * candidates.job.site.horizon_years
    ahead, behind = [*endless, 0.0], [0.0, *endless]
    periods = list(
        zip(c.period_start.tolist(), c.period_end.tolist(), cost.min(axis=0).tolist(), strict=True)
    )
    for start, end, least in periods:
        behind[end] = min(behind[end], behind[start] + least)
    for start, end, least in reversed(periods):
        ahead[start] = min(ahead[start], least + ahead[end])
    return np.asarray(np.array(behind)[c.period_start] + cost + np.array(ahead)[c.period_end])


def undominated_sets(candidates: Candidates) -> Ints:
    """Return the sets that no other beats in every respect (cut 1 of `Bounds`), in order.

    Of equals the first stays; one that wins on anything but cost alone does not push out an
    earlier one of equal cost, since ties go by the price list's order. Where later years are
    limited, what a set leaves of each year is a merit too.
    """
    sets, tolerance = candidates.sets, cost_tolerance(candidates.job)
    merits = np.stack(
        [
            -sets.life_cycle_cost,
            -sets.upfront_cost,
            sets.efficiency,
            -sets.no_load_w,
            sets.charger_a,
        ],
        axis=1,
    )
    if candidates.job.site.later_limit is not None:
        merits = np.hstack([merits, -swap_sums(candidates)])
    kept: list[int] = []
    for index in range(len(sets)):
        rivals = (sets.voltage_v == sets.voltage_v[index]) & ~sets.boxed
        rivals &= (merits >= merits[index]).all(axis=1)
        cheaper = sets.life_cycle_cost < sets.life_cycle_cost[index] - tolerance
        earlier = np.arange(len(sets)) < index
        if sets.boxed[index] or not (rivals & (cheaper | earlier)).any():
            kept.append(index)
    return np.array(kept, dtype=np.int64)
