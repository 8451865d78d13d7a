"""The sheet for whoever connects a design: its circuit, settings, place and cautions."""

from dataclasses import dataclass

from optimizer.model.design import Design
from optimizer.model.job import Job
from optimizer.quote.cautions import Caution, RoomNote, cautions, room_notes
from optimizer.quote.charger import charger_figures
from optimizer.quote.circuit import Circuit, make_circuit
from optimizer.quote.figures import Figure, Topic
from optimizer.quote.room import air_figures, floor_figures, room_figures


@dataclass(frozen=True, slots=True)
class Sheet:
    """The electrical sheet of one option.

    ``settings`` are the figures that belong to no part: of the charger, the floor, the air and the
    room.
    """

    circuit: Circuit
    settings: tuple[Figure, ...]
    room_notes: tuple[RoomNote, ...]
    cautions: tuple[Caution, ...]

    @property
    def figures(self) -> tuple[Figure, ...]:
        """All figures, those of the circuit's parts first."""
        return *self.circuit.figures, *self.settings

    def by_topic(self) -> dict[Topic, list[Figure]]:
        """Return the figures under their headings, in order."""
        found = {topic: [one for one in self.figures if one.topic is topic] for topic in Topic}
        return {topic: figures for topic, figures in found.items() if figures}


def electrical_sheet(job: Job, design: Design) -> Sheet:
    """Return the sheet for the bank and inverter set that are put in place at the start."""
    settings = (
        *charger_figures(job, design),
        *floor_figures(design),
        *air_figures(design),
        *room_figures(job, design),
    )
    circuit = make_circuit(job, design)
    return Sheet(circuit, settings, room_notes(design), cautions(job, design))
