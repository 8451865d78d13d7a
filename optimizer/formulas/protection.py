"""Protection at mains voltage: breakers, the cables behind them, earthing and bonding conductors.

National rules differ from the tables here: each is to be checked against the current edition.
"""

from collections.abc import Sequence
from typing import Final

#: Rated currents of miniature circuit breakers [A] (IEC 60898-1, from memory).
BREAKERS_A: Final = tuple(map(float, (6, 10, 13, 16, 20, 25, 32, 40, 50, 63, 80, 100, 125)))
#: A type B breaker trips at once at this many times its rating (IEC 60898-1, from memory).
TYPE_B_FACTOR: Final = 5.0
#: Copper sections [mm²] and what they carry in conduit on a wall at 30 °C, two loaded conductors,
#: PVC [A] (IEC 60364-5-52, method B1, from memory; 25 mm² seen in a secondary source).
SECTIONS_A: Final = (
    (1.5, 17.5),
    (2.5, 24.0),
    (4.0, 32.0),
    (6.0, 41.0),
    (10.0, 57.0),
    (16.0, 76.0),
    (25.0, 101.0),
    (35.0, 125.0),
    (50.0, 151.0),
)
#: Sections of conductors as they are made [mm²] (IEC 60228).
SECTIONS_MM2: Final = (
    *(section for section, _ in SECTIONS_A),
    *(70.0, 95.0, 120.0, 150.0, 185.0, 240.0, 300.0, 400.0, 500.0, 630.0),
)
#: A surge protective device bears this many times the voltage to earth for good
#: (IEC 60364-5-53, from memory).
SURGE_VOLTAGE_FACTOR: Final = 1.1
#: A protective conductor of its own, not protected from harm, is no thinner [mm²]
#: (IEC 60364-5-54, seen in a secondary source).
_THINNEST_MM2: Final = 4.0
#: Up to the first, a protective conductor is as thick as its line; up to the second, as thick as
#: the first; beyond, half as thick [mm²] (the same).
_EQUAL_MM2, _LEVEL_MM2 = 16.0, 35.0
#: Main bonding conductors of copper: no thinner, and no need of a thicker one [mm²] (the same).
_BONDING_MM2 = 6.0, 25.0


def next_size(sizes: Sequence[float], least: float) -> float | None:
    """Return the smallest size that is no less than wanted, None where all are smaller.

    Parameters
    ----------
    sizes : sequence of float
        Rising.
    least : float
        What is wanted, in their unit.

    Returns
    -------
    float in [1.5, 630], or None

    Examples
    --------
    >>> next_size(BREAKERS_A, 17.0), next_size(BREAKERS_A, 126.0)
    (20.0, None)
    """
    return next((size for size in sizes if size >= least * (1 - 1e-9)), None)


def section_behind_mm2(rating_a: float) -> float | None:
    """Return the thinnest copper cable that a breaker protects, None beyond the table [mm²].

    Parameters
    ----------
    rating_a : float
        Of the breaker [A].

    Returns
    -------
    float in [1.5, 50], or None
        Two loaded conductors with PVC in conduit on a wall, 30 °C, not bundled. Source: IEC
        60364-5-52, method B1 (from memory).

    Examples
    --------
    >>> section_behind_mm2(16), section_behind_mm2(32), section_behind_mm2(200)
    (1.5, 4.0, None)
    """
    return next((section for section, carries_a in SECTIONS_A if carries_a >= rating_a), None)


def protective_conductor_mm2(line_mm2: float) -> float:
    """Return the least section of a protective conductor of copper [mm²].

    Parameters
    ----------
    line_mm2 : float
        Of the line conductor, all parallel runs together [mm²].

    Returns
    -------
    float in [4, 20000]
        As thick as the line up to 16 mm², 16 mm² up to 35 mm², then half of it, taken up to a
        section that is made; never below the 4 mm² of one laid apart and unprotected. Source: IEC
        60364-5-54, clause 543.1, seen in a secondary source.

    Examples
    --------
    >>> [protective_conductor_mm2(line) for line in (2.5, 10, 25, 35, 50, 70, 95)]
    [4.0, 10.0, 16.0, 16.0, 25.0, 35.0, 50.0]
    """
    if line_mm2 <= _EQUAL_MM2:
        least = line_mm2
    elif line_mm2 <= _LEVEL_MM2:
        least = _EQUAL_MM2
    else:
        least = line_mm2 / 2
    wanted = max(least, _THINNEST_MM2)
    return next_size(SECTIONS_MM2, wanted) or wanted


def bonding_conductor_mm2(earthing_mm2: float) -> float:
    """Return the least section of a main bonding conductor of copper [mm²].

    Parameters
    ----------
    earthing_mm2 : float
        Of the largest protective conductor [mm²].

    Returns
    -------
    float in [6, 25]
        Half of it, 6 mm² at least, 25 mm² being enough. Source: IEC 60364-5-54, clause 544.1, seen
        in a secondary source; with a combined neutral and earth, national rules ask for more.

    Examples
    --------
    >>> [bonding_conductor_mm2(earthing) for earthing in (4, 16, 25, 70)]
    [6.0, 10.0, 16.0, 25.0]
    """
    low, high = _BONDING_MM2
    wanted = min(high, max(low, earthing_mm2 / 2))
    return next_size(SECTIONS_MM2, wanted) or wanted
