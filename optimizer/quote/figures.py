"""A figure of the electrical sheet: what it is, its value, what it follows from."""

from collections.abc import Iterable, Mapping
from dataclasses import KW_ONLY, dataclass
from enum import StrEnum, auto
from typing import ClassVar, Self, TypeAlias

from optimizer.formulas.tolerance import at_least

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
    """What a figure is; each kind stands under one heading and has one unit."""

    topic: Topic
    unit: str

    def __new__(cls, name: str, topic: Topic, unit: str = "") -> Self:
        """Return the kind of a name, in the order of the sheet."""
        kind = str.__new__(cls, name)
        kind._value_, kind.topic, kind.unit = name, topic, unit
        return kind

    LAYOUT = "layout", Topic.BANK
    STRING_VOLTAGE = "string_voltage", Topic.BANK, "V"
    RATED_CAPACITY = "rated_capacity", Topic.BANK, "Ah"
    ENERGY = "energy", Topic.BANK, "kWh"
    TORQUE = "torque", Topic.BANK
    NOMINAL_CURRENT = "nominal_current", Topic.CURRENTS, "A"
    RUNNING_CURRENT = "running_current", Topic.CURRENTS, "A"
    START_CURRENT = "start_current", Topic.CURRENTS, "A"
    LARGEST_CURRENT = "largest_current", Topic.CURRENTS, "A"
    STRING_CURRENT = "string_current", Topic.DC_CIRCUIT, "A"
    STRING_CABLE = "string_cable", Topic.DC_CIRCUIT, "mm²"
    STRING_FUSE = "string_fuse", Topic.DC_CIRCUIT, "A"
    STRING_FUSE_VOLTAGE = "string_fuse_voltage", Topic.DC_CIRCUIT, "V"
    STRING_FAULT = "string_fault", Topic.DC_CIRCUIT, "kA"
    STRING_ISOLATOR = "string_isolator", Topic.DC_CIRCUIT, "A"
    SHUNT = "shunt", Topic.DC_CIRCUIT, "A"
    MAIN_ISOLATOR = "main_isolator", Topic.DC_CIRCUIT, "A"
    BUSBAR = "busbar", Topic.DC_CIRCUIT, "A"
    FUSE = "fuse", Topic.DC_CIRCUIT, "A"
    FUSE_VOLTAGE = "fuse_voltage", Topic.DC_CIRCUIT, "V"
    SHORT_CIRCUIT = "short_circuit", Topic.DC_CIRCUIT, "kA"
    CABLE = "cable", Topic.DC_CIRCUIT
    VOLTAGE_DROP = "voltage_drop", Topic.DC_CIRCUIT, "V"
    WARM_DROP = "warm_drop", Topic.DC_CIRCUIT, "V"
    PRE_CHARGE = "pre_charge", Topic.DC_CIRCUIT
    CHARGING_CURRENT = "charging_current", Topic.CHARGER, "A"
    LEAST_CHARGING_CURRENT = "least_charging_current", Topic.CHARGER, "A"
    NEEDED_CHARGING_CURRENT = "needed_charging_current", Topic.CHARGER, "A"
    RECHARGE_TIME = "recharge_time", Topic.CHARGER, "h"
    ABSORPTION_VOLTAGE = "absorption_voltage", Topic.CHARGER, "V"
    ABSORPTION_TIME = "absorption_time", Topic.CHARGER, "min"
    TAIL_CURRENT = "tail_current", Topic.CHARGER, "A"
    FLOAT_VOLTAGE = "float_voltage", Topic.CHARGER, "V"
    COMPENSATION = "compensation", Topic.CHARGER, "mV/°C"
    EQUALISING = "equalising", Topic.CHARGER, "V"
    CUT_OFF = "cut_off", Topic.CHARGER, "V"
    LOWEST_STATE_OF_CHARGE = "lowest_state_of_charge", Topic.CHARGER, "%"
    HOT_POWER = "hot_power", Topic.AC_SIDE, "W"
    CHARGER_INPUT = "charger_input", Topic.AC_SIDE, "A"
    PASSED_THROUGH = "passed_through", Topic.AC_SIDE, "A"
    SUPPLY_CURRENT = "supply_current", Topic.AC_SIDE, "A"
    SERVICE_FUSE = "service_fuse", Topic.AC_SIDE, "A"
    CONTRACT_CURRENT = "contract_current", Topic.AC_SIDE, "A"
    SUPPLY_BREAKER = "supply_breaker", Topic.AC_SIDE, "A"
    SURGE_PROTECTION = "surge_protection", Topic.AC_SIDE, "V"
    GENERATOR_CURRENT = "generator_current", Topic.AC_SIDE, "A"
    GENERATOR_SWITCH = "generator_switch", Topic.AC_SIDE, "A"
    OUTPUT_CURRENT = "output_current", Topic.AC_SIDE, "A"
    BREAKER = "breaker", Topic.AC_SIDE, "A"
    SURGE_CURRENT = "surge_current", Topic.AC_SIDE, "A"
    RCD = "rcd", Topic.AC_SIDE
    TRANSFER_TIME = "transfer_time", Topic.AC_SIDE, "ms"
    OWN_USE = "own_use", Topic.AC_SIDE, "kWh a day"
    NEUTRAL_BOND = "neutral_bond", Topic.EARTH
    EARTHING_CONDUCTOR = "earthing_conductor", Topic.EARTH, "mm²"
    BONDING_CONDUCTOR = "bonding_conductor", Topic.EARTH, "mm²"
    DC_EARTH = "dc_earth", Topic.EARTH
    BANK_MASS = "bank_mass", Topic.FLOOR, "kg"
    FLOOR_PRESSURE = "floor_pressure", Topic.FLOOR, "kN/m²"
    FLOOR_AREA = "floor_area", Topic.FLOOR, "m²"
    INVERTER_MASS = "inverter_mass", Topic.FLOOR, "kg"
    NO_HYDROGEN = "no_hydrogen", Topic.AIR
    FLOAT_AIR = "float_air", Topic.AIR, "m³/h"
    FLOAT_OPENING = "float_opening", Topic.AIR, "cm²"
    BOOST_AIR = "boost_air", Topic.AIR, "m³/h"
    BOOST_OPENING = "boost_opening", Topic.AIR, "cm²"
    SPARK_DISTANCE = "spark_distance", Topic.AIR, "mm"
    ROOM_TEMPERATURE = "room_temperature", Topic.ROOM, "°C"
    LOWEST_TEMPERATURE = "lowest_temperature", Topic.ROOM, "°C"


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
        In its kind's unit; a pair is from–to; None where it is said in words.
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
    _: KW_ONLY
    limit: float | None = None
    inputs: tuple[Given, ...] = ()
    notes: tuple[Note, ...] = ()
    is_usual: bool = False
    state: State | None = None

    also: ClassVar = ("unit", "topic")

    @property
    def unit(self) -> str:
        """Of its value, its limit, both."""
        return self.kind.unit

    @property
    def topic(self) -> Topic:
        """Under which heading it stands."""
        return self.kind.topic

    def given(self, symbol: str) -> float | str | None:
        """Return the value of an input."""
        return next(one.value for one in self.inputs if one.symbol == symbol)


def held(
    kind: FigureKind,
    value: float | None,
    limit: float | None,
    inputs: tuple[Given, ...],
    notes: Mapping[bool | None, Note] | None = None,
) -> Figure:
    """Return a figure that is to keep to a limit.

    ``notes`` say what it means where it does, where it does not, and where that is not known.
    """
    kept = None if value is None or limit is None else bool(at_least(limit, value))
    told = tuple(note for found, note in (notes or {}).items() if found is kept)
    return Figure(kind, value, limit=limit, inputs=inputs, notes=told, state=settled(kept))
