"""Which sets refill which banks in time: within the hours, between cuts, and by a generator."""

import numpy as np

from optimizer.engine.banks import Banks
from optimizer.engine.events import scheduled_cuts
from optimizer.engine.generators import refill_by_day_wh
from optimizer.engine.inverter_sets import InverterSets
from optimizer.engine.variants import Variant
from optimizer.formulas.charging import charge_back_ah, charger_current_a
from optimizer.formulas.generator import CHARGER_EFFICIENCY
from optimizer.formulas.inverter import drawn_wh
from optimizer.formulas.tolerance import at_least
from optimizer.model.arrays import Bools, Floats
from optimizer.model.job import Job
from optimizer.model.requirement import Requirement

#: What rules a pair of a set and a bank out, apart from the day of a generator.
PAIR_REQUIREMENTS = frozenset(
    {Requirement.DISCHARGE, Requirement.START, Requirement.REFILL, Requirement.CUTS}
)


def charging_a(sets: InverterSets, banks: Banks) -> Floats:
    """Return what charges each bank behind each set [A], shape (sets, banks).

    A charger stronger than a bank takes is set down at commissioning.
    """
    return np.minimum(sets.charger_a[:, None], banks.accepts_a[None, :])


def compatible(
    variant: Variant, sets: InverterSets, banks: Banks, lifted: frozenset[Requirement]
) -> Bools:
    """Tell which banks each set can be wired to and charges in time, shape (sets, banks).

    Same voltage and box, currents at the peak and at a start, recharge time, scheduled cuts.
    """
    allowed = sets.voltage_v[:, None] == banks.voltage_v
    allowed &= sets.boxed[:, None] == (banks.built_into != "")
    for place in np.flatnonzero(sets.boxed):
        allowed[place] &= banks.built_into == sets.inverters[place].inverter
        allowed[place] &= banks.strings == sets.units[place]
    if Requirement.DISCHARGE not in lifted:
        allowed &= at_least(banks.discharge_a, sets.peak_current_a[:, None])
    if Requirement.START not in lifted:
        allowed &= at_least(banks.start_a, sets.start_current_a[:, None])
    if Requirement.REFILL not in lifted:
        allowed &= _recharges(variant.job, sets, banks)
    if Requirement.CUTS not in lifted and variant.job.outages.daily:
        allowed &= _between_cuts(variant, sets, banks)
    return np.asarray(allowed)


def refilled_by_day(variant: Variant, sets: InverterSets, banks: Banks) -> Bools:
    """Tell which pairs a generator refills between two nights, shape (sets, banks)."""
    night = variant.stretches(1)
    terminal_v = banks.charging_v / CHARGER_EFFICIENCY  # volts, as seen before the charger
    back_ah = _back_ah(variant, sets, banks, night.largest_wh, night.hours)
    given_wh = refill_by_day_wh(variant, charging_a(sets, banks) * terminal_v)
    return np.asarray(at_least(given_wh, back_ah * terminal_v))


def _recharges(job: Job, sets: InverterSets, banks: Banks) -> Bools:
    """Tell which pairs reach the least charging current, shape (sets, banks)."""
    rate = np.maximum(
        banks.column("charge_rate_min"),
        charger_current_a(
            banks.column("max_dod"), job.site.recharge_hours, banks.column("charge_factor")
        ),
    )
    return np.asarray(at_least(charging_a(sets, banks), rate * banks.capacity_ah))


def _between_cuts(variant: Variant, sets: InverterSets, banks: Banks) -> Bools:
    """Tell which pairs are full again before every next cut, shape (sets, banks)."""
    amps = charging_a(sets, banks)
    met = np.ones(amps.shape, dtype=bool)
    for cut in scheduled_cuts(variant.job, variant.demand):
        back_ah = _back_ah(variant, sets, banks, max(cut.energy_wh), cut.hours)
        met &= at_least(amps * cut.gap_h, back_ah)
    return met


def _back_ah(
    variant: Variant, sets: InverterSets, banks: Banks, energy_ac_wh: float, hours: float
) -> Floats:
    """Return the charge to be put back after a discharge of the largest year [Ah]."""
    drawn = drawn_wh(
        np.asarray(energy_ac_wh * variant.demand.growth),
        hours,
        sets.efficiency,
        sets.no_load_w,
        variant.job.site.design_margin,
    )
    most_ah = banks.capacity_ah * banks.column("max_dod")
    taken_ah = np.minimum(drawn[:, None] / banks.string_v, most_ah)
    return charge_back_ah(
        taken_ah,
        banks.column("charge_factor"),
        banks.string_v,
        banks.charging_v,
        banks.column("round_trip"),
    )
