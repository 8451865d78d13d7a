"""A large invented price list and its site, drawn from a seed."""

from __future__ import annotations

import numpy as np

from optimizer.model.job import (
    Battery,
    Cable,
    Catalog,
    Contract,
    Fuse,
    Generator,
    GeneratorRules,
    Inverter,
    Job,
    Load,
    Peak,
    Season,
    Site,
    Work,
)
from optimizer.model.outages import Outages

SEED = 20261125

#: Per chemistry: family, gas, exponent, depth, float life, cycle points, charge and discharge
#: rate, price per kWh, Wh per kg.
KINDS = {
    "flooded": ("lead", "vented", 1.22, 0.5, 8.0, ((0.2, 2800.0), (0.8, 600.0)), 0.3, 130.0, 38.0),
    "agm": (
        "lead",
        "valve_regulated",
        1.14,
        0.5,
        9.0,
        ((0.3, 1500.0), (1.0, 300.0)),
        0.5,
        150.0,
        36.0,
    ),
    "gel": (
        "lead",
        "valve_regulated",
        1.17,
        0.6,
        11.0,
        ((0.3, 2100.0), (1.0, 500.0)),
        0.35,
        180.0,
        35.0,
    ),
    "lfp": ("lithium", "none", 1.03, 0.9, 15.0, ((0.5, 8000.0), (1.0, 3500.0)), 0.8, 340.0, 115.0),
}


def generated_job(
    batteries: int = 200,
    inverters: int = 60,
    max_hours: int = 72,
    horizon_years: int = 20,
    *,
    depths: int = 1,
    steps: int = 0,
    generators: int = 0,
    seed: int = SEED,
) -> Job:
    """Return a job over a drawn price list of the given size.

    ``depths`` are those that each battery may be drawn to; ``steps`` of a supply contract come
    with two peaks, ``generators`` with a quiet night.
    """
    random = np.random.default_rng(seed)
    contracts = tuple(
        Contract(power_w=3000.0 + 1500 * step, cost_year=80.0 + 90 * step) for step in range(steps)
    )
    site = Site(
        name="Generated",
        currency="EUR",
        seasons=(Season("winter", (10, 11, 12, 1, 2, 3)), Season("summer", (4, 5, 6, 7, 8, 9))),
        tiers=("essential",),
        target_hours=24,
        tariff=0.3,
        min_degc=8,
        mean_degc=18,
        max_degc=33,
        max_hours=max_hours,
        load_growth=0.01,
        horizon_years=horizon_years,
        vented_allowed=True,
        tax_rate=0.2,
        contracts=contracts,
        peaks=(
            Peak(power_w=4200.0, minutes=12.0, times_a_month=30.0),
            Peak(power_w=6000.0, minutes=6.0, times_a_month=5.0),
        )
        if steps
        else (),
        generator=GeneratorRules(
            fuel_price=1.85, max_stored_l=60.0, quiet=(21.0, 31.0), start_after_h=2
        )
        if generators
        else None,
    )
    day, winter = ((0.0, 24.0),), {"winter": 1.0, "summer": 0.0}
    loads = (
        Load(
            load="Refrigerator",
            tier="essential",
            count=1,
            running_w=95,
            power_factor=0.85,
            starting_w=600,
            windows=day,
            duty=0.4,
            season_multipliers={},
        ),
        Load(
            load="Circulator",
            tier="essential",
            count=1,
            running_w=60,
            power_factor=0.8,
            starting_w=180,
            windows=day,
            duty=0.7,
            season_multipliers=winter,
        ),
        Load(
            load="Lights",
            tier="essential",
            count=10,
            running_w=9,
            power_factor=0.95,
            starting_w=9,
            windows=((6, 8), (17, 23.5)),
            duty=0.6,
            season_multipliers={},
        ),
        Load(
            load="Pump",
            tier="essential",
            count=1,
            running_w=700,
            power_factor=0.78,
            starting_w=2200,
            windows=((6, 9), (18, 21)),
            duty=0.12,
            season_multipliers={},
        ),
        Load(
            load="Desk",
            tier="essential",
            count=2,
            running_w=70,
            power_factor=0.95,
            starting_w=70,
            windows=((8, 18),),
            duty=0.7,
            season_multipliers={},
        ),
    )
    outages = Outages("typed", ((1.0, 4.0), (6.0, 1.5), (24.0, 0.3)))
    return Job(
        site,
        loads,
        outages,
        Catalog(
            batteries=tuple(_battery(random, index, depths) for index in range(batteries)),
            inverters=tuple(_inverter(random, index) for index in range(inverters)),
            works=(
                Work("Survey", "site", 220, "first"),
                Work("Mounting", "inverter_unit", 140, "both"),
                Work("Handling", "battery_unit", 12, "both"),
                Work("Link", "string", 45, "first"),
                Work("Transport", "kg", 0.35, "both"),
                Work("Vented box", "vented_bank", 180, "first"),
            ),
            cables=tuple(
                Cable(section_mm2=section, ampacity_a=ampacity, ohm_per_km=ohm, price_per_m=price)
                for section, ampacity, ohm, price in (
                    (16, 85, 1.21, 4.6),
                    (35, 138, 0.554, 8.9),
                    (70, 213, 0.272, 17.0),
                    (120, 299, 0.161, 30.0),
                )
            ),
            generators=tuple(_generator(index) for index in range(generators)),
            fuses=tuple(
                Fuse(rating_a=rating, price=9 + rating / 16)
                for rating in (63, 100, 125, 160, 200, 250, 315, 400)
            ),
        ),
    )


