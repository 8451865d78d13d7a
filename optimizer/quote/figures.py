"""A figure of the electrical sheet: what it is, its value, what it follows from."""

from collections.abc import Iterable, Iterator
from dataclasses import KW_ONLY, dataclass
from enum import StrEnum, auto
from typing import ClassVar, Final, TypeAlias

#: A number, from–to, or nothing where the figure is said in words.
Value: TypeAlias = float | tuple[float, float] | None


class State(StrEnum):
    """How far a part or figure is settled, the worst last."""

    SIZED = auto()
    NOT_YET_KNOWN = auto()
    BEYOND_LIMIT = auto()


def settled(*kept: bool | None) -> State:
    """Return the state by limits: each kept, not kept, or None where something is not stated."""
    if False in kept:
        return State.BEYOND_LIMIT
    return State.NOT_YET_KNOWN if None in kept else State.SIZED


def worst(states: Iterable[State | None]) -> State:
    """Return the worst of some states; sized where there is none."""
    order = list(State)
    return max((one for one in states if one), key=order.index, default=State.SIZED)


class Topic(StrEnum):
    """Under which heading a figure stands, in the order of the sheet."""

    BANK = auto()
    CURRENTS = auto()
    DC_CIRCUIT = auto()
    CHARGER = auto()
    AC_SIDE = auto()
    EARTH = auto()
    FLOOR = auto()
    AIR = auto()
    ROOM = auto()


class FigureKind(StrEnum):
    """What a figure is."""

    LAYOUT = auto()
    STRING_VOLTAGE = auto()
    RATED_CAPACITY = auto()
    ENERGY = auto()
    TORQUE = auto()
    NOMINAL_CURRENT = auto()
    RUNNING_CURRENT = auto()
    START_CURRENT = auto()
    LARGEST_CURRENT = auto()
    STRING_CURRENT = auto()
    STRING_CABLE = auto()
    STRING_FUSE = auto()
    STRING_FUSE_VOLTAGE = auto()
    STRING_FAULT = auto()
    STRING_ISOLATOR = auto()
    SHUNT = auto()
    MAIN_ISOLATOR = auto()
    BUSBAR = auto()
    FUSE = auto()
    FUSE_VOLTAGE = auto()
    SHORT_CIRCUIT = auto()
    CABLE = auto()
    VOLTAGE_DROP = auto()
    WARM_DROP = auto()
    PRE_CHARGE = auto()
    CHARGING_CURRENT = auto()
    LEAST_CHARGING_CURRENT = auto()
    NEEDED_CHARGING_CURRENT = auto()
    RECHARGE_TIME = auto()
    ABSORPTION_VOLTAGE = auto()
    ABSORPTION_TIME = auto()
    TAIL_CURRENT = auto()
    FLOAT_VOLTAGE = auto()
    COMPENSATION = auto()
    EQUALISING = auto()
    CUT_OFF = auto()
    LOWEST_STATE_OF_CHARGE = auto()
    HOT_POWER = auto()
    CHARGER_INPUT = auto()
    PASSED_THROUGH = auto()
    SUPPLY_CURRENT = auto()
    SERVICE_FUSE = auto()
    CONTRACT_CURRENT = auto()
    SUPPLY_BREAKER = auto()
    SURGE_PROTECTION = auto()
    GENERATOR_CURRENT = auto()
    GENERATOR_SWITCH = auto()
    OUTPUT_CURRENT = auto()
    BREAKER = auto()
    SURGE_CURRENT = auto()
    RCD = auto()
    TRANSFER_TIME = auto()
    OWN_USE = auto()
    NEUTRAL_BOND = auto()
    EARTHING_CONDUCTOR = auto()
    BONDING_CONDUCTOR = auto()
    DC_EARTH = auto()
    BANK_MASS = auto()
    FLOOR_PRESSURE = auto()
    FLOOR_AREA = auto()
    INVERTER_MASS = auto()
    NO_HYDROGEN = auto()
    FLOAT_AIR = auto()
    FLOAT_OPENING = auto()
    BOOST_AIR = auto()
    BOOST_OPENING = auto()
    SPARK_DISTANCE = auto()
    ROOM_TEMPERATURE = auto()
    LOWEST_TEMPERATURE = auto()


