"""Small random sites with a price list, made as records without files.

Values are drawn from short lists of round figures: failures shrink to something readable, equal
costs and limits met exactly come up, and most sites have a design.
"""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from hypothesis import strategies as st

from optimizer.model.job import (
    Battery,
    Cable,
    Catalog,
    Fuse,
    Inverter,
    Job,
    Load,
    Outages,
    Season,
    Site,
    Work,
)

if TYPE_CHECKING:
    from optimizer.model.job import Window

of = st.sampled_from

YEAR = (Season("year", tuple(range(1, 13))),)
HALVES = (Season("wet", (5, 6, 7, 8, 9)), Season("dry", (10, 11, 12, 1, 2, 3, 4)))

#: Listed by hand rather than drawn: two rows of one section or rating would leave the choice open.
CABLES = tuple(
    Cable(
        section_mm2=section_mm2,
        ampacity_a=ampacity_a,
        ohm_per_km=ohm_per_km,
        price_per_m=price_per_m,
    )
    for section_mm2, ampacity_a, ohm_per_km, price_per_m in (
        (10.0, 63.0, 1.91, 3.0),
        (25.0, 112.0, 0.78, 6.5),
        (50.0, 168.0, 0.386, 12.0),
        (95.0, 258.0, 0.206, 11.0),  # cheaper than the one before: the first that fits still wins
        (120.0, 300.0, 0.161, 30.0),
    )
)
FUSES = tuple(
    Fuse(rating_a=rating_a, price=price)
    for rating_a, price in ((63.0, 9.0), (100.0, 11.0), (160.0, 10.0), (250.0, 22.0), (400.0, 34.0))
)


@st.composite
def windows(draw: st.DrawFn) -> tuple[Window, ...]:
    """One or two windows of the day in half hours; the second may cross midnight."""
    if draw(of([True, False, False])):
        return ((0.0, 24.0),)
    start = draw(st.integers(0, 40)) / 2
    end = start + draw(st.integers(1, 14)) / 2
    if end >= 23 or draw(st.booleans()):
        return ((start, end),)
    later = draw(st.integers(int(2 * end), 47)) / 2
    # Ends before the first begins again a day later: windows of one load do not overlap.
    length = draw(st.integers(1, max(1, min(16, int(2 * (24 + start - later)))))) / 2
    return ((start, end), (later, later + length))


@st.composite
def loads(draw: st.DrawFn, name: str, seasons: tuple[Season, ...]) -> Load:
    running_w = draw(of([60.0, 150.0, 250.0, 400.0, 600.0]))
    multipliers = {}
    if len(seasons) > 1:
        for season in seasons:
            share = draw(of([None, None, 0.0, 0.6, 1.2]))
            if share is not None:
                multipliers[season.name] = share
    return Load(
        load=name,
        tier=draw(of(["needed", "needed", "needed", "wished"])),
        count=draw(of([1, 1, 2])),
        running_w=running_w,
        power_factor=draw(of([1.0, 0.9, 0.7])),
        starting_w=running_w * draw(of([1.0, 1.0, 2.0, 3.0])),
        windows=draw(windows()),
        duty=draw(of([1.0, 0.8, 0.3])),
        season_multipliers=multipliers,
    )


CHEMISTRIES = {
    "wet plates": ("lead", "vented"),
    "sealed plates": ("lead", "valve_regulated"),
    "paste": ("lead", "valve_regulated"),
    "iron cells": ("lithium", "none"),
    "open alkaline": ("alkaline", "vented"),
}


