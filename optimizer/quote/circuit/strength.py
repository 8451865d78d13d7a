"""What is drawn from a bank against what it allows: running, starting, at full power."""

from __future__ import annotations

from typing import TYPE_CHECKING

from optimizer.engine.demand import demand_of
from optimizer.engine.variants import variant_of_design
from optimizer.formulas.inverter import battery_current_a
from optimizer.formulas.tolerance import at_least
from optimizer.quote.figures import Figure, FigureKind, Given, Note, settled

if TYPE_CHECKING:
    from collections.abc import Iterator

    from optimizer.model.design import Design
    from optimizer.model.job import Job


def strength_figures(job: Job, design: Design) -> Iterator[Figure]:
    """Yield the currents of the bank, each with the bank's own limit."""
    battery, inverter = design.banks[0].battery, design.inverter
    bank_ah = design.banks[0].strings * battery.capacity_ah
    lasting_a, start_a = battery.discharge_rate_max * bank_ah, battery.start_rate_max * bank_ah
    demand = demand_of(job)
    running_w = max(demand.peak_w, variant_of_design(job, design, demand).largest_excess_w)
    full_w = design.inverter_units * inverter.power_w
    for kind, symbol, power_w, limit_a in (
        (FigureKind.RUNNING_CURRENT, "P_loads", running_w, lasting_a),
        (FigureKind.START_CURRENT, "P_start", demand.surge_w, start_a),
        (FigureKind.LARGEST_CURRENT, "m · P", full_w, lasting_a),
    ):
        current_a = battery_current_a(power_w, inverter.efficiency, float(design.voltage_v))
        is_kept = bool(at_least(limit_a, current_a))
        is_asked = kind is not FigureKind.LARGEST_CURRENT  # nothing surveyed draws so much
        yield Figure(
            kind=kind,
            value=current_a,
            unit="A",
            limit=limit_a,
            inputs=(
                Given(symbol, power_w, "W"),
                Given("η", inverter.efficiency),
                Given("U", float(design.voltage_v), "V"),
                Given("allowed by the bank", limit_a, "A"),
            ),
            notes=() if is_kept or is_asked else (Note.BEYOND_THE_BANK,),
            state=settled(is_kept) if is_asked else None,
        )