#: The first kind of each topic; kinds stand in the order of the sheet.
_FIRST: Final = {
    FigureKind.LAYOUT: Topic.BANK,
    FigureKind.NOMINAL_CURRENT: Topic.CURRENTS,
    FigureKind.STRING_CURRENT: Topic.DC_CIRCUIT,
    FigureKind.CHARGING_CURRENT: Topic.CHARGER,
    FigureKind.HOT_POWER: Topic.AC_SIDE,
    FigureKind.NEUTRAL_BOND: Topic.EARTH,
    FigureKind.BANK_MASS: Topic.FLOOR,
    FigureKind.NO_HYDROGEN: Topic.AIR,
    FigureKind.ROOM_TEMPERATURE: Topic.ROOM,
}


def _topics() -> Iterator[tuple[FigureKind, Topic]]:
    topic = Topic.BANK
    for kind in FigureKind:
        topic = _FIRST.get(kind, topic)
        yield kind, topic


#: Under which heading each kind stands.
TOPICS: Final = dict(_topics())


class Note(StrEnum):
    """What a figure means here, where that depends on the design."""

    BATTERY_CURRENT_UNKNOWN = auto()
    BREAKING_CAPACITY_UNKNOWN = auto()
    FUSE_BREAKS = auto()
    FUSE_BREAKS_LESS = auto()
    VOLTAGE_UNKNOWN = auto()
    NO_STRING_FUSE = auto()
    BEYOND_THE_BANK = auto()
    COLD_DROP_ONLY = auto()
    CHARGER_TURNED_DOWN = auto()
    CHARGER_IN_FULL = auto()
    MAKERS_VOLTAGE = auto()
    USUAL_VOLTAGE = auto()
    NO_EQUALISING = auto()
    NOT_COMPENSATED = auto()
    COMPENSATED = auto()
    LOWER_INPUT_LIMIT = auto()
    PASS_THROUGH_UNKNOWN = auto()
    SERVICE_FUSE_UNKNOWN = auto()
    OVER_SERVICE_FUSE = auto()
    ABOVE_TRANSFER_SWITCH = auto()
    WITH_THE_SUPPLY = auto()
    PHASES_UNKNOWN = auto()
    NO_BREAKER = auto()
    TRIPS = auto()
    DOES_NOT_TRIP = auto()
    COMPUTERS_STAY_UP = auto()
    COMPUTERS_RESTART = auto()
    SIZE_UNKNOWN = auto()
    SPREAD_THE_LOAD = auto()
    NOT_IN_SERVICE_YET = auto()


@dataclass(frozen=True, slots=True)
class Given:
    """An input of a formula: its symbol there, its value, its unit; None where not stated."""

    symbol: str
    value: float | str | None
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure.

    Parameters
    ----------
    kind : FigureKind
        What it is; formula and source go with it.
    value : float, (float, float) or None
        In ``unit``; a pair is from–to; None where it is said in words.
    unit : str
        Its unit.
    limit : float or None
        What it is held against, in its unit; None where nothing is, or it is not stated.
    inputs : tuple of Given
        What goes into the formula, or is told beside it.
    notes : tuple of Note
        What it means here.
    is_usual : bool
        Whether it is what is usual for the chemistry, the price list having no value of its own.
    state : State or None
        Whether a limit is kept, where there is one.
    """

    kind: FigureKind
    value: Value = None
    unit: str = ""
    _: KW_ONLY
    limit: float | None = None
    inputs: tuple[Given, ...] = ()
    notes: tuple[Note, ...] = ()
    is_usual: bool = False
    state: State | None = None

    also: ClassVar = ("topic",)

    @property
    def topic(self) -> Topic:
        """Under which heading it stands."""
        return TOPICS[self.kind]

    def given(self, symbol: str) -> float | str | None:
        """Return the value of an input."""
        return next(one.value for one in self.inputs if one.symbol == symbol)
