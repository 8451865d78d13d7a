"""Random sites, banks and inverters for the independent simulation, with every feature in play."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from optimizer.model.job import (
    Battery,
    Catalog,
    Contract,
    GeneratorRules,
    Inverter,
    Job,
    Load,
    Peak,
    Season,
    Site,
)
from optimizer.model.outages import Outages

ALL_MONTHS = tuple(range(1, 13))
DIVISIONS = (
    (Season("year", ALL_MONTHS),),
    (Season("winter", (10, 11, 12, 1, 2, 3)), Season("summer", (4, 5, 6, 7, 8, 9))),
    (Season("wet", (6, 7)), Season("dry", (1, 2, 3, 4, 5)), Season("mild", (8, 9, 10, 11, 12))),
)
TIERS = ("essential", "useful", "comfort")


def random_load(rng, number, seasons):
    if rng.random() < 0.4:
        windows = ((0.0, 24.0),)
    else:
        start = float(rng.integers(0, 96)) / 4
        windows = ((start, start + float(rng.integers(1, 60)) / 4),)
    named = [season.name for season in seasons if rng.random() < 0.5]
    return Load(
        load=f"load {number}",
        tier=str(rng.choice(TIERS)),
        count=int(rng.integers(1, 5)),
        running_w=float(np.exp(rng.uniform(np.log(2), np.log(3000)))),
        power_factor=0.9,
        starting_w=3000.0,
        windows=windows,
        duty=float(rng.choice([0.02, 0.2, 0.5, 1.0, 1.0])),
        season_multipliers={name: float(rng.choice([0.0, 0.3, 1.0, 1.7, 6.0])) for name in named},
    )


def random_battery(rng, number):
    voltage_v, class_v = [(6.0, 6), (12.0, 12), (12.8, 12), (25.6, 24), (51.2, 48), (2.0, 2)][
        int(rng.integers(6))
    ]
    coldest = float(rng.choice([0.6, 0.85, 1.0]))
    return Battery(
        battery=f"battery {number}",
        chemistry="any",
        family="any",
        gas="none",
        voltage_v=voltage_v,
        class_v=class_v,
        capacity_ah=100.0,
        rate_h=float(rng.choice([1.0, 5.0, 10.0, 20.0, 100.0])),
        price=100.0,
        mass_kg=30.0,
        peukert=float(rng.choice([1.0, 1.03, 1.1, 1.25, 1.4, 1.6])),
        max_dod=float(rng.choice([0.3, 0.5, 0.8, 0.95, 1.0, 1.0])),
        float_life_years=10.0,
        halving_degc=10.0,
        cycle_points=((0.5, 1000.0),),
        end_of_life_soh=float(rng.choice([0.5, 0.7, 0.8, 0.95])),
        discharge_rate_max=20.0,
        charge_rate_min=0.0,
        charge_rate_max=1e9,
        charge_factor=float(rng.choice([1.0, 1.1, 1.25])),
        round_trip=float(rng.choice([0.7, 0.85, 0.95])),
        self_discharge_month=0.03,
        upkeep_year=0.0,
        scrap_value=0.0,
        price_drift=0.0,
        min_charge_degc=-20.0,
        cold_points=((-20.0, 0.5 * coldest), (0.0, coldest), (25.0, coldest)),
        max_series=40,
        max_parallel=40,
        absorption_v=None if rng.random() < 0.5 else 1.18 * voltage_v,
    )


def random_cuts(rng):
    """One to three cuts a day, at least a quarter of an hour apart."""
    marks = np.sort(rng.choice(96, size=2 * int(rng.integers(1, 4)), replace=False)) / 4
    shift = float(rng.choice([0.0, 3.0]))  # so that some cross midnight
    cuts = tuple((float(a) + shift, float(b) + shift) for a, b in marks.reshape(-1, 2))
    cuts = tuple((a - 24, b - 24) if a >= 24 else (a, b) for a, b in cuts)
    return Outages("daily", daily=cuts, days_per_year=200.0)


def random_rules(rng):
    quiet_h = int(rng.choice([0, 5, 8, 12, 20]))
    start = int(rng.integers(0, 24))
    return GeneratorRules(
        fuel_price=1.5,
        max_stored_l=1e9,
        quiet=(float(start), float(start + quiet_h)) if quiet_h else None,
        start_after_h=int(rng.integers(0 if quiet_h else 1, 8)) if rng.random() < 0.9 else 24,
    )


def random_job(rng):
    """A site without its catalog; about two thirds without margin."""
    seasons = DIVISIONS[int(rng.integers(len(DIVISIONS)))]
    loads = tuple(random_load(rng, i, seasons) for i in range(int(rng.integers(1, 8))))
    low = float(rng.uniform(-19, 30))
    tiers = [("essential",), ("essential", "useful"), ("comfort",), TIERS][int(rng.integers(4))]
    site = Site(
        name="Random",
        currency="EUR",
        seasons=seasons,
        tiers=tiers,
        target_hours=1,
        tariff=0.3,
        min_degc=low,
        mean_degc=low + 5,
        max_degc=low + 10,
        max_hours=int(rng.choice([12, 48, 100])),
        design_margin=float(rng.choice([0.0, 0.0, 0.1])),
        load_growth=float(rng.choice([-0.1, -0.02, 0.0, 0.0, 0.03, 0.1])),
        horizon_years=int(rng.integers(1, 16)),
        tier_hours={one: int(rng.integers(1, 30)) for one in tiers if rng.random() < 0.4},
        contracts=(Contract(power_w=3000.0, cost_year=90.0),) if rng.random() < 0.3 else (),
        generator=random_rules(rng) if rng.random() < 0.3 else None,
    )
    if site.contracts:
        peaks = [
            Peak(
                power_w=float(rng.uniform(2000, 6000)),
                minutes=float(rng.uniform(1, 60)),
                times_a_month=30.0,
            )
        ]
        peaks.append(
            Peak(
                power_w=float(rng.uniform(2000, 9000)),
                minutes=float(rng.uniform(1, 20)),
                times_a_month=5.0,
            )
        )
        site = replace(site, peaks=tuple(peaks))
    typed = Outages("typed", ((2.0, 1.0),))
    outages = random_cuts(rng) if rng.random() < 0.4 else typed
    return Job(site, loads, outages, Catalog((), (), (), (), ()))


def random_inverter(rng):
    return Inverter(
        inverter="inverter",
        system_v=48,
        power_w=9000.0,
        power_w_40c=9000.0,
        power_va=9000.0,
        surge_w=20000.0,
        efficiency=float(rng.uniform(0.6, 0.99)),
        no_load_w=float(rng.choice([0.0, 0.0, 3.0, 40.0])),
        standby_w=5.0,
        charger_a=0.0,
        transfer_ms=10.0,
        mass_kg=20.0,
        max_units=4,
        life_years=10.0,
        price=900.0,
    )
