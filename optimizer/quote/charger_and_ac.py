"""Charger settings and the alternating-current side of the electrical sheet."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from optimizer.formulas.charging import charging_voltages, refill_hours
from optimizer.formulas.inverter import COMPUTER_HOLD_MS, keeps_computers_up
from optimizer.formulas.temperature import heat_factor
from optimizer.quote.figures import Figure, Given, Topic

if TYPE_CHECKING:
    from collections.abc import Iterator

    from optimizer.model.design import BankPeriod, Design
    from optimizer.model.job import Job

#: Rated currents of miniature circuit breakers [A] (IEC 60898-1, from memory).
BREAKERS_A: Final = (6, 10, 13, 16, 20, 25, 32, 40, 50, 63, 80, 100, 125)
#: A type B breaker trips at once at this many times its rating (IEC 60898-1, from memory).
TYPE_B_FACTOR: Final = 5.0


def charging_current_a(design: Design) -> float:
    """Return the charger current to set [A]: all that is there, or what the bank may take.

    Parameters
    ----------
    design : Design
        Its first bank counts.
    """
    bank = design.banks[0]
    most_a = bank.battery.charge_rate_max * bank.strings * bank.battery.capacity_ah
    return min(design.inverter_units * design.inverter.charger_a, most_a)


def charger_figures(job: Job, design: Design) -> Iterator[Figure]:
    """Yield the charger's settings."""
    bank, inverter, units = design.banks[0], design.inverter, design.inverter_units
    battery = bank.battery
    topic: Topic = "Charger settings"
    bank_ah = bank.strings * battery.capacity_ah
    offered_a, most_a = units * inverter.charger_a, battery.charge_rate_max * bank_ah
    set_a = charging_current_a(design)
    split = f"{set_a / units:.0f} A on each of {units} units. " if units > 1 else ""
    yield Figure(
        topic,
        "Charging current to set",
        set_a,
        "A",
        "the smaller of m · A and r_max · n · C",
        (
            Given("m · A", offered_a, "A"),
            Given("r_max", battery.charge_rate_max, "1/h"),
            Given("n · C", bank_ah, "Ah"),
        ),
        f"price list; r_max from {_origin(bank, 'charge_rate_max')}",
        split
        + ("Set the charger down to it." if most_a < offered_a else "The charger's full current."),
    )
    needed_a = bank_ah * max(
        battery.charge_rate_min, battery.charge_factor * battery.max_dod / job.site.recharge_hours
    )
    yield Figure(
        topic,
        f"Current that refills in {job.site.recharge_hours:g} h",
        needed_a,
        "A",
        "n · C · the larger of r_min and k · d / T",
        (
            Given("n · C", bank_ah, "Ah"),
            Given("r_min", battery.charge_rate_min, "1/h"),
            Given("k", battery.charge_factor),
            Given("d", battery.max_dod),
            Given("T", job.site.recharge_hours, "h"),
        ),
        "IEEE Std 946, without direct-current loads (from memory)",
        meets=set_a >= needed_a * (1 - 1e-9),
    )
    yield Figure(
        topic,
        "Refill from the lowest charge allowed",
        refill_hours(battery.max_dod * bank_ah, set_a, battery.charge_factor),
        "h",
        "k · d · n · C / I",
        (
            Given("k", battery.charge_factor),
            Given("d", battery.max_dod),
            Given("n · C", bank_ah, "Ah"),
            Given("I", set_a, "A"),
        ),
        "arithmetic",
        "The last part of a full charge is slower.",
    )
    yield from _voltages(bank)
    yield Figure(
        topic,
        "Lowest state of charge in an outage",
        (1 - battery.max_dod) * 100,
        "%",
        "1 − d",
        (Given("d", battery.max_dod),),
        _origin(bank, "max_dod"),
        "For the inverter's cut-off or a monitor's alarm.",
    )


def _voltages(bank: BankPeriod) -> Iterator[Figure]:
    battery = bank.battery
    topic: Topic = "Charger settings"
    nominal_v = bank.series * (
        battery.voltage_v if battery.gas == "none" else float(battery.class_v)
    )
    usual = charging_voltages(battery.chemistry, nominal_v)
    for place, (name, own_v) in enumerate(
        (("Absorption voltage", battery.absorption_v), ("Float voltage", battery.float_v))
    ):
        if own_v is not None:
            yield Figure(
                "Charger settings",
                name,
                bank.series * own_v,
                "V",
                "s · U of a unit",
                (Given("s", bank.series), Given("U", own_v, "V")),
                "the maker's, from the price list",
                _temperature_note(bank),
            )
        elif usual is not None:
            low_v, high_v = usual[place].low_v, usual[place].high_v
            yield Figure(
                "Charger settings",
                name,
                low_v if low_v == high_v else (low_v, high_v),
                "V",
                "cells · V per cell",
                (Given("nominal", nominal_v, "V"),),
                f"usual for {battery.chemistry} at 20–25 °C, from memory",
                "The maker's sheet prevails: set what it says.",
            )
        else:
            yield Figure(topic, name, "by the maker's sheet", source="not in the price list")


