"""The battery cable of one inverter: what it carries, and the drop in cold and in warm copper."""

from __future__ import annotations

from typing import TYPE_CHECKING

from optimizer.formulas.inverter import battery_current_a
from optimizer.formulas.tolerance import at_least
from optimizer.formulas.wiring import (
    CONTINUOUS_FACTOR,
    ampacity_a,
    conductor_degc,
    copper_factor,
    voltage_drop_v,
)
from optimizer.quote.figures import Figure, FigureKind, Given, Note, State, settled

if TYPE_CHECKING:
    from collections.abc import Iterator

    from optimizer.model.design import CableRun, Design
    from optimizer.model.job import Job


def cable_figures(job: Job, design: Design, run: CableRun) -> Iterator[Figure]:
    """Yield what the cable of one inverter carries and loses."""
    inverter, volts, site = design.inverter, float(design.voltage_v), job.site
    current_a = battery_current_a(inverter.power_w, inverter.efficiency, volts)
    carries_a = ampacity_a(run.cable, site.max_degc)
    runs, current = Given("runs", run.runs), Given("I", current_a, "A")
    yield Figure(
        kind=FigureKind.CABLE,
        inputs=(
            Given("section", run.cable.section_mm2, "mm²"),
            runs,
            Given("ampacity", carries_a, "A"),
            current,
        ),
        state=settled(bool(at_least(run.runs * carries_a, CONTINUOUS_FACTOR * current_a))),
    )
    drop_v = voltage_drop_v(site.battery_cable_m, run.cable.ohm_per_km, current_a, run.runs)
    allowed_v = site.max_drop * volts
    allowed = Given("allowed", allowed_v, "V")
    yield Figure(
        kind=FigureKind.VOLTAGE_DROP,
        value=drop_v,
        unit="V",
        limit=allowed_v,
        inputs=(
            Given("l", site.battery_cable_m, "m"),
            Given("R′", run.cable.ohm_per_km, "Ω/km"),
            runs,
            current,
            allowed,
        ),
        state=settled(bool(at_least(allowed_v, drop_v))),
    )
    warm_degc = conductor_degc(run.cable, site.max_degc, current_a / run.runs)
    warm_v = drop_v * copper_factor(warm_degc)
    is_kept = bool(at_least(allowed_v, warm_v))
    yield Figure(
        kind=FigureKind.WARM_DROP,
        value=warm_v,
        unit="V",
        limit=allowed_v,
        inputs=(Given("drop", drop_v, "V"), Given("θ", warm_degc, "°C"), allowed),
        notes=() if is_kept else (Note.COLD_DROP_ONLY,),
        state=State.SIZED if is_kept else None,
    )
