"""A tiny site and price list whose every number can be worked out by hand.

One load of 100 W all day; one 12 V battery without rate effect (exponent 1); one 12 V inverter;
prices round, no tax, no interest. Each test changes what it is about.
"""

from __future__ import annotations

from dataclasses import replace

from optimizer.model.design import BankPeriod, CableRun, Design
from optimizer.model.job import (
    Battery,
    Cable,
    Catalog,
    Fuse,
    Generator,
    Inverter,
    Job,
    Load,
    Season,
    Site,
    Work,
)
from optimizer.model.outages import Outages

YEAR = (Season("year", tuple(range(1, 13))),)
ALL_DAY = ((0.0, 24.0),)
CABLE, FUSE = (
    Cable(section_mm2=50.0, ampacity_a=300.0, ohm_per_km=0.386, price_per_m=10.0),
    Fuse(rating_a=160.0, price=20.0),
)
LARGE_FUSE = Fuse(rating_a=300.0, price=40.0)


def make_load(name="Lamp", running_w=100.0, **changes):
    values = {
        "tier": "needed",
        "count": 1,
        "power_factor": 1.0,
        "starting_w": running_w,
        "windows": ALL_DAY,
        "duty": 1.0,
        "season_multipliers": {},
    }
    return Load(load=name, running_w=running_w, **(values | changes))


def make_battery(name="Slate", **changes):
    values = {
        "chemistry": "agm",
        "family": "lead",
        "gas": "valve_regulated",
        "voltage_v": 12.0,
        "class_v": 12,
        "capacity_ah": 100.0,
        "rate_h": 10.0,
        "price": 100.0,
        "mass_kg": 30.0,
        "peukert": 1.0,
        "max_dod": 0.5,
        "float_life_years": 10.0,
        "halving_degc": 10.0,
        "cycle_points": ((0.5, 1000.0),),
        "end_of_life_soh": 0.8,
        "discharge_rate_max": 1.0,
        "charge_rate_min": 0.0,
        "charge_rate_max": 1.0,
        "charge_factor": 1.0,
        "round_trip": 0.8,
        "self_discharge_month": 0.0,
        "upkeep_year": 0.0,
        "scrap_value": 0.0,
        "price_drift": 0.0,
        "min_charge_degc": -10.0,
        "cold_points": ((0.0, 1.0),),
        "max_series": 4,
        "max_parallel": 4,
    }
    return Battery(battery=name, **(values | changes))


def make_inverter(name="Gable", **changes):
    values = {
        "system_v": 12,
        "power_w": 1000.0,
        "power_w_40c": 1000.0,
        "power_va": 1000.0,
        "surge_w": 2000.0,
        "efficiency": 0.9,
        "no_load_w": 10.0,
        "standby_w": 0.0,
        "charger_a": 50.0,
        "transfer_ms": 15.0,
        "mass_kg": 10.0,
        "max_units": 2,
        "life_years": 10.0,
        "price": 500.0,
    }
    return Inverter(inverter=name, **(values | changes))


def make_generator(name="Ash", **changes):
    values = {
        "power_w": 900.0,
        "power_va": 900.0,
        "surge_w": 3000.0,
        "litres_h_full": 0.5,
        "litres_h_idle": 0.2,
        "price": 300.0,
        "life_years": 20.0,
    }
    return Generator(generator=name, **(values | changes))


def make_job(
    *loads,
    batteries=None,
    inverters=None,
    works=(),
    cables=(CABLE,),
    fuses=(FUSE, LARGE_FUSE),
    generators=(),
    yearly=((4.0, 10.0),),
    **changes,
):
    """Return a job; the keywords beyond the price list and the outages are keys of the site."""
    values = {
        "name": "Hillside",
        "currency": "EUR",
        "seasons": YEAR,
        "tiers": ("needed",),
        "target_hours": 4,
        "max_hours": 24,
        "tariff": 0.0,
        "min_degc": 10.0,
        "mean_degc": 20.0,
        "max_degc": 25.0,
        "design_margin": 0.0,
        "reference_efficiency": 0.8,
        "horizon_years": 10,
        "discount_rate": 0.0,
        "residual_share": 0.0,
        "min_service_share": 0.5,
        "voltages": (12, 24, 48),
    }
    return Job(
        Site(**(values | changes)),
        loads or (make_load(),),
        Outages("typed", tuple(yearly)),
        Catalog(
            batteries=(make_battery(),) if batteries is None else tuple(batteries),
            inverters=(make_inverter(),) if inverters is None else tuple(inverters),
            works=tuple(works),
            cables=tuple(cables),
            fuses=tuple(fuses),
            generators=tuple(generators),
        ),
    )


def with_site(job, **changes):
    """Return the job with other keys of its site."""
    return replace(job, site=replace(job.site, **changes))


def with_catalog(job, **changes):
    """Return the job with other tables of its price list."""
    return replace(job, catalog=replace(job.catalog, **changes))


def every_work():
    """One work of each basis and time, each of another price so that none hides another."""
    return (
        Work("Survey", "site", 200.0, "first"),
        Work("Mount", "inverter_unit", 50.0, "first"),
        Work("Exchange set", "inverter_unit", 30.0, "swap"),
        Work("Connect set", "inverter_unit", 7.0, "both"),
        Work("Place", "battery_unit", 5.0, "first"),
        Work("Exchange unit", "battery_unit", 9.0, "swap"),
        Work("Connect unit", "battery_unit", 2.0, "both"),
        Work("Link", "string", 40.0, "first"),
        Work("Check link", "string", 11.0, "swap"),
        Work("Label", "string", 3.0, "both"),
        Work("Freight", "kg", 0.5, "first"),
        Work("Late freight", "kg", 0.7, "swap"),
        Work("Haul", "kg", 0.1, "both"),
        Work("Locker", "vented_bank", 180.0, "first"),
    )


def make_period(battery=None, *, series=1, strings=1, start=0, end=10, life=12.0, bought=1):
    return BankPeriod(battery or make_battery(), series, strings, start, end, life, bought)


def make_design(*banks, inverter=None, **changes):
    values = {
        "hours": 4,
        "life_cycle_cost": 0.0,
        "upfront_cost": 0.0,
        "voltage_v": 12,
        "inverter_units": 1,
        "wiring": CableRun(CABLE, 1, FUSE),
    }
    return Design(
        inverter=inverter or make_inverter(),
        banks=banks or (make_period(),),
        **(values | changes),
    )