def _temperature_note(bank: BankPeriod) -> str:
    if bank.battery.gas == "none":
        return "Not compensated for temperature."
    return "At 20–25 °C; compensated as the maker says."


def _origin(bank: BankPeriod, field: str) -> str:
    return bank.battery.sources.get(field, "the price list")


def ac_figures(job: Job, design: Design, ac_voltage_v: float) -> Iterator[Figure]:
    """Yield the figures of the alternating-current side; ``ac_voltage_v`` line to neutral [V]."""
    inverter, units = design.inverter, design.inverter_units
    topic: Topic = "Alternating-current side"
    phases = inverter.phases or 1
    factor = heat_factor(inverter.power_w, inverter.power_w_40c, job.site.max_degc)
    hot = f"{job.site.max_degc:g} °C"
    yield Figure(
        topic,
        f"Continuous power at {hot}",
        units * inverter.power_w * factor,
        "W",
        "m · P · f",
        (Given("m", units), Given("P", inverter.power_w, "W"), Given("f", factor)),
        "price list; f a straight line from 25 to 40 °C (common practice)",
    )
    volt_amperes = units * inverter.power_va
    current_a = volt_amperes / (phases * ac_voltage_v)
    yield Figure(
        topic,
        "Output current" + (" of each phase" if phases > 1 else ""),
        current_a,
        "A",
        "m · S / (phases · U)",
        (
            Given("m · S", volt_amperes, "VA"),
            Given("phases", phases),
            Given("U", ac_voltage_v, "V"),
        ),
        "arithmetic",
        "" if inverter.phases else "The price list does not state the phases; one is taken.",
    )
    rating_a = next((size for size in BREAKERS_A if size >= current_a), None)
    yield Figure(
        topic,
        "Circuit breaker at the output",
        "above 125 A: fuses or a power breaker" if rating_a is None else float(rating_a),
        "" if rating_a is None else "A",
        "the next rated current ≥ I",
        (Given("I", current_a, "A"),),
        "rated currents of IEC 60898-1, from memory",
        "The cables behind it carry its rating; on the supply side by the maker's sheet.",
    )
    if rating_a is not None:
        yield _trip(design, phases, ac_voltage_v, rating_a)
    yield Figure(
        topic,
        "Residual-current device",
        "30 mA, behind the inverter",
        source="IEC 60364-4-41, clause 411.3.3 (from memory)",
        remark="On the essential circuits, so that it works with the grid and without. Type A at "
        "least; type B where the maker asks for it.",
    )
    yield Figure(
        topic,
        "Neutral–earth bond without the grid",
        "to be decided locally",
        source="IEC 60364-5-55, clause 551 (from memory)",
        remark="By the earthing of the local supply: made by the changeover when the grid is off, "
        "never twice at once; without it the 30 mA device may not trip.",
    )
    up = keeps_computers_up(inverter.transfer_ms)
    yield Figure(
        topic,
        "Transfer time",
        inverter.transfer_ms,
        "ms",
        f"≤ {COMPUTER_HOLD_MS:g} ms",
        (),
        "ITI (CBEMA) curve: no voltage for up to 20 ms",
        "Computers stay up." if up else "Computers may restart: give them a supply of their own.",
        meets=up,
    )
    yield Figure(
        topic,
        "The inverter's own use in an outage",
        units * inverter.no_load_w * 24 / 1000,
        "kWh a day",
        "m · P₀ · 24 / 1000",
        (Given("m", units), Given("P₀", inverter.no_load_w, "W")),
        "arithmetic",
    )


def _trip(design: Design, phases: int, ac_voltage_v: float, rating_a: int) -> Figure:
    surge_w = design.inverter_units * design.inverter.surge_w
    surge_a = surge_w / (phases * ac_voltage_v)
    enough = surge_a >= TYPE_B_FACTOR * rating_a
    return Figure(
        "Alternating-current side",
        "Largest output current without the grid",
        surge_a,
        "A",
        "m · P_surge / (phases · U)",
        (
            Given("m · P_surge", surge_w, "W"),
            Given("phases", phases),
            Given("U", ac_voltage_v, "V"),
        ),
        "arithmetic; type B trips at 5 × its rating (IEC 60898-1, from memory)",
        f"A B{rating_a} breaker trips at once from {TYPE_B_FACTOR * rating_a:g} A: "
        + ("reached." if enough else "not reached, so the 30 mA device must protect from shock."),
    )