@st.composite
def batteries(draw: st.DrawFn, name: str, chemistries: list[str], voltages: list[int]) -> Battery:
    chemistry = draw(of(chemistries))
    family, gas = CHEMISTRIES[chemistry]
    light = family == "lithium"
    shapes = (
        [(3.2, 3), (12.8, 12), (25.6, 24), (51.2, 48), (48.0, 48)]
        if light
        else [(12.0, 12), (12.0, 12), (6.0, 6), (2.0, 2), (8.0, 8), (24.0, 24)]
    )
    # Mostly of a voltage that can serve: a battery that cannot is a shorter price list.
    serving = [shape for shape in shapes if any(volts % shape[1] == 0 for volts in voltages)]
    voltage_v, class_v = draw(of(draw(of([serving, serving, serving, serving, shapes]))))
    capacity_ah = draw(of([40.0, 60.0, 100.0, 200.0]))
    price_per_kwh = draw(of([240.0, 330.0, 420.0] if light else [70.0, 100.0, 150.0, 220.0]))
    return Battery(
        battery=name,
        chemistry=chemistry,
        family=family,
        gas=gas,
        voltage_v=voltage_v,
        class_v=class_v,
        capacity_ah=capacity_ah,
        rate_h=draw(of([5.0, 10.0, 20.0])),
        price=round(price_per_kwh * voltage_v * capacity_ah / 1000),
        mass_kg=round(voltage_v * capacity_ah / (100 if light else 38), 1),
        peukert=draw(of([1.0, 1.03] if light else [1.0, 1.1, 1.2, 1.4])),
        max_dod=draw(of([0.9, 1.0] if light else [0.5, 0.6, 0.8, 1.0])),
        float_life_years=draw(of([4.0, 6.5, 8.0, 12.0, 16.0])),
        halving_degc=draw(of([8.0, 10.0, 15.0])),
        cycle_points=draw(
            of(
                [
                    ((0.5, 6000.0), (0.8, 4000.0), (1.0, 2500.0)),
                    ((0.2, 2500.0), (0.5, 1000.0), (0.8, 550.0)),
                    ((0.3, 1600.0), (1.0, 350.0)),
                    ((0.8, 900.0),),
                ]
            )
        ),
        end_of_life_soh=draw(of([0.8, 0.8, 0.6, 0.95])),
        discharge_rate_max=draw(of([1.0, 2.0, 0.4])),
        charge_rate_min=draw(of([0.0, 0.0, 0.05])),
        charge_rate_max=0.5,
        charge_factor=draw(of([1.0, 1.02, 1.2])),
        round_trip=draw(of([0.8, 0.95, 1.0])),
        self_discharge_month=draw(of([0.0, 0.03])),
        upkeep_year=draw(of([0.0, 0.0, 4.0])),
        scrap_value=draw(of([0.0, 0.0, 7.0])),
        price_drift=draw(of([0.0, 0.0, -0.05, 0.03])),
        min_charge_degc=draw(of([-10.0, -10.0, -10.0, -10.0, 0.0, 8.0])),
        cold_points=draw(of([((25.0, 1.0),), ((-10.0, 0.6), (10.0, 0.85), (25.0, 1.0))]))
        if draw(of([False, False, False, True]))
        else ((-10.0, 0.7), (0.0, 0.8), (25.0, 1.0)),
        max_series=draw(of([24, 24, 24, 24, 4])),
        max_parallel=draw(of([3, 5, 8])),
    )


POWERS_W = {
    12: [1500.0, 800.0, 2200.0],
    24: [2200.0, 1000.0, 3500.0],
    48: [3500.0, 1400.0, 5000.0],
}


@st.composite
def inverters(draw: st.DrawFn, name: str, voltages: list[int]) -> Inverter:
    system_v = draw(of(voltages))
    power_w = draw(of(POWERS_W[system_v]))
    life_years = draw(of([4.0, 7.5, 10.0, 12.0]))
    return Inverter(
        inverter=name,
        system_v=system_v,
        power_w=power_w,
        power_w_40c=power_w * draw(of([1.0, 0.85])),
        power_va=power_w * draw(of([1.0, 1.2])),
        surge_w=power_w * draw(of([2.2, 1.5])),
        efficiency=draw(of([0.88, 0.92, 0.95])),
        no_load_w=draw(of([0.0, 0.0, 8.0, 20.0])),
        standby_w=draw(of([0.0, 6.0])),
        charger_a=round(power_w * draw(of([1.0, 0.5, 1.5])) / system_v),
        transfer_ms=15.0,
        mass_kg=10.0,
        max_units=draw(of([3, 2, 1])),
        life_years=life_years,
        price=round(power_w * draw(of([0.3, 0.4, 0.55])) + 40),
    )


