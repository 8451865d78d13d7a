"""Our units: how much of each there may be, and how it is called elsewhere."""

from typing import Final, NamedTuple


class Unit(NamedTuple):
    """A unit of ours.

    ``most`` holds where a field says nothing narrower: far beyond what stands in a house or a
    village. ``library`` is what the library of units calls it; ``others`` are what lists use.
    """

    most: float
    library: str = ""
    others: tuple[str, ...] = ()


#: American wire gauge, in place of a section.
AWG: Final = "AWG"
UNITS: Final = {
    "W": Unit(1e7, "watt", ("kW",)),
    "VA": Unit(1e7, "volt_ampere", ("kVA",)),
    "V": Unit(1e3, "volt"),
    "A": Unit(1e5, "ampere", ("mA", "kA")),
    "kA": Unit(1e3, "kiloampere", ("A",)),
    "Ah": Unit(1e5, "ampere_hour", ("mAh", "kWh")),
    "kg": Unit(1e5, "kilogram", ("g", "lb")),
    "m": Unit(1e4, "meter"),
    "mm": Unit(1e4, "millimeter", ("cm", "m", "in")),
    "mm²": Unit(1e4, "millimeter ** 2", (AWG,)),
    "Ω/km": Unit(1e3, "ohm / kilometer"),
    "°C": Unit(200, "degree_Celsius"),
    "K": Unit(200, "delta_degree_Celsius"),
    "h": Unit(1e4, "hour", ("min",)),
    "ms": Unit(1e5, "millisecond", ("s",)),
    "years": Unit(200, "year", ("months",)),
    "days": Unit(1e4, "day"),
    "l": Unit(1e5, "liter"),
    "l per hour": Unit(1e3, "liter / hour"),
    "strings": Unit(1e3),
    "": Unit(1e9),
}
