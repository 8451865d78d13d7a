"""The simulation confirms every design that meets the conditions, be it with nothing to spare.

That it holds in every year, from every start, through every scheduled cut and every night beside a
generator, is provable; so no case may fail.
"""

from __future__ import annotations

import os
from dataclasses import replace

import numpy as np
import pytest

from optimizer.simulate import Shortfall, ride_through, verdict
from tests.properties.random_sites import random_job
from tests.properties.tight_designs import tight_design

CASES = int(os.environ.get("KEEPLIT_SECOND_OPINION_CASES", "1000"))
SEED = int(os.environ.get("KEEPLIT_SECOND_OPINION_SEED", "8591"))


def drawn(count, seed):
    """Random sites, each with its design."""
    rng = np.random.default_rng(seed)
    while count > 0:
        job = random_job(rng)
        design = tight_design(rng, job)
        if design is not None:
            count -= 1
            yield job, design


def test_the_simulation_holds_what_the_conditions_allow(capsys):
    with capsys.disabled():
        print(f"\nindependent simulation: seed {SEED}, {CASES} sites")
    spare, seen = (
        [],
        dict.fromkeys(("severe", "let go", "renewed", "cuts", "peaks", "generator", "nights"), 0),
    )
    for case, (job, design) in enumerate(drawn(CASES, SEED)):
        told, ride = verdict(job, design), ride_through(job, design)
        where = f"seed {SEED}, case {case}: {told}\n{ride.worst}\n{job}\n{design}"
        assert not told.shortfalls, where
        assert (ride.shortest_by_year >= design.hours).all(), where
        spare.append(ride.shortest / design.hours)
        banks = design.banks
        seen["severe"] += job.site.design_margin == 0 and any(b.battery.max_dod == 1 for b in banks)
        seen["let go"] += bool(job.site.tier_hours)
        seen["renewed"] += any(bank.bought > 1 for bank in banks)
        seen["cuts"] += bool(job.outages.daily)
        seen["peaks"] += any(p.power_w > design.contract.power_w for p in job.site.peaks)
        if told.generator is not None:
            assert told.generator.fuel_l <= told.generator.stored_l * (1 + 1e-9), where
            seen["generator"] += 1
            rest_h = design.hours - job.site.generator.start_after_h
            seen["nights"] += rest_h > 48 and job.site.generator.quiet is not None
    print(f"simulated over required: least {min(spare)}, median {np.median(spare):.3f}; {seen}")
    # The cases must press: many without margin at full depth, some with nothing to spare at all.
    assert min(seen.values()) > 0.03 * CASES
    assert np.mean(np.array(spare) < 1.001) > 0.05


def test_a_steady_load_leaves_nothing_to_spare():
    """Without a rate effect and at one power, conditions and simulation are the same thing."""
    rng = np.random.default_rng(SEED)
    for _ in range(50):
        job = random_job(rng)
        load = replace(
            job.loads[0], tier="essential", windows=((0.0, 24.0),), season_multipliers={}
        )
        site = replace(
            job.site,
            tiers=("essential",),
            tier_hours={},
            design_margin=0.0,
            contracts=(),
            peaks=(),
            generator=None,
        )
        job = replace(job, site=site, loads=(load,))
        design = tight_design(rng, job, peukert=1.0)
        assert ride_through(job, design).shortest == pytest.approx(design.hours, rel=1e-7)


@pytest.fixture(scope="module")
def designs():
    return tuple(drawn(150, SEED))


def weaker(design, part):
    """The same design with too little of one part."""
    if part == "capacity":
        models = [
            replace(b.battery, capacity_ah=0.95 * b.battery.capacity_ah) for b in design.banks
        ]
        pairs = zip(design.banks, models, strict=True)
        return replace(design, banks=tuple(replace(b, battery=model) for b, model in pairs))
    if part == "charger":
        charger_a = 0.8 * design.inverter.charger_a
        return replace(design, inverter=replace(design.inverter, charger_a=charger_a))
    return replace(design, fuel_l=0.5 * design.fuel_l)


@pytest.mark.parametrize(
    ("part", "shortfall"),
    [
        ("capacity", Shortfall.HOURS),
        ("charger", Shortfall.CUTS),
        ("charger", Shortfall.NIGHTS),
        ("fuel", Shortfall.HOURS),
    ],
)
def test_each_part_that_is_too_small_is_found_out(designs, part, shortfall):
    found = 0
    for job, design in designs:
        bare = replace(job, site=replace(job.site, design_margin=0.0))
        found += shortfall in verdict(bare, weaker(design, part)).shortfalls
    assert found > 5
