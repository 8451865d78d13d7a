"""Charger settings and the alternating-current side of the electrical sheet."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from optimizer.formulas.charging import charging_voltages, refill_hours
from optimizer.formulas.inverter import COMPUTER_HOLD_MS, keeps_computers_up
from optimizer.formulas.temperature import heat_factor
from optimizer.formulas.tolerance import at_least
from optimizer.quote.figures import Figure, FigureKind, Given, Note

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
    bank, units = design.banks[0], design.inverter_units
    battery, hours = bank.battery, job.site.recharge_hours
    bank_ah = bank.strings * battery.capacity_ah
    offered_a = units * design.inverter.charger_a
    set_a = charging_current_a(design)
    capacity, depth = Given("n · C", bank_ah, "Ah"), Given("d", battery.max_dod)
    factor = Given("k", battery.charge_factor)
    yield Figure(
        kind=FigureKind.CHARGING_CURRENT,
        value=set_a,
        unit="A",
        inputs=(
            Given("m · A", offered_a, "A"),
            Given("r_max", battery.charge_rate_max, "1/h"),
            capacity,
            *([Given("each unit", set_a / units, "A")] if units > 1 else []),
        ),
        origin=battery.sources.get("charge_rate_max"),
        notes=(Note.CHARGER_TURNED_DOWN if set_a < offered_a else Note.CHARGER_IN_FULL,),
    )
    needed_a = bank_ah * max(
        battery.charge_rate_min, battery.charge_factor * battery.max_dod / hours
    )
    yield Figure(
        kind=FigureKind.NEEDED_CHARGING_CURRENT,
        value=needed_a,
        unit="A",
        inputs=(
            capacity,
            Given("r_min", battery.charge_rate_min, "1/h"),
            factor,
            depth,
            Given("T", hours, "h"),
        ),
        meets=bool(at_least(set_a, needed_a)),
    )
    yield Figure(
        kind=FigureKind.RECHARGE_TIME,
        value=refill_hours(battery.max_dod * bank_ah, set_a, battery.charge_factor),
        unit="h",
        inputs=(factor, depth, capacity, Given("I", set_a, "A")),
    )
    yield from _voltages(bank)
    yield Figure(
        kind=FigureKind.LOWEST_STATE_OF_CHARGE,
        value=(1 - battery.max_dod) * 100,
        unit="%",
        inputs=(depth,),
        origin=battery.sources.get("max_dod"),
    )


def _voltages(bank: BankPeriod) -> Iterator[Figure]:
    battery = bank.battery
    nominal_v = bank.series * (
        battery.voltage_v if battery.gas == "none" else float(battery.class_v)
    )
    usual = charging_voltages(battery.chemistry, nominal_v)
    heat = Note.NOT_COMPENSATED if battery.gas == "none" else Note.COMPENSATED
    for place, (kind, own_v) in enumerate(
        (
            (FigureKind.ABSORPTION_VOLTAGE, battery.absorption_v),
            (FigureKind.FLOAT_VOLTAGE, battery.float_v),
        )
    ):
        if own_v is not None:
            yield Figure(
                kind=kind,
                value=bank.series * own_v,
                unit="V",
                inputs=(Given("s", bank.series), Given("U", own_v, "V")),
                notes=(Note.MAKERS_VOLTAGE, heat),
            )
        elif usual is not None:
            low_v, high_v = usual[place].low_v, usual[place].high_v
            yield Figure(
                kind=kind,
                value=low_v if low_v == high_v else (low_v, high_v),
                unit="V",
                inputs=(Given("nominal", nominal_v, "V"),),
                notes=(Note.USUAL_VOLTAGE,),
            )
        else:
            yield Figure(kind=kind, unit="V")


def ac_figures(job: Job, design: Design, ac_voltage_v: float) -> Iterator[Figure]:
    """Yield the figures of the alternating-current side; ``ac_voltage_v`` line to neutral [V]."""
    inverter, units = design.inverter, design.inverter_units
    count, phases = Given("m", units), inverter.phases or 1
    supply = (Given("phases", phases), Given("U", ac_voltage_v, "V"))
    factor = heat_factor(inverter.power_w, inverter.power_w_40c, job.site.max_degc)
    yield Figure(
        kind=FigureKind.HOT_POWER,
        value=units * inverter.power_w * factor,
        unit="W",
        inputs=(
            count,
            Given("P", inverter.power_w, "W"),
            Given("f", factor),
            Given("room, highest", job.site.max_degc, "°C"),
        ),
    )
    volt_amperes = units * inverter.power_va
    current_a = volt_amperes / (phases * ac_voltage_v)
    yield Figure(
        kind=FigureKind.OUTPUT_CURRENT,
        value=current_a,
        unit="A",
        inputs=(Given("m · S", volt_amperes, "VA"), *supply),
        notes=() if inverter.phases else (Note.PHASES_UNKNOWN,),
    )
    rating_a = next((size for size in BREAKERS_A if size >= current_a), None)
    yield Figure(
        kind=FigureKind.BREAKER,
        value=None if rating_a is None else float(rating_a),
        unit="A",
        inputs=(Given("I", current_a, "A"),),
        notes=(Note.NO_BREAKER,) if rating_a is None else (),
    )
    if rating_a is not None:
        surge_w = units * inverter.surge_w
        surge_a, trip_a = surge_w / (phases * ac_voltage_v), TYPE_B_FACTOR * rating_a
        yield Figure(
            kind=FigureKind.SURGE_CURRENT,
            value=surge_a,
            unit="A",
            inputs=(Given("m · P_surge", surge_w, "W"), *supply, Given("trip", trip_a, "A")),
            notes=(Note.TRIPS if surge_a >= trip_a else Note.DOES_NOT_TRIP,),
        )
    yield Figure(kind=FigureKind.RCD)
    yield Figure(kind=FigureKind.NEUTRAL_BOND)
    up = keeps_computers_up(inverter.transfer_ms)
    yield Figure(
        kind=FigureKind.TRANSFER_TIME,
        value=inverter.transfer_ms,
        unit="ms",
        inputs=(Given("limit", COMPUTER_HOLD_MS, "ms"),),
        notes=(Note.COMPUTERS_STAY_UP if up else Note.COMPUTERS_RESTART,),
        meets=up,
    )
    yield Figure(
        kind=FigureKind.OWN_USE,
        value=units * inverter.no_load_w * 24 / 1000,
        unit="kWh a day",
        inputs=(count, Given("P₀", inverter.no_load_w, "W")),
    )
