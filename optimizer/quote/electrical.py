"""The sheet for whoever connects a design: bank and direct-current circuit; the whole sheet."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby
from typing import TYPE_CHECKING

from optimizer.formulas.inverter import battery_current_a, direct_current_a
from optimizer.formulas.tolerance import at_least
from optimizer.formulas.wiring import CONTINUOUS_FACTOR, ampacity_a, voltage_drop_v
from optimizer.quote.cautions import Caution, RoomNote, cautions, room_notes
from optimizer.quote.charger_and_ac import ac_figures, charger_figures
from optimizer.quote.figures import Figure, FigureKind, Given, Note, Topic
from optimizer.quote.room import air_figures, floor_figures, room_figures

if TYPE_CHECKING:
    from collections.abc import Iterator

    from optimizer.model.design import CableRun, Design
    from optimizer.model.job import Fuse, Job
    from optimizer.quote.company import Company


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """What is drawn: ``strings`` in parallel, each of ``series`` units of ``unit_v`` [V].

    ``fuse_a`` is None where bank and inverter are one box without cable and fuse.
    """

    battery: str
    series: int
    strings: int
    unit_v: float
    voltage_v: int
    fuse_a: float | None
    cable_pairs: int
    cable_mm2: float


@dataclass(frozen=True, slots=True)
class Sheet:
    """The electrical sheet of one option."""

    layout: Layout
    figures: tuple[Figure, ...]
    room_notes: tuple[RoomNote, ...]
    cautions: tuple[Caution, ...]

    def by_topic(self) -> dict[Topic, list[Figure]]:
        """Return the figures under their headings, in order."""
        return {topic: list(found) for topic, found in groupby(self.figures, lambda one: one.topic)}


def electrical_sheet(job: Job, design: Design, company: Company) -> Sheet:
    """Return the sheet for the bank and inverter set that are put in place at the start.

    Parameters
    ----------
    job, design : Job, Design
        The site and what is connected.
    company : Company
        For the voltage of the supply.
    """
    bank, run = design.banks[0], design.wiring
    layout = Layout(
        battery=bank.battery.battery,
        series=bank.series,
        strings=bank.strings,
        unit_v=bank.battery.voltage_v,
        voltage_v=design.voltage_v,
        fuse_a=None if run is None else run.fuse.rating_a,
        cable_pairs=0 if run is None else run.runs,
        cable_mm2=0.0 if run is None else run.cable.section_mm2,
    )
    figures = (
        *_bank_figures(design),
        *_circuit_figures(job, design),
        *charger_figures(job, design),
        *ac_figures(job, design, company.ac_voltage_v),
        *floor_figures(design),
        *air_figures(design),
        *room_figures(job, design),
    )
    return Sheet(layout, figures, room_notes(design), cautions(design))


def _bank_figures(design: Design) -> Iterator[Figure]:
    bank = design.banks[0]
    battery = bank.battery
    series, strings = Given("s", bank.series), Given("n", bank.strings)
    volts, capacity = Given("U", battery.voltage_v, "V"), Given("C", battery.capacity_ah, "Ah")
    yield Figure(
        kind=FigureKind.LAYOUT, inputs=(series, strings, Given("battery", battery.battery))
    )
    yield Figure(
        kind=FigureKind.STRING_VOLTAGE,
        value=bank.series * battery.voltage_v,
        unit="V",
        inputs=(series, volts, Given("system", design.voltage_v, "V")),
    )
    yield Figure(
        kind=FigureKind.RATED_CAPACITY,
        value=bank.strings * battery.capacity_ah,
        unit="Ah",
        inputs=(strings, capacity, Given("rate", battery.rate_h, "h")),
    )
    yield Figure(
        kind=FigureKind.ENERGY,
        value=bank.units * battery.voltage_v * battery.capacity_ah / 1000,
        unit="kWh",
        inputs=(Given("s · n", bank.units), volts, capacity, Given("depth", battery.max_dod)),
    )


def _circuit_figures(job: Job, design: Design) -> Iterator[Figure]:
    inverter, units, run = design.inverter, design.inverter_units, design.wiring
    power_w, volts = units * inverter.power_w, float(design.voltage_v)
    current_a = battery_current_a(power_w, inverter.efficiency, volts)
    power = (
        Given("m · P", power_w, "W"),
        Given("η", inverter.efficiency),
        Given("U", volts, "V"),
    )
    yield Figure(
        kind=FigureKind.NOMINAL_CURRENT,
        value=direct_current_a(power_w, inverter.efficiency, volts),
        unit="A",
        inputs=power,
    )
    yield Figure(kind=FigureKind.LARGEST_CURRENT, value=current_a, unit="A", inputs=power)
    if run is not None:
        yield from _wiring_figures(job, design, run)
    strings = design.banks[0].strings
    if strings > 1:
        yield Figure(
            kind=FigureKind.STRING_CURRENT,
            value=current_a / strings,
            unit="A",
            inputs=(Given("I", current_a, "A"), Given("n", strings)),
        )


def _wiring_figures(job: Job, design: Design, run: CableRun) -> Iterator[Figure]:
    """Yield the cable and fuse of one inverter: each has its own."""
    inverter, volts = design.inverter, float(design.voltage_v)
    current_a = battery_current_a(inverter.power_w, inverter.efficiency, volts)
    wanted_a = CONTINUOUS_FACTOR * current_a
    carries_a = ampacity_a(run.cable, job.site.max_degc)
    together_a = run.runs * carries_a
    runs, current = Given("runs", run.runs), Given("I", current_a, "A")
    yield Figure(
        kind=FigureKind.CABLE,
        inputs=(
            Given("section", run.cable.section_mm2, "mm²"),
            runs,
            Given("ampacity", carries_a, "A"),
            current,
        ),
        meets=bool(at_least(together_a, wanted_a)),
    )
    drop_v = voltage_drop_v(job.site.battery_cable_m, run.cable.ohm_per_km, current_a, run.runs)
    allowed_v = job.site.max_drop * volts
    yield Figure(
        kind=FigureKind.VOLTAGE_DROP,
        value=drop_v,
        unit="V",
        inputs=(
            Given("l", job.site.battery_cable_m, "m"),
            Given("R′", run.cable.ohm_per_km, "Ω/km"),
            runs,
            current,
            Given("allowed", allowed_v, "V"),
        ),
        meets=bool(at_least(allowed_v, drop_v)),
    )
    rating_a = run.fuse.rating_a
    yield Figure(
        kind=FigureKind.FUSE,
        value=rating_a,
        unit="A",
        inputs=(Given("1.25 · I", wanted_a, "A"), Given("runs · ampacity", together_a, "A")),
        meets=bool(at_least(rating_a, wanted_a) and at_least(together_a, rating_a)),
    )
    yield _short_circuit(design, run.fuse)


def _short_circuit(design: Design, fuse: Fuse) -> Figure:
    bank = design.banks[0]
    unit_a, breaking = bank.battery.short_circuit_a, fuse.breaking_ka
    value = None if unit_a is None else bank.strings * unit_a / 1000
    meets = None
    if value is None:
        note = Note.BATTERY_CURRENT_UNKNOWN
    elif breaking is None:
        note = Note.BREAKING_CAPACITY_UNKNOWN
    else:
        meets = bool(at_least(breaking, value))
        note = Note.FUSE_BREAKS if meets else Note.FUSE_BREAKS_LESS
    return Figure(
        kind=FigureKind.SHORT_CIRCUIT,
        value=value,
        unit="kA",
        inputs=(
            Given("I_sc of a unit", unit_a, "A"),
            Given("n", bank.strings),
            Given("breaking capacity", breaking, "kA"),
        ),
        notes=(note,),
        meets=meets,
    )
