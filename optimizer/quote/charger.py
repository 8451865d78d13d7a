"""What is set on charger and inverter: currents, voltages, times, the low-voltage cut-off."""

from __future__ import annotations

from typing import TYPE_CHECKING

from optimizer.formulas.charging import (
    cells_in_series,
    charging_voltages,
    compensation_mv_per_degc,
    cut_off_v,
    equalising_voltage,
    last_part_hours,
    refill_hours,
    tail_current_shares,
)
from optimizer.formulas.tolerance import at_least
from optimizer.quote.figures import Figure, FigureKind, Given, Note, State, settled

if TYPE_CHECKING:
    from collections.abc import Iterator

    from optimizer.model.design import BankPeriod, Design
    from optimizer.model.job import Job


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
        limit=battery.charge_rate_max * bank_ah,
        state=State.SIZED,  # set to what the bank takes, at most
        is_usual="charge_rate_max" in battery.sources,
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
        state=settled(bool(at_least(set_a, needed_a))),
    )
    yield Figure(
        kind=FigureKind.RECHARGE_TIME,
        value=refill_hours(battery.max_dod * bank_ah, set_a, battery.charge_factor),
        unit="h",
        inputs=(factor, depth, capacity, Given("I", set_a, "A")),
    )
    yield from _voltages(bank)
    yield from _end_of_charge(bank, set_a)
    yield Figure(
        kind=FigureKind.LOWEST_STATE_OF_CHARGE,
        value=(1 - battery.max_dod) * 100,
        unit="%",
        inputs=(depth,),
        is_usual="max_dod" in battery.sources,
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


def _end_of_charge(bank: BankPeriod, set_a: float) -> Iterator[Figure]:
    """Yield how long the absorption voltage is held, and what else depends on the chemistry."""
    battery, bank_ah = bank.battery, bank.strings * bank.battery.capacity_ah
    is_lead = battery.gas != "none"
    factor, capacity = Given("k", battery.charge_factor), Given("n · C", bank_ah, "Ah")
    _, hours = last_part_hours(bank_ah, set_a, battery.charge_factor, gassing=is_lead)
    yield Figure(
        kind=FigureKind.ABSORPTION_TIME,
        value=hours,
        unit="h",
        inputs=(factor, capacity, Given("I", set_a, "A")),
    )
    low, high = tail_current_shares(battery.gas)
    yield Figure(
        kind=FigureKind.TAIL_CURRENT,
        value=(low * bank_ah, high * bank_ah),
        unit="A",
        inputs=(capacity, Given("share", f"{low:.0%} – {high:.0%}")),
    )
    string_v = bank.series * float(battery.class_v)
    cells = cells_in_series(battery.chemistry, string_v)
    steps = compensation_mv_per_degc(battery.gas, cells)
    yield Figure(
        kind=FigureKind.COMPENSATION,
        value=steps,
        unit="" if steps is None else "mV/°C",
        inputs=() if cells is None else (Given("z", cells),),
        notes=(Note.NOT_COMPENSATED,) if not is_lead else (),
    )
    equal = equalising_voltage(battery.gas, cells)
    yield Figure(
        kind=FigureKind.EQUALISING,
        value=None if equal is None else (equal.low_v, equal.high_v),
        unit="" if equal is None else "V",
        inputs=() if equal is None else (Given("z", cells),),
        notes=(Note.NO_EQUALISING,) if battery.gas != "vented" else (),
    )
    nominal_v = bank.series * battery.voltage_v
    yield Figure(
        kind=FigureKind.CUT_OFF,
        value=cut_off_v(battery.chemistry, nominal_v, battery.max_dod),
        unit="V",
        inputs=(Given("nominal", nominal_v, "V"), Given("d", battery.max_dod)),
        notes=(Note.USUAL_VOLTAGE,),
    )