def works() -> st.SearchStrategy[tuple[Work, ...]]:
    offers = [
        Work("survey", "site", 150.0, "first"),
        Work("fixing", "inverter_unit", 100.0, "first"),
        Work("changing", "inverter_unit", 80.0, "swap"),
        Work("wiring in", "inverter_unit", 45.0, "both"),
        Work("placing", "battery_unit", 9.0, "first"),
        Work("exchanging", "battery_unit", 14.0, "swap"),
        Work("lifting", "battery_unit", 6.0, "both"),
        Work("isolator", "string", 38.0, "first"),
        Work("isolator check", "string", 11.0, "swap"),
        Work("label", "string", 2.5, "both"),
        Work("freight", "kg", 0.4, "both"),
        Work("first freight", "kg", 0.3, "first"),
        Work("late freight", "kg", 0.7, "swap"),
        Work("locker", "vented_bank", 200.0, "first"),
        Work("fan", "vented_bank", 60.0, "first"),
    ]
    return st.lists(of(offers), unique_by=lambda work: work.item, max_size=8).map(tuple)


@st.composite
def outages(draw: st.DrawFn) -> Outages:
    if draw(st.booleans()):
        rows = st.tuples(of([0.5, 1.5, 4.0, 9.0, 20.0]), of([0.4, 3.0, 20.0, 150.0]))
        return Outages("typed", tuple(draw(st.lists(rows, min_size=1, max_size=3))))
    cuts: tuple[Window, ...] = draw(
        of([((6.0, 8.5),), ((6.0, 8.0), (18.0, 21.0)), ((22.0, 26.0),)])
    )
    days = draw(of([12.0, 60.0, 200.0]))
    return Outages("daily", daily=cuts, days_per_year=days)


@st.composite
def sites(draw: st.DrawFn, seasons: tuple[Season, ...], excludable: list[str]) -> Site:
    def rarely(values: list[float]) -> float | None:
        return draw(of([None] * 8 + values))

    max_hours = draw(st.integers(2, 10))
    min_degc = draw(of([15.0, 25.0, 5.0, -2.0]))
    return Site(
        name="random",
        currency="EUR",
        seasons=seasons,
        tiers=draw(of([("needed",), ("needed", "wished")])),
        target_hours=draw(st.integers(1, max_hours)),
        tariff=draw(of([0.0, 0.3])),
        min_degc=min_degc,
        mean_degc=draw(of([25.0, 27.0, 29.0])) if min_degc == 25 else draw(of([18.0, 27.0])),
        max_degc=draw(of([30.0, 36.0, 45.0])),
        max_hours=max_hours,
        design_margin=draw(of([0.0, 0.1])),
        recharge_hours=draw(of([24.0, 24.0, 8.0])),
        load_growth=draw(of([0.0, 0.02, -0.03, 0.1, -0.15])),
        coincidence=draw(of([1.0, 0.8])),
        reference_efficiency=draw(of([0.88, 1.0])),
        horizon_years=draw(st.integers(1, 12) | of([8, 10, 12])),
        discount_rate=draw(of([0.03, 0.0, 0.08, -0.02])),
        tax_rate=draw(of([0.0, 0.2])),
        markup=draw(of([0.0, 0.15])),
        residual_share=draw(of([1.0, 0.5, 0.0])),
        min_service_share=draw(of([0.5, 0.0, 1.0, 0.25])),
        vented_allowed=draw(of([True, True, True, False])),
        battery_cable_m=draw(of([1.5, 4.0])),
        max_drop=draw(of([0.03, 0.015])),
        budget=rarely([2500.0, 4000.0, 6000.0]),
        lifetime_budget=rarely([5000.0, 8000.0]),
        max_bank_kg=rarely([120.0, 300.0]),
        max_parallel=draw(of([None, None, None, None, 1, 3])),
        voltages=draw(of([(12, 24, 48)] * 7 + [(12, 48), (24,)])),
        exclude=tuple(draw(st.lists(of(excludable), max_size=1)))
        if draw(of([0] * 7 + [1]))
        else (),
    )


