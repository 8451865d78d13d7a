"""The sheet for whoever connects a design: bank and direct-current circuit; the whole sheet."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from optimizer.formulas.inverter import LOWEST_VOLTAGE_SHARE, battery_current_a, direct_current_a
from optimizer.formulas.wiring import CONTINUOUS_FACTOR, ampacity_a, voltage_drop_v
from optimizer.quote.cautions import cautions, room_notes
from optimizer.quote.charger_and_ac import ac_figures, charger_figures
from optimizer.quote.figures import Figure, Given, Topic
from optimizer.quote.room import air_figures, floor_figures, room_figures

if TYPE_CHECKING:
    from collections.abc import Iterator

    from optimizer.model.design import CableRun, Design
    from optimizer.model.job import Fuse, Job
    from optimizer.quote.company import Company

_PRICE_LIST = "price list"
_CABLE_RULE = "common practice"
_CIRCUIT: Topic = "Direct-current circuit"


@dataclass(frozen=True, slots=True)
class Layout:
    """What is drawn: ``strings`` in parallel, each of ``series`` units of ``unit_v`` [V]."""

    battery: str
    series: int
    strings: int
    unit_v: float
    voltage_v: int
    fuse_a: float
    cable: str


@dataclass(frozen=True, slots=True)
class Sheet:
    """The electrical sheet of one option."""

    layout: Layout
    figures: tuple[Figure, ...]
    room_notes: tuple[str, ...]
    cautions: tuple[str, ...]

    def by_topic(self) -> dict[Topic, list[Figure]]:
        """Return the figures under their headings, in order."""
        found: dict[Topic, list[Figure]] = {}
        for figure in self.figures:
            found.setdefault(figure.topic, []).append(figure)
        return found


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
    cable, fuse_a = "none: one box", 0.0
    if run is not None:
        pairs = "1 pair" if run.runs == 1 else f"{run.runs} pairs"
        cable, fuse_a = f"{pairs} of {run.cable.section_mm2:g} mm²", run.fuse.rating_a
    layout = Layout(
        battery=bank.battery.battery,
        series=bank.series,
        strings=bank.strings,
        unit_v=bank.battery.voltage_v,
        voltage_v=design.voltage_v,
        fuse_a=fuse_a,
        cable=cable,
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
    topic: Topic = "Battery bank"
    units = "1 unit" if bank.units == 1 else f"{bank.units} units"
    yield Figure(
        topic,
        "Layout, series × parallel",
        f"{bank.series} × {bank.strings}: {units} of {battery.battery}",
        source="this design",
    )
    yield Figure(
        topic,
        "Voltage of a string",
        bank.series * battery.voltage_v,
        "V",
        "s · U",
        (Given("s", bank.series), Given("U", battery.voltage_v, "V")),
        _PRICE_LIST,
        f"System voltage {design.voltage_v} V.",
    )
    yield Figure(
        topic,
        "Rated capacity",
        bank.strings * battery.capacity_ah,
        "Ah",
        "n · C",
        (Given("n", bank.strings), Given("C", battery.capacity_ah, "Ah")),
        _PRICE_LIST,
        f"At the {battery.rate_h:g} h rate.",
    )
    yield Figure(
        topic,
        "Energy to flat, new, at the rated hours",
        bank.units * battery.voltage_v * battery.capacity_ah / 1000,
        "kWh",
        "s · n · U · C / 1000",
        (
            Given("s · n", bank.units),
            Given("U", battery.voltage_v, "V"),
            Given("C", battery.capacity_ah, "Ah"),
        ),
        "arithmetic",
        f"Drawn to {battery.max_dod * 100:g} % at most.",
    )


def _circuit_figures(job: Job, design: Design) -> Iterator[Figure]:
    inverter, units, run = design.inverter, design.inverter_units, design.wiring
    topic = _CIRCUIT
    power_w, volts = units * inverter.power_w, float(design.voltage_v)
    current_a = battery_current_a(power_w, inverter.efficiency, volts)
    power = (
        Given("m · P", power_w, "W"),
        Given("η", inverter.efficiency),
        Given("U", volts, "V"),
    )
    yield Figure(
        topic,
        "Current at full power, nominal voltage",
        direct_current_a(power_w, inverter.efficiency, volts),
        "A",
        "m · P / η / U",
        power,
        "arithmetic",
    )
    yield Figure(
        topic,
        "Current at full power, lowest voltage",
        current_a,
        "A",
        f"m · P / η / ({LOWEST_VOLTAGE_SHARE:.2f} · U)",
        power,
        "arithmetic; 0.90 · U: common practice",
        "Cable, fuse and isolators are chosen for it.",
    )
    if run is not None:
        yield from _wiring_figures(job, design, run)
    if design.banks[0].strings > 1:
        yield Figure(
            topic,
            "Current of one string, evenly shared",
            current_a / design.banks[0].strings,
            "A",
            "I / n",
            (Given("I", current_a, "A"), Given("n", design.banks[0].strings)),
            "arithmetic",
            "Strings of equal cable length, each with its own isolator and fuse.",
        )


def _wiring_figures(job: Job, design: Design, run: CableRun) -> Iterator[Figure]:
    """Yield the cable and fuse of one inverter: each has its own."""
    inverter, topic = design.inverter, _CIRCUIT
    volts = float(design.voltage_v)
    current_a = battery_current_a(inverter.power_w, inverter.efficiency, volts)
    wanted_a = CONTINUOUS_FACTOR * current_a
    carries_a = ampacity_a(run.cable, job.site.max_degc)
    together_a = run.runs * carries_a
    yield Figure(
        topic,
        "Battery cable, copper",
        f"{run.runs} × 2 × {run.cable.section_mm2:g} mm²",
        formula=f"runs · ampacity ≥ {CONTINUOUS_FACTOR:g} · I",
        inputs=(
            Given("runs", run.runs),
            Given("ampacity", carries_a, "A"),
            Given("I", current_a, "A"),
        ),
        source=f"{_CABLE_RULE}; ampacity from the {_PRICE_LIST}",
        remark="Runs in parallel: equal length, equal lugs.",
        meets=_reaches(together_a, wanted_a),
    )
    length_m = job.site.battery_cable_m
    drop_v = voltage_drop_v(length_m, run.cable.ohm_per_km, current_a, run.runs)
    yield Figure(
        topic,
        "Voltage drop, there and back",
        drop_v,
        "V",
        "2 · l · R′ / 1000 / runs · I",
        (
            Given("l", length_m, "m"),
            Given("R′", run.cable.ohm_per_km, "Ω/km"),
            Given("runs", run.runs),
            Given("I", current_a, "A"),
            Given("allowed", job.site.max_drop * volts, "V"),
        ),
        "arithmetic; R′ at 20 °C as in IEC 60228",
        meets=_reaches(job.site.max_drop * volts, drop_v),
    )
    yield Figure(
        topic,
        "Fuse at the bank",
        run.fuse.rating_a,
        "A",
        f"{CONTINUOUS_FACTOR:g} · I ≤ rating ≤ runs · ampacity",
        (Given("1.25 · I", wanted_a, "A"), Given("runs · ampacity", together_a, "A")),
        _CABLE_RULE,
        "For direct current, at the bank; in both poles where the code asks.",
        meets=_reaches(run.fuse.rating_a, wanted_a) and _reaches(together_a, run.fuse.rating_a),
    )
    yield _short_circuit(design, run.fuse)


def _short_circuit(design: Design, fuse: Fuse) -> Figure:
    bank = design.banks[0]
    unit_a = bank.battery.short_circuit_a
    breaking = fuse.breaking_ka
    inputs = (
        Given("I_sc of a unit", "not stated" if unit_a is None else unit_a, "A" if unit_a else ""),
        Given("n", bank.strings),
        Given(
            "breaking capacity", breaking if breaking else "not stated", "kA" if breaking else ""
        ),
    )
    value: float | str = "unknown"
    meets: bool | None = None
    if unit_a is None:
        remark = "Ask the maker for the battery's short-circuit current before choosing the fuse."
    elif breaking is None:
        value = bank.strings * unit_a / 1000
        remark = "The fuse's breaking capacity is not stated: it must be at least this."
    else:
        value = bank.strings * unit_a / 1000
        meets = _reaches(breaking, value)
        remark = (
            f"The fuse breaks {breaking:g} kA."
            if meets
            else f"The fuse breaks {breaking:g} kA only: take one that breaks more."
        )
    return Figure(
        "Direct-current circuit",
        "Short-circuit current of the bank",
        value,
        "kA" if isinstance(value, float) else "",
        "n · I_sc / 1000 ≤ breaking capacity",
        inputs,
        f"arithmetic; {_PRICE_LIST}",
        remark,
        meets,
    )


def _reaches(provided: float, required: float) -> bool:
    return provided >= required * (1 - 1e-9)
