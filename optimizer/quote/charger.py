"""What is set on charger and inverter: currents, voltages, times, the low-voltage cut-off."""

import math
from collections.abc import Iterator

from optimizer.answers.bank_limits import bank_limits
from optimizer.answers.installed import existing_of, recharge_of
from optimizer.formulas import charging
from optimizer.formulas.tolerance import at_least
from optimizer.model.design import BankPeriod, Design
from optimizer.model.job import Job
from optimizer.quote.figures import Figure, FigureKind, Given, Note, State, settled


def charger_figures(job: Job, design: Design) -> Iterator[Figure]:
    """Yield the charger's settings."""
    bank, units, existing = design.banks[0], design.inverter_units, existing_of(design)
    battery, recharge, limits = bank.battery, recharge_of(job, existing), bank_limits(existing)
    bank_ah = bank.strings * battery.capacity_ah
    offered_a, set_a = units * design.inverter.charger_a, recharge.charger_a
    capacity, depth = Given("n · C", bank_ah, "Ah"), Given("d", battery.max_dod)
    factor, current = Given("k", battery.charge_factor), Given("I", set_a, "A")
    yield Figure(
        FigureKind.CHARGING_CURRENT,
        set_a,
        limit=limits.charge_most_a,
        inputs=(
            Given("m · A", offered_a, "A"),
            Given("r_max", battery.charge_rate_max, "1/h"),
            capacity,
            *([Given("each unit", set_a / units, "A")] if units > 1 else []),
        ),
        notes=(Note.CHARGER_TURNED_DOWN if set_a < offered_a else Note.CHARGER_IN_FULL,),
        is_usual="charge_rate_max" in battery.sources,
        state=State.SIZED,  # set to what the bank takes, at most
    )
    if battery.charge_rate_min > 0:
        yield Figure(
            FigureKind.LEAST_CHARGING_CURRENT,
            limits.charge_least_a,
            inputs=(Given("r_min", battery.charge_rate_min, "1/h"), capacity),
            is_usual="charge_rate_min" in battery.sources,
            state=settled(bool(at_least(set_a, limits.charge_least_a))),
        )
    yield Figure(
        FigureKind.NEEDED_CHARGING_CURRENT,
        recharge.needed_a,
        inputs=(factor, depth, capacity, Given("T", recharge.required_hours, "h")),
        state=settled(bool(at_least(set_a, recharge.needed_a))),
    )
    given = factor, depth, capacity, current
    yield Figure(FigureKind.RECHARGE_TIME, recharge.hours, inputs=given)
    yield from _voltages(bank)
    yield Figure(
        FigureKind.ABSORPTION_TIME,
        math.ceil(round(recharge.last_hours * 60, 6)) or None,  # it is set in whole minutes
        inputs=(factor, capacity, current),
    )
    low, high = charging.TAIL_CURRENT_SHARES[battery.gas]
    tail = Given("share", f"{low:.0%} – {high:.0%}")
    tail_a = low * bank_ah, high * bank_ah
    yield Figure(FigureKind.TAIL_CURRENT, tail_a, inputs=(capacity, tail))
    yield from _by_chemistry(bank)
    nominal_v = bank.series * battery.voltage_v
    yield Figure(
        FigureKind.CUT_OFF,
        limits.cut_off_v,
        inputs=(Given("nominal", nominal_v, "V"), depth),
        notes=(Note.USUAL_VOLTAGE,),
    )
    yield Figure(
        FigureKind.LOWEST_STATE_OF_CHARGE,
        (1 - battery.max_dod) * 100,
        inputs=(depth,),
        is_usual="max_dod" in battery.sources,
    )


def _nominal_v(bank: BankPeriod) -> float:
    """Return the voltage by which a string's cells are counted [V].

    Lead-acid is 2 V a cell, whatever a list rounds a unit's voltage to; of lithium a class of 24 V
    holds seven cells or eight, which only the unit's own voltage tells.
    """
    battery = bank.battery
    return bank.series * (battery.voltage_v if battery.gas == "none" else float(battery.class_v))


def _voltages(bank: BankPeriod) -> Iterator[Figure]:
    battery = bank.battery
    nominal_v = _nominal_v(bank)
    usual = charging.charging_voltages(battery.chemistry, nominal_v)
    heat = Note.NOT_COMPENSATED if battery.gas == "none" else Note.COMPENSATED
    for place, (kind, own_v) in enumerate(
        (
            (FigureKind.ABSORPTION_VOLTAGE, battery.absorption_v),
            (FigureKind.FLOAT_VOLTAGE, battery.float_v),
        )
    ):
        if own_v is not None:
            given = Given("s", bank.series), Given("U", own_v, "V")
            notes = Note.MAKERS_VOLTAGE, heat
            yield Figure(kind, bank.series * own_v, inputs=given, notes=notes)
        elif usual is not None:
            low_v, high_v = usual[place]
            yield Figure(
                kind,
                low_v if low_v == high_v else (low_v, high_v),
                inputs=(Given("nominal", nominal_v, "V"),),
                notes=(Note.USUAL_VOLTAGE,),
            )
        else:
            yield Figure(kind)


def _by_chemistry(bank: BankPeriod) -> Iterator[Figure]:
    """Yield what only some chemistries ask for."""
    battery = bank.battery
    cells = charging.cells_in_series(battery.chemistry, _nominal_v(bank))
    counted = Given("z", cells)
    steps = equal = None
    if cells is not None and battery.gas != "none":
        steps = charging.of_cells(charging.COMPENSATION_MV, cells)
    if cells is not None and battery.gas == "vented":
        equal = charging.of_cells(charging.EQUALISING_V, cells)
    yield Figure(
        FigureKind.COMPENSATION,
        steps,
        inputs=() if cells is None else (counted,),
        notes=(Note.NOT_COMPENSATED,) if battery.gas == "none" else (),
    )
    yield Figure(
        FigureKind.EQUALISING,
        equal,
        inputs=() if equal is None else (counted,),
        notes=(Note.NO_EQUALISING,) if battery.gas != "vented" else (),
    )
