"""Plain equipment and sites; each test changes what it is about."""

from __future__ import annotations

from optimizer.inputs.chemistry import load_chemistries
from optimizer.model.design import BankPeriod, CableRun, Design
from optimizer.model.job import Battery, Cable, Catalog, Fuse, Inverter, Job, Load, Season, Site
from optimizer.model.outages import Outages

ALL_DAY = ((0.0, 24.0),)

# Ampacity of two flexible single cores in free air, 60 °C rubber (secondary source); resistance by
# IEC 60228 class 5. The price plays no part.
CABLES = tuple(
    Cable(section_mm2=section, ampacity_a=ampacity, ohm_per_km=resistance, price_per_m=1.0)
    for section, ampacity, resistance in (
        (35.0, 140.0, 0.554),
        (50.0, 175.0, 0.386),
        (70.0, 216.0, 0.272),
        (95.0, 258.0, 0.206),
    )
)
# Rated currents in the usual series (from memory).
FUSES = tuple(
    Fuse(rating_a=float(rating), price=1.0)
    for rating in (32, 40, 50, 63, 80, 100, 125, 160, 200, 250, 315, 400)
)


def shipped(chemistry: str):
    """Return a chemistry's row as it is shipped with the project."""
    return load_chemistries()[chemistry]


def make_load(name: str, watts: float, **changes) -> Load:
    fields = {
        "tier": "essential",
        "count": 1,
        "running_w": watts,
        "power_factor": 1.0,
        "starting_w": watts,
        "windows": ALL_DAY,
        "duty": 1.0,
        "season_multipliers": {},
    }
    return Load(load=name, **(fields | changes))


def make_battery(chemistry: str = "flooded", **changes) -> Battery:
    """Return a battery with the traits of a shipped chemistry, 100 Ah (20 h) at 12 V."""
    row = shipped(chemistry)
    traits = {
        name: getattr(row, name)
        for name in Battery.__dataclass_fields__
        if name not in {"chemistry", "sources"} and getattr(row, name, None) is not None
    }
    traits["max_dod"] = row.max_dod[-1]
    fields = {
        "battery": "Example",
        "chemistry": chemistry,
        "voltage_v": 12.0,
        "class_v": 12,
        "capacity_ah": 100.0,
        "rate_h": 20.0,
        "price": 100.0,
        "mass_kg": 30.0,
    }
    return Battery(**(traits | fields | changes))


def make_inverter(**changes) -> Inverter:
    """Return an inverter-charger for 12 V that nothing here is too much for."""
    fields = {
        "inverter": "Example",
        "system_v": 12,
        "power_w": 3000.0,
        "power_w_40c": 3000.0,
        "power_va": 3000.0,
        "surge_w": 6000.0,
        "efficiency": 0.90,
        "no_load_w": 0.0,
        "standby_w": 0.0,
        "charger_a": 50.0,
        "transfer_ms": 10.0,
        "mass_kg": 10.0,
        "max_units": 1,
        "life_years": 10.0,
        "price": 500.0,
    }
    # ratings that are left blank in a price list are the rating at 25 °C
    if "power_w" in changes:
        fields |= {"power_w_40c": changes["power_w"], "power_va": changes["power_w"]}
    return Inverter(**(fields | changes))


def make_job(
    *loads: Load,
    batteries: tuple[Battery, ...] = (),
    inverters: tuple[Inverter, ...] = (),
    cables: tuple[Cable, ...] = CABLES,
    outages: Outages | None = None,
    **site,
) -> Job:
    fields = {
        "name": "Example",
        "currency": "EUR",
        "seasons": (Season("year", tuple(range(1, 13))),),
        "tiers": ("essential",),
        "target_hours": 4,
        "tariff": 0.3,
        "min_degc": 25.0,
        "mean_degc": 20.0,
        "max_degc": 25.0,
        "design_margin": 0.0,
        "vented_allowed": True,
    }
    typed = Outages("typed", ((2.0, 2.0),))
    catalog = Catalog(batteries, inverters, (), cables, FUSES)
    return Job(Site(**(fields | site)), loads, outages or typed, catalog)


def make_bank(battery: Battery, series: int = 1, strings: int = 1, **changes) -> BankPeriod:
    fields = {"start": 0, "end": 10, "service_life_years": 10.0}
    return BankPeriod(battery, series, strings, **(fields | changes))


def make_design(*banks: BankPeriod, hours: int = 4, voltage_v: int = 12, **inverter) -> Design:
    """Return what stands there: no money is asked of it."""
    return Design(
        hours=hours,
        life_cycle_cost=0.0,
        upfront_cost=0.0,
        voltage_v=voltage_v,
        inverter=make_inverter(system_v=voltage_v, **inverter),
        inverter_units=1,
        wiring=CableRun(CABLES[-1], 1, FUSES[-1]),
        banks=banks,
    )
