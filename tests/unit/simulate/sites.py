"""Builders of plain sites and designs; each test changes what it is about."""

from __future__ import annotations

from optimizer.model.design import BankPeriod, CableRun, Design
from optimizer.model.job import Battery, Cable, Catalog, Fuse, Inverter, Job, Load, Season, Site
from optimizer.model.outages import Outages

YEAR = (Season("year", tuple(range(1, 13))),)
HALVES = (
    Season("winter", (10, 11, 12, 1, 2, 3)),
    Season("summer", (4, 5, 6, 7, 8, 9)),
)
ALL_DAY = ((0.0, 24.0),)


def make_load(name="lamp", watts=100.0, **changes) -> Load:
    values = {
        "tier": "essential",
        "count": 1,
        "running_w": watts,
        "power_factor": 1.0,
        "starting_w": watts,
        "windows": ALL_DAY,
        "duty": 1.0,
        "season_multipliers": {},
    }
    return Load(load=name, **(values | changes))


def make_job(*loads: Load, outages: Outages | None = None, **changes) -> Job:
    values = {
        "name": "Test site",
        "currency": "EUR",
        "seasons": YEAR,
        "tiers": ("essential",),
        "target_hours": 4,
        "tariff": 0.3,
        "min_degc": 20.0,
        "mean_degc": 20.0,
        "max_degc": 25.0,
        "design_margin": 0.0,
    }
    site = Site(**(values | changes))
    typed = Outages("typed", ((2.0, 3.0),))
    nothing = Catalog((), (), (), (), ())
    return Job(site, loads or (make_load(),), outages or typed, nothing)


def make_battery(**changes) -> Battery:
    """100 Ah at 12 V with no rate effect, no cold effect and all of it usable."""
    values = {
        "battery": "Plain 100",
        "chemistry": "plain",
        "family": "plain",
        "gas": "none",
        "voltage_v": 12.0,
        "class_v": 12,
        "capacity_ah": 100.0,
        "rate_h": 20.0,
        "price": 100.0,
        "mass_kg": 30.0,
        "peukert": 1.0,
        "max_dod": 1.0,
        "float_life_years": 20.0,
        "halving_degc": 10.0,
        "cycle_points": ((0.5, 1000.0),),
        "end_of_life_soh": 0.8,
        "discharge_rate_max": 5.0,
        "charge_rate_min": 0.0,
        "charge_rate_max": 5.0,
        "charge_factor": 1.0,
        "round_trip": 1.0,
        "self_discharge_month": 0.0,
        "upkeep_year": 0.0,
        "scrap_value": 0.0,
        "price_drift": 0.0,
        "min_charge_degc": -20.0,
        "cold_points": ((-20.0, 1.0), (20.0, 1.0)),
        "max_series": 10,
        "max_parallel": 10,
    }
    return Battery(**(values | changes))


def make_inverter(**changes) -> Inverter:
    """Without losses."""
    values = {
        "inverter": "Plain 3000",
        "system_v": 12,
        "power_w": 3000.0,
        "power_w_40c": 3000.0,
        "power_va": 3000.0,
        "surge_w": 6000.0,
        "efficiency": 1.0,
        "no_load_w": 0.0,
        "standby_w": 0.0,
        "charger_a": 20.0,
        "transfer_ms": 10.0,
        "mass_kg": 10.0,
        "max_units": 4,
        "life_years": 10.0,
        "price": 500.0,
    }
    return Inverter(**(values | changes))


def make_design(*banks: BankPeriod, hours=4, units=1, voltage_v=12, **inverter) -> Design:
    wiring = CableRun(
        Cable(section_mm2=50.0, ampacity_a=200.0, ohm_per_km=0.4, price_per_m=10.0),
        1,
        Fuse(rating_a=200.0, price=20.0),
    )
    return Design(
        hours=hours,
        life_cycle_cost=0.0,
        upfront_cost=0.0,
        voltage_v=voltage_v,
        inverter=make_inverter(**inverter),
        inverter_units=units,
        wiring=wiring,
        banks=banks or (make_bank(),),
    )


def make_bank(series=1, strings=1, start=0, end=10, life=1e9, **battery) -> BankPeriod:
    """So long a service life that the bank stays as new."""
    return BankPeriod(make_battery(**battery), series, strings, start, end, life)
