"""A part of the circuit, and the circuit that parts make."""

from collections.abc import Iterator
from dataclasses import KW_ONLY, dataclass, field
from enum import StrEnum, auto
from typing import ClassVar, Final

from optimizer.answers.purchases import Ware
from optimizer.model.job import Fuse
from optimizer.model.part import LISTED_KINDS, ListedPart, PartKind
from optimizer.model.shown import shown
from optimizer.quote.figures import Figure, State, worst

#: Kinds on the direct-current side.
DIRECT_KINDS: Final = frozenset(
    {
        PartKind.STRING_FUSE,
        PartKind.STRING_ISOLATOR,
        PartKind.SHUNT,
        PartKind.MAIN_ISOLATOR,
        PartKind.BUSBAR,
        PartKind.PRE_CHARGE,
    }
)


class Offered(StrEnum):
    """Whether a part's price is in the offer."""

    PRICED = auto()
    NOT_LISTED = auto()
    BY_LENGTH = auto()
    DECISION = auto()


#: Kinds run by the metre along ways nobody has measured yet, and decisions of the installer.
_NO_WARE: Final = {
    PartKind.STRING_CABLE: Offered.BY_LENGTH,
    PartKind.EARTHING_CONDUCTOR: Offered.BY_LENGTH,
    PartKind.BONDING_CONDUCTOR: Offered.BY_LENGTH,
    PartKind.NEUTRAL_BOND: Offered.DECISION,
    PartKind.DC_EARTH: Offered.DECISION,
}


@dataclass(frozen=True, slots=True)
class Rating:
    """What a part is rated for; ``is_least`` where it is what must be had, no part chosen yet."""

    value: float
    unit: str
    is_least: bool = False


@dataclass(frozen=True, slots=True)
class CircuitPart:
    """One part of the circuit.

    Parameters
    ----------
    kind : PartKind
        What it is.
    quantity : float
        Pieces, or metres where ``unit`` says so.
    rating : Rating or None
        What it is rated for; None where it is said in words.
    figures : tuple of Figure
        How its size follows.
    name : str
        Of the model, where it is one of the price list.
    ware : Battery, Inverter, Cable, Fuse, ListedPart or None
        The row of the price list that it is; None where it has none. The installer's.
    """

    also: ClassVar = ("state", "offered")

    kind: PartKind
    _: KW_ONLY
    quantity: float = 1
    unit: str = ""
    rating: Rating | None = None
    figures: tuple[Figure, ...] = ()
    name: str = ""
    ware: Ware | ListedPart | None = field(default=None, metadata=shown(hide=True))

    @property
    def state(self) -> State:
        """The worst of its figures'."""
        return worst(one.state for one in self.figures)

    @property
    def offered(self) -> Offered:
        """Whether its price is in the offer."""
        return Offered.PRICED if self.ware else _NO_WARE.get(self.kind, Offered.NOT_LISTED)


@dataclass(frozen=True, slots=True, kw_only=True)
class Circuit:
    """The circuit of one design.

    Parameters
    ----------
    series, strings : int
        Battery units in a string, and strings in parallel.
    unit_v : float
        Of one battery unit [V].
    voltage_v : int
        Of the system [V].
    inverter_units : int
        Inverters side by side.
    parts : tuple of CircuitPart
        From the cells to the loads, then what belongs to earth.
    """

    also: ClassVar = ("state",)

    battery: str
    series: int
    strings: int
    unit_v: float
    voltage_v: int
    inverter: str
    inverter_units: int
    parts: tuple[CircuitPart, ...]

    @property
    def state(self) -> State:
        """The worst of its parts'."""
        return worst(one.state for one in self.parts)

    @property
    def figures(self) -> Iterator[Figure]:
        """The figures of all parts."""
        for part in self.parts:
            yield from part.figures

    def part(self, kind: PartKind) -> CircuitPart | None:
        """Return the part of a kind, None where the circuit has none."""
        return next((one for one in self.parts if one.kind is kind), None)

    def priced_parts(self) -> Iterator[tuple[CircuitPart, ListedPart | Fuse]]:
        """Yield the parts that are in the table of parts, or by string in that of fuses."""
        own = {*LISTED_KINDS, PartKind.STRING_FUSE}
        for part in self.parts:
            if part.kind in own and isinstance(part.ware, ListedPart | Fuse):
                yield part, part.ware
