"""The circuit from the cells to the loads: every part once, sized, with the figures behind it."""

from optimizer.engine.works import gross
from optimizer.model.design import Design
from optimizer.model.job import Job
from optimizer.quote.circuit.direct import direct_parts
from optimizer.quote.circuit.mains import mains_parts
from optimizer.quote.circuit.parts import DIRECT_KINDS, Circuit, CircuitPart, Offered
from optimizer.quote.circuit.to_earth import earth_parts

__all__ = [
    "DIRECT_KINDS",
    "Circuit",
    "CircuitPart",
    "Offered",
    "make_circuit",
    "parts_price",
]


def parts_price(job: Job, design: Design) -> float:
    """Return what the circuit's other parts cost upfront, markup and tax included [currency].

    Designs are chosen without them: they come on top.
    """
    parts = make_circuit(job, design).priced_parts()
    return gross(job) * sum(part.quantity * ware.price for part, ware in parts)


def make_circuit(job: Job, design: Design) -> Circuit:
    """Return the circuit of what is put in place at the start."""
    bank = design.banks[0]
    mains = tuple(mains_parts(job, design))
    return Circuit(
        battery=bank.battery.battery,
        series=bank.series,
        strings=bank.strings,
        unit_v=bank.battery.voltage_v,
        voltage_v=design.voltage_v,
        inverter=design.inverter.inverter,
        inverter_units=design.inverter_units,
        parts=(*direct_parts(job, design), *mains, *earth_parts(design, mains)),
    )