@st.composite
def falling_jobs(draw: st.DrawFn) -> Job:
    """Sites whose least cost falls somewhere as the hours grow.

    The same short load comes back every few hours. The window that holds one run and the quiet
    on both sides is the most uneven; an hour more catches the next run and evens it out, adding
    no energy to the heaviest window. Lead-acid of a high Peukert exponent makes the most of it.
    """
    job = draw(jobs())
    every_h = draw(of([2, 3, 4, 6, 8]))
    start = draw(st.integers(0, 2 * every_h - 1)) / 2
    run_h = draw(of([1.0, 0.5, 2.0]))
    if run_h == every_h:
        run_h = 1.0
    again = Load(
        load="again and again",
        tier="needed",
        count=1,
        running_w=draw(of([250.0, 400.0, 700.0])),
        power_factor=1.0,
        starting_w=700.0,
        windows=tuple((start + at, start + at + run_h) for at in range(0, 24, every_h)),
        duty=1.0,
        season_multipliers={},
    )
    trickle = Load(
        load="trickle",
        tier="needed",
        count=1,
        running_w=5.0,
        power_factor=1.0,
        starting_w=5.0,
        windows=((0.0, 24.0),),
        duty=1.0,
        season_multipliers={},
    )
    steep = [
        replace(
            battery,
            peukert=draw(of([1.3, 1.45, 1.6])),
            rate_h=draw(of([10.0, 20.0])),
            discharge_rate_max=2.0,
            capacity_ah=battery.capacity_ah / draw(of([1, 2, 4])),
            max_parallel=8,
        )
        for battery in job.catalog.batteries
    ]
    catalog = replace(job.catalog, batteries=tuple(steep))
    loads = (again, trickle) if draw(st.booleans()) else (again,)
    site = replace(job.site, max_hours=10, max_parallel=None, vented_allowed=True, exclude=())
    return replace(job, site=site, loads=loads, catalog=catalog)


@st.composite
def jobs(draw: st.DrawFn) -> Job:
    """Any small site: one to four loads, one to four batteries, one to three inverters."""
    seasons = draw(of([YEAR, HALVES]))
    voltages = draw(of([[12], [24], [48], [12, 24], [24, 48], [12, 24, 48]]))
    chemistries = draw(of([list(CHEMISTRIES), list(CHEMISTRIES), ["wet plates", "iron cells"]]))
    surveyed = [draw(loads(f"load {number}", seasons)) for number in range(draw(st.integers(1, 4)))]
    if all(load.tier == "wished" for load in surveyed):
        surveyed.append(
            Load(
                load="lamp",
                tier="needed",
                count=2,
                running_w=20.0,
                power_factor=1.0,
                starting_w=20.0,
                windows=((18.0, 24.0),),
                duty=1.0,
                season_multipliers={},
            )
        )
    catalog = Catalog(
        batteries=tuple(
            draw(batteries(f"battery {number}", chemistries, voltages))
            for number in range(draw(of([3, 2, 4, 1])))
        ),
        inverters=tuple(
            draw(inverters(f"inverter {number}", voltages))
            for number in range(draw(st.integers(1, 3)))
        ),
        works=draw(works()),
        cables=CABLES,
        fuses=FUSES,
    )
    excludable = ["battery 0", "inverter 0", *chemistries]
    return Job(draw(sites(seasons, excludable)), tuple(surveyed), draw(outages()), catalog)


@st.composite
def two_purse_jobs(draw: st.DrawFn) -> Job:
    """Sites where money at the start decides which bank may come before a vented one.

    A sealed bank without upkeep, one that is cheaper to buy and dearer to keep, and a vented one
    whose price falls: it is worth waiting for, but its works are paid at the start.
    """
    job = draw(jobs())
    first = replace(
        job.catalog.batteries[0],
        battery="sealed",
        chemistry="sealed plates",
        family="lead",
        gas="valve_regulated",
        float_life_years=draw(of([4.0, 6.5, 8.0])),
        max_parallel=draw(of([3, 5])),
    )
    second = replace(
        first,
        battery="sealed, cheaper now",
        price=round(first.price * draw(of([0.95, 0.85, 0.7]))),
        upkeep_year=first.price * draw(of([0.05, 0.1, 0.2])),
    )
    vented = replace(
        first,
        battery="vented",
        chemistry="wet plates",
        gas="vented",
        price=round(first.price * draw(of([1.5, 1.0, 2.0]))),
        price_drift=draw(of([-0.3, -0.2])),
    )
    works = (
        *(work for work in job.catalog.works if work.basis != "vented_bank"),
        Work("locker", "vented_bank", draw(of([30.0, 60.0, 120.0])), "first"),
    )
    catalog = replace(job.catalog, batteries=(first, second, vented), works=works)
    years = draw(st.integers(5, 12))
    site = replace(job.site, vented_allowed=True, horizon_years=years, budget=None, exclude=())
    return replace(job, site=site, catalog=catalog)
