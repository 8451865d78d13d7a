"""The battery cable and its fuse."""

import math
from collections.abc import Sequence

from optimizer.formulas.tolerance import RELATIVE_TOLERANCE, at_least
from optimizer.model.design import CableRun
from optimizer.model.job import Cable, Fuse

#: Fuse and cable carry the continuous current times this (common practice for DC mains).
CONTINUOUS_FACTOR = 1.25
#: A fuse breaks at least this many times the system voltage: a bank on absorption stands 20 %
#: above it (common practice).
FUSE_VOLTAGE_FACTOR = 1.25
#: Temperature for which ampacities are stated [°C] (IEC 60364-5-52).
AMPACITY_DEGC = 30.0
#: Temperature for which resistances are stated [°C], and what copper gains for each degree above
#: it [1/°C] (IEC 60228).
_RESISTANCE_DEGC, COPPER_PER_DEGC = 20.0, 0.00393
#: Parallel runs tried, in this order.
RUNS = (1, 2, 3, 4)
#: Where copper melts [°C]: no conductor gets warmer.
_MELTS_DEGC = 1085.0
#: Gauges further from 0 are none, and their sections beyond what the loader takes.
_FURTHEST_GAUGE = 200


def voltage_drop_v(length_m: float, ohm_per_km: float, current_a: float, runs: int = 1) -> float:
    """Return the drop over a cable pair, there and back [V].

    Parameters
    ----------
    length_m : float
        One way [m].
    ohm_per_km : float
        Resistance of one conductor [Ω/km].
    current_a : float
        Current [A].
    runs : int
        Equal pairs in parallel.

    Returns
    -------
    float in [0, 1e26]

    Examples
    --------
    >>> round(voltage_drop_v(3, 0.554, 100), 3)
    0.332
    """
    return 2.0 * length_m * ohm_per_km / 1000.0 / runs * current_a


def ampacity_a(cable: Cable, room_degc: float) -> float:
    """Return what a cable carries in a room [A].

    Parameters
    ----------
    cable : Cable
        Its ampacity is stated for 30 °C.
    room_degc : float
        Highest temperature of the room [°C]; no credit is taken below 30 °C.

    Returns
    -------
    float in [0, 1e5]
        I = I₃₀ · √((conductor − room) / (conductor − 30)): the conductor's losses may heat it to
        the highest temperature that its insulation bears (the rule behind the temperature factors
        of IEC 60364-5-52).

    Examples
    --------
    >>> from optimizer.model.job import Cable
    >>> cable = Cable(section_mm2=50, ampacity_a=168, ohm_per_km=0.386, price_per_m=12.5)
    >>> round(ampacity_a(cable, 40), 1)
    145.5
    """
    left = (cable.conductor_degc - room_degc) / (cable.conductor_degc - AMPACITY_DEGC)
    return cable.ampacity_a * math.sqrt(min(1.0, max(0.0, left)))


def conductor_degc(cable: Cable, room_degc: float, current_a: float) -> float:
    """Return how warm a cable's copper gets [°C].

    Parameters
    ----------
    cable : Cable
        At its ampacity in that room it is as warm as its insulation bears.
    room_degc : float
        Temperature of the room [°C].
    current_a : float
        In one conductor [A].

    Returns
    -------
    float in [-40, 1085]
        θ = room + (conductor − room) · (I / ampacity)²: the losses grow with the square of the
        current (the rule behind the temperature factors of IEC 60364-5-52).

    Examples
    --------
    >>> from optimizer.model.job import Cable
    >>> cable = Cable(section_mm2=50, ampacity_a=168, ohm_per_km=0.386, price_per_m=12.5)
    >>> round(conductor_degc(cable, 30, 84))
    40
    """
    carries_a = ampacity_a(cable, room_degc)
    highest = max(cable.conductor_degc, room_degc)
    if carries_a <= 0:
        return highest
    warmed_degc = room_degc + (highest - room_degc) * (current_a / carries_a) ** 2
    return min(warmed_degc, _MELTS_DEGC)


def copper_factor(degc: float) -> float:
    """Return the resistance of copper over that at 20 °C (IEC 60228, from memory).

    >>> round(copper_factor(70), 2)
    1.2

    Returns
    -------
    float in [0.75, 5.2]
    """
    return 1 + COPPER_PER_DEGC * (degc - _RESISTANCE_DEGC)


def choose_cable(
    cables: Sequence[Cable],
    fuses: Sequence[Fuse],
    *,
    current_a: float,
    length_m: float,
    max_drop_v: float,
    system_v: float,
    room_degc: float,
) -> CableRun | None:
    """Return the first cable and fuse that fit, or None.

    One to four equal runs in turn, and within each the sections from the smallest: the first
    that carries 1.25 times the current, keeps the drop, and has a fuse between that current and
    its ampacity; the smallest such fuse. Thin single runs before bundles, not the cheapest: what
    an electrician would connect.

    Parameters
    ----------
    cables, fuses : sequence of Cable, of Fuse
        What is on offer, in any order.
    current_a : float
        Continuous current [A].
    length_m : float
        One way [m].
    max_drop_v : float
        Largest drop there and back [V].
    system_v : float
        Of the bank [V]; a fuse that states less than 1.25 times it is not offered.
    room_degc : float
        Highest temperature of the room [°C].

    Returns
    -------
    CableRun of runs in [1, 4], or None
    """
    wanted_a = CONTINUOUS_FACTOR * current_a * (1 - RELATIVE_TOLERANCE)
    rated = [
        fuse
        for fuse in fuses
        if fuse.rated_v is None or at_least(fuse.rated_v, FUSE_VOLTAGE_FACTOR * system_v)
    ]
    for runs in RUNS:
        for cable in sorted(cables, key=lambda cable: cable.section_mm2):
            carries_a = ampacity_a(cable, room_degc) * runs * (1 + RELATIVE_TOLERANCE)
            drop_v = voltage_drop_v(length_m, cable.ohm_per_km, current_a, runs)
            if carries_a < wanted_a or drop_v > max_drop_v * (1 + RELATIVE_TOLERANCE):
                continue
            fitting = [fuse for fuse in rated if wanted_a <= fuse.rating_a <= carries_a]
            if fitting:
                return CableRun(cable, runs, min(fitting, key=lambda fuse: fuse.rating_a))
    return None


def cable_price(run: CableRun, length_m: float) -> float:
    """Return the net price of cable (there and back, every run) and fuse.

    Returns
    -------
    float in [0, 1e15]
    """
    return run.runs * 2.0 * length_m * run.cable.price_per_m + run.fuse.price


def awg_section_mm2(gauge: str) -> float:
    """Return the section of an American wire gauge [mm²].

    Parameters
    ----------
    gauge : str
        The number, ``"4"``; thicker than 0 as zeros counted, ``"2/0"``.

    Returns
    -------
    float in [0, 1e22]
        d = 0.127 mm · 92^((36 − n) / 39), with n = 1 − zeros for "zeros/0". Source: ASTM B258.

    Examples
    --------
    >>> round(awg_section_mm2("4"), 2), round(awg_section_mm2("2/0"), 2)
    (21.15, 67.43)
    """
    number = 1 - int(gauge.removesuffix("/0")) if gauge.endswith("/0") else int(gauge)
    number = max(-_FURTHEST_GAUGE, min(_FURTHEST_GAUGE, number))
    diameter_mm = 0.127 * 92.0 ** ((36 - number) / 39)
    return float(math.pi / 4 * diameter_mm**2)
