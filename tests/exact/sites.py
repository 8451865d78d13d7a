"""Small random sites with a price list, as the files would have them.

Values are drawn from short lists of round figures: failures shrink to something readable, equal
costs and limits met exactly come up, and most sites have a design. Every feature of the model is
drawn beside every other; what is seldom in a real site is not seldom here.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Any

from hypothesis import strategies as st

from .files import SiteFiles
from .price_lists import (
    CABLES,
    CHEMISTRIES,
    FUSES,
    WORKS,
    batteries,
    generators,
    inverters,
    of,
)

if TYPE_CHECKING:
    from .case import Table


def clock(minutes: int) -> str:
    return f"{minutes // 60 % 24:02d}:{minutes % 60:02d}"


SEASONS = (
    None,
    {"wet": [5, 6, 7, 8, 9], "dry": [10, 11, 12, 1, 2, 3, 4]},
    {"cold": [12, 1, 2], "hot": [6, 7, 8, 9], "mild": [3, 4, 5, 10, 11]},
)


@st.composite
def load_hours(draw: st.DrawFn) -> str:
    """One or two windows of the day; the second may cross midnight."""
    if draw(of([True, False, False])):
        return "0:00-24:00"
    start = 30 * draw(st.integers(0, 40)) + draw(of([0, 0, 10]))
    end = start + 30 * draw(st.integers(1, 14))
    if end >= 23 * 60 or draw(st.booleans()):
        return f"{clock(start)}-{clock(end)}"
    later = draw(st.integers(end // 30 + 1, 47)) * 30
    # Ends before the first begins again a day later: windows of one load do not overlap.
    length = 30 * draw(st.integers(1, max(1, min(16, (24 * 60 + start - later) // 30))))
    return f"{clock(start)}-{clock(end)};{clock(later)}-{clock(later + length)}"


@st.composite
def loads(draw: st.DrawFn, seasons: dict[str, list[int]] | None) -> Table:
    rows = []
    for number in range(draw(st.integers(1, 4))):
        running_w = draw(of([60.0, 25.5, 150.0, 250.0, 400.0, 600.0]))
        shares = {
            name: share
            for name in seasons or {}
            if (share := draw(of([None, None, 0.0, 0.6, 1.2]))) is not None
        }
        rows.append(
            {
                "load": f"load {number}",
                "tier": draw(of(["needed", "needed", "wished"])) if number else "needed",
                "count": draw(of([1, 1, 2])),
                "running_w": running_w,
                "power_factor": draw(of([1.0, 0.9, 0.7])),
                "starting_w": draw(of(["", "", 2 * running_w, 3 * running_w])),
                "hours": draw(load_hours()),
                "duty": draw(of([1.0, 0.8, 0.3])),
                "seasons": ";".join(f"{name}:{share}" for name, share in shares.items()),
            }
        )
    return rows


CUTS = (
    ["06:00-08:30"],
    ["22:00-02:00"],
    ["06:15-08:45", "18:30-21:00"],
    ["05:30-11:15", "13:40-20:05"],
    ["02:00-03:00", "11:00-12:10", "16:30-17:00"],
    ["21:00-01:20", "08:00-10:00"],
    ["07:00-20:00"],
)
TYPED = ([1.5, 20], [4, 150], [0.5, 150], [9, 20], [9, 150], [20, 0.4], [20, 60], [50, 3])


@st.composite
def outages(draw: st.DrawFn, log: Table) -> dict[str, Any]:
    """The section of the site file; a log fills the table given."""
    form = draw(of(["typed", "log", "daily", "daily"]))
    if form == "daily":
        return {"daily": draw(of(CUTS)), "days_per_year": draw(of([12, 60, 200, 366]))}
    if form == "typed":
        return {"typed": draw(st.lists(of(TYPED), min_size=1, max_size=3))}
    at = datetime(2023, 1, 11, 17, 40)
    for _ in range(draw(st.integers(1, 5))):
        end = at + timedelta(minutes=draw(of([45, 150, 7, 465, 930, 1600, 4400])))
        log.append({"start": at.isoformat("T", "minutes"), "end": end.isoformat("T", "minutes")})
        at = end + timedelta(minutes=draw(of([300, 90125, 45000, 131415])))
    return {"log": "log.csv", "log_years": draw(of([2, 3, 1.5]))}


ROOMS = (
    {"min_degc": 15, "mean_degc": 18, "max_degc": 30},
    {"min_degc": 25, "mean_degc": 27, "max_degc": 36},
    {"min_degc": 5, "mean_degc": 18, "max_degc": 45},
    {"min_degc": -2, "mean_degc": 10, "max_degc": 25},
    {
        "min_degc": 12,
        "mean_degc": 25,
        "max_degc": 38,
        "monthly_degc": [16, 18, 22, 27, 31, 33, 32, 31, 28, 24, 20, 18],
    },
)
CONTRACTS = ([[900, 40], [2000, 190]], [[1500, 60], [2600, 310], [5000, 690]])
PEAKS = ([[2300, 12, 30]], [[1800, 40, 12], [2900, 8, 4]], [[2600, 90, 2]], [])


@st.composite
def limits(draw: st.DrawFn) -> dict[str, Any]:
    def rarely(*values: float) -> float | None:
        return draw(of([None] * 10 + list(values)))

    return {
        "budget": rarely(2500.0, 4000.0, 6000.0),
        "lifetime_budget": rarely(5000.0, 8000.0),
        "later_limit": draw(of([None] * 6 + [300.0, 900.0, 1800.0])),
        "max_bank_kg": rarely(120.0, 300.0),
        "max_parallel": rarely(1, 3),
        "voltages": draw(of([[12, 24, 48]] * 7 + [[12, 48]])),
        "exclude": draw(of([[]] * 9 + [["battery 0"], ["inverter 0"], ["wet"], ["iron"]])),
    }


@st.composite
def generator_rules(draw: st.DrawFn) -> dict[str, Any]:
    return {
        "quiet": draw(of([None, "21:00-7:00", "0:00-5:00", "22:00-02:00", "04:00-01:00"])),
        "start_after_h": draw(of([1, 2, 5])),
        "fuel_price": draw(of([1.8, 0.0])),
        "max_stored_l": draw(of([60, 12, 25])),
        "fuel_keeps_years": draw(of([1, 2, 3])),
    }


@st.composite
def site_files(draw: st.DrawFn) -> SiteFiles:
    """Any small site: one to four loads, one to four batteries, one to four inverters."""
    seasons = draw(of(SEASONS))
    voltages = draw(of([[12], [24], [48], [12, 24], [24, 48], [12, 24, 48]]))
    files = SiteFiles({}, {"chemistries": CHEMISTRIES, "cables": CABLES, "fuses": FUSES})
    tables = files.tables
    tables["loads"] = draw(loads(seasons))
    tables["inverters"] = draw(inverters(voltages))
    boxed = None
    if draw(of([False, False, False, True])):
        boxed = tables["inverters"][0]
        boxed["price"] = draw(of([0, 0, 150]))
    tables["batteries"] = draw(batteries(voltages, boxed))
    tables["works"] = draw(
        st.lists(of(WORKS), unique_by=lambda work: work["item"], min_size=1, max_size=8)
    )
    with_generator = draw(of([False, False, True]))
    if with_generator:
        tables["generators"] = draw(generators())
    max_hours = draw(of([20, 30, 40])) if with_generator else draw(st.integers(2, 14))
    tiers_kept = draw(of([{}, {}, {"wished": 2}, {"needed": 5, "wished": 1}]))
    kept = ("needed", "wished") if draw(of([True, True, False])) else ("needed",)
    if all(row["tier"] == "needed" for row in tables["loads"]):
        kept = ("needed",)
    log: Table = []
    files.document = {
        "site": {"name": "random", "currency": "EUR", "loads": "loads.csv", "catalog": "."},
        **({"seasons": seasons} if seasons else {}),
        "resilience": {
            "tiers": list(kept),
            "tier_hours": {tier: hours for tier, hours in tiers_kept.items() if tier in kept},
            "target_hours": draw(st.integers(1, max_hours)),
            "max_hours": max_hours,
            "design_margin": draw(of([0.0, 0.1])),
            "recharge_hours": draw(of([24, 48, 24, 8])),
            "load_growth": draw(of([0.0, 0.02, -0.03, 0.1, -0.15])),
            "coincidence": draw(of([1.0, 0.8])),
            "reference_efficiency": draw(of([0.88, 1.0])),
        },
        "outages": draw(outages(log)),
        "economics": {
            "horizon_years": draw(st.integers(1, 12)),
            "discount_rate": draw(of([0.03, 0.0, 0.08, -0.02])),
            "tariff": draw(of([0.3, 0.0])),
            "tax_rate": draw(of([0.0, 0.2])),
            "markup": draw(of([0.0, 0.15])),
            "residual_share": draw(of([1.0, 0.5, 0.0])),
            "min_service_share": draw(of([0.5, 0.0, 1.0, 0.25])),
        },
        "battery_room": {**draw(of(ROOMS)), "vented_allowed": draw(of([True, True, True, False]))},
        "wiring": {
            "battery_cable_m": draw(of([1.5, 4.0])),
            "max_drop": draw(of([0.03, 0.015])),
        },
        "limits": draw(limits()),
    }
    if log:
        tables["log"] = log
    if draw(of([False, True])):
        files.document["supply"] = {
            "voltage_v": draw(of([230, 120])),
            "contracts": draw(of(CONTRACTS)),
            "peaks": draw(of(PEAKS)),
        }
    if with_generator:
        files.document["generator"] = draw(generator_rules())
    return files


@st.composite
def falling_files(draw: st.DrawFn) -> SiteFiles:
    """Sites whose least cost falls somewhere as the hours grow.

    The same short load comes back every few hours. The window that holds one run and the quiet
    on both sides is the most uneven; an hour more catches the next run and evens it out, adding
    no energy to the heaviest window. Lead-acid of a high Peukert exponent makes the most of it.
    """
    files = draw(site_files())
    every_h = draw(of([3, 2, 4, 6, 8]))
    start, run = 30 * draw(st.integers(0, 2 * every_h - 1)), draw(of([60, 30, 90]))
    again = {
        "load": "again and again",
        "tier": "needed",
        "count": 1,
        "running_w": draw(of([250.0, 400.0, 700.0])),
        "power_factor": 1.0,
        "starting_w": "",
        "hours": ";".join(
            f"{clock(start + at)}-{clock(start + at + run)}"
            for at in range(0, 24 * 60, every_h * 60)
        ),
        "duty": 1.0,
        "seasons": "",
    }
    trickle = {**again, "load": "trickle", "running_w": 5.0, "hours": "0:00-24:00"}
    files.tables["loads"] = [again, trickle] if draw(st.booleans()) else [again]
    for row in files.tables["batteries"]:
        row |= {
            "peukert": draw(of([1.3, 1.45, 1.6])),
            "rate_h": draw(of([10.0, 20.0])),
            "discharge_rate_max": 2,
            "surge_rate_max": 4,
            "capacity_ah": row["capacity_ah"] / draw(of([1, 2, 4])),
            "max_parallel": 8,
        }
    resilience = files.document["resilience"]
    resilience |= {"tiers": ["needed"], "tier_hours": {}}
    files.document["limits"] |= {"max_parallel": None, "exclude": []}
    files.document["battery_room"]["vented_allowed"] = True
    return files


@st.composite
def limited_files(draw: st.DrawFn) -> SiteFiles:
    """Sites where money at the start decides which bank may come before a vented one.

    A sealed bank without upkeep, one that is cheaper to buy and dearer to keep, and a vented one
    whose price falls: it is worth waiting for, but its works are paid at the start.
    """
    files = draw(site_files())
    sealed = {
        **files.tables["batteries"][0],
        "battery": "sealed",
        "chemistry": "sealed",
        "float_life_years": draw(of([4.0, 6.5, 8.0])),
        "max_parallel": draw(of([3, 5])),
        "cold_points": "-10:0.6;25:1",
        "built_into": "",
        **dict.fromkeys(("voltage_v", "max_series"), 12),
        "absorption_v": "",
        "float_v": "",
    }
    dearer_to_keep = {
        **sealed,
        "battery": "sealed, cheaper now",
        "price": round(sealed["price"] * draw(of([0.95, 0.85, 0.7]))),
        "upkeep_year": round(sealed["price"] * draw(of([0.05, 0.1, 0.2])), 2),
    }
    vented = {
        **sealed,
        "battery": "vented",
        "chemistry": "wet",
        "price": round(sealed["price"] * draw(of([1.5, 1.0, 2.0]))),
        "price_drift": draw(of([-0.3, -0.2])),
    }
    files.tables["batteries"] = [sealed, dearer_to_keep, vented]
    locker = {
        "item": "gas-tight locker",
        "basis": "vented_bank",
        "price": draw(of([30.0, 60.0, 120.0])),
        "applies": "first",
    }
    works = [work for work in files.tables["works"] if work["basis"] != "vented_bank"]
    files.tables["works"] = [*works, locker]
    files.document["battery_room"]["vented_allowed"] = True
    files.document["limits"] |= {"exclude": [], "budget": None, "lifetime_budget": None}
    files.document["economics"]["horizon_years"] = draw(st.integers(5, 12))
    return files


@st.composite
def renewed_files(draw: st.DrawFn) -> SiteFiles:
    """Sites where something is bought again in a later year: lives shorter than the horizon."""
    files = draw(site_files())
    files.document["economics"]["horizon_years"] = draw(st.integers(5, 12))
    for row in (*files.tables["batteries"], *files.tables["inverters"]):
        column = "float_life_years" if "battery" in row else "life_years"
        row[column] = draw(of([4, 1.7, 3, 6.5, 12]))
    return files


@st.composite
def frequent_files(draw: st.DrawFn) -> SiteFiles:
    """Sites with cuts every day, where the time between them decides what may be offered.

    The wish for a refill is slack and chargers and banks take little, so that the hours until the
    next cut bind; lives are short, so that banks follow one another within a span.
    """
    files = draw(site_files())
    files.document["outages"] = {
        "daily": draw(of([*CUTS, ["01:00-09:30", "10:40-16:00", "18:00-23:10"]])),
        "days_per_year": draw(of([200, 300, 366, 60])),
    }
    files.tables.pop("log", None)
    files.document["resilience"] |= {
        "recharge_hours": draw(of([96, 240])),
        "load_growth": draw(of([0.1, 0.0, -0.1, 0.05])),
    }
    files.document["economics"]["min_service_share"] = draw(of([1.0, 0.5, 0.75, 0.0]))
    for row in files.tables["inverters"]:
        row["charger_a"] = draw(of([4, 7, 11, 16, 25, 40]))
    for row in files.tables["batteries"]:
        row |= {
            "charge_rate_max": draw(of([0.4, 0.1, 0.06, 0.15])),
            "charge_rate_min": 0,
            "charge_factor": draw(of([1.0, 1.1, 1.3])),
            "round_trip": draw(of([0.95, 0.6, 0.75])),
            "absorption_v": draw(of(["", 1.1, 1.25])),
            "float_life_years": draw(of([3, 1.7, 6.5, 12])),
            "surge_rate_max": 4,
        }
        if row["absorption_v"]:
            row["absorption_v"] *= draw(of([1.0, 1.02])) * nominal_v(row)
    return files


@st.composite
def night_files(draw: st.DrawFn) -> SiteFiles:
    """Sites beside a generator: nights to carry, days hardly long enough to put back."""
    files = draw(site_files())
    files.tables["generators"] = draw(generators())
    files.document["generator"] = draw(generator_rules())
    files.document["resilience"] |= {
        "max_hours": draw(of([16, 24, 30, 40])),
        "target_hours": 1,
        "recharge_hours": draw(of([96, 240])),
        "load_growth": draw(of([0.0, 0.1, -0.1, 0.03])),
    }
    for row in files.tables["generators"]:
        row["power_w"] = draw(of([700.0, 1000.0, 1400.0, 2200.0]))
        row |= {"power_va": 2 * row["power_w"], "surge_w": 4 * row["power_w"]}
        row["litres_h_full"] = round(row["power_w"] / 1500, 2)
        row["litres_h_idle"] = draw(of([0, 0.1, 0.2]))
    for row in files.tables["inverters"]:
        row["charger_a"] = draw(of([40, 100, 6, 12]))
    for row in files.tables["batteries"]:
        row |= {"charge_rate_min": 0, "max_parallel": 6}
        if row["charge_rate_max"]:
            row["charge_rate_max"] = draw(of([0.06, 0.1, 0.2]))
    files.document["limits"] |= {"max_parallel": None, "exclude": []}
    return files


def nominal_v(row: dict[str, Any]) -> int:
    return min((2, 3, 6, 8, 12, 24, 48), key=lambda volts: abs(volts * 1.03 - row["voltage_v"]))