def _generator(index: int) -> Generator:
    power_w = 1500.0 + 700 * index
    return Generator(
        generator=f"Generator {index}",
        power_w=power_w,
        power_va=power_w * 1.1,
        surge_w=power_w * 2,
        litres_h_full=0.6 * power_w / 1000,
        litres_h_idle=0.2 * power_w / 1000,
        price=250 + 0.2 * power_w,
        life_years=8.0,
        upkeep_year=20.0,
    )


def _battery(random: np.random.Generator, index: int, depths: int) -> Battery:
    kind = list(KINDS)[index % len(KINDS)]
    family, gas, peukert, depth, life, cycles, rate, per_kwh, per_kg = KINDS[kind]
    classes = (12, 24, 48) if family == "lithium" else (2, 6, 12)
    class_v = int(random.choice(classes))
    voltage_v = class_v * (16 / 15 if family == "lithium" else 1.0)
    capacity_ah = float(random.integers(60, 320)) * (3 if class_v == 2 else 1)
    energy_wh = voltage_v * capacity_ah
    spread = random.uniform(0.8, 1.25, 4)
    return Battery(
        battery=f"Battery {index}",
        chemistry=kind,
        family=family,
        gas=gas,
        voltage_v=voltage_v,
        class_v=class_v,
        capacity_ah=capacity_ah,
        rate_h=5.0 if family == "lithium" else float(random.choice((10, 20))),
        price=round(energy_wh / 1000 * per_kwh * spread[0], 2),
        mass_kg=energy_wh / per_kg * spread[1],
        peukert=round(1 + (peukert - 1) * spread[2], 2),
        max_dod=depth,
        max_dods=tuple(depth * (one + 1) / depths for one in range(depths)),
        float_life_years=round(life * spread[3], 1),
        halving_degc=10,
        cycle_points=cycles,
        end_of_life_soh=0.8,
        discharge_rate_max=rate,
        charge_rate_min=0.0 if family == "lithium" else 0.05,
        charge_rate_max=0.5 if family == "lithium" else 0.2,
        charge_factor=1.02 if family == "lithium" else 1.15,
        round_trip=0.95 if family == "lithium" else 0.82,
        self_discharge_month=0.02,
        upkeep_year=3.0 if gas == "vented" else 0.0,
        scrap_value=0.0 if family == "lithium" else 8.0,
        price_drift=-0.03 if family == "lithium" else 0.0,
        min_charge_degc=0 if family == "lithium" else -10,
        cold_points=((0, 0.88), (25, 1.0)) if family == "lithium" else ((0, 0.71), (25, 1.0)),
        max_series=24,
        max_parallel=8 if family == "lithium" else 4,
    )


def _inverter(random: np.random.Generator, index: int) -> Inverter:
    system_v = (12, 24, 48)[index % 3]
    power_w = float(random.integers(8, 20 * system_v // 12 + 10)) * 100
    spread = random.uniform(0.85, 1.2, 4)
    return Inverter(
        inverter=f"Inverter {index}",
        system_v=system_v,
        power_w=power_w,
        power_w_40c=round(power_w * 0.9),
        power_va=round(power_w * 1.15),
        surge_w=round(power_w * 2.2 * spread[0]),
        efficiency=round(float(random.uniform(0.90, 0.96)), 3),
        no_load_w=round(power_w * 0.006 * spread[1], 1),
        standby_w=round(power_w * 0.004 * spread[2], 1),
        charger_a=round(power_w / system_v * 0.75 * spread[2]),
        transfer_ms=15,
        mass_kg=power_w / 150,
        max_units=int(random.integers(1, 5)),
        works_in_parallel=True,
        life_years=float(random.integers(8, 15)),
        price=round(150 + power_w * 0.38 * spread[3], 2),
    )
