"""Hydrogen from charging batteries: the air a room needs, its openings, and the distance kept."""

from typing import Literal

from optimizer.model.job import Gas

ChargingMode = Literal["float", "boost"]

#: Current that makes gas [mA/Ah] by gas kind and way of charging (IEC 62485-2, clause 7).
#: Per ampere-hour of rated capacity: tables that print it per 100 Ah are wrong by a hundred.
GASSING_MA_PER_AH: dict[tuple[Gas, ChargingMode], float] = {
    ("vented", "float"): 5.0,
    ("vented", "boost"): 20.0,
    ("valve_regulated", "float"): 1.0,
    ("valve_regulated", "boost"): 8.0,
    ("none", "float"): 0.0,
    ("none", "boost"): 0.0,
}

#: Air for each ampere-hour of gassing current [m³/Ah]: dilution 24 × hydrogen 0.42e-3 m³/Ah ×
#: safety factor 5, 0.0504 rounded by the standard (IEC 62485-2, clause 7).
AIR_M3_PER_AH = 0.05
#: Area of each opening for each flow of air [cm²·h/m³], and distance from sparks where a cubic root
#: of gassing current is 1 [mm] (IEC 62485-2, clause 7).
OPENING_CM2_H_PER_M3, SPARK_DISTANCE_MM = 28.0, 28.8


def gassing_ma_per_ah(gas: Gas, mode: ChargingMode) -> float:
    """Return the current that makes gas, for each ampere-hour of capacity [mA/Ah].

    Parameters
    ----------
    gas : {"vented", "valve_regulated", "none"}
        Kind of battery.
    mode : {"float", "boost"}
        Standing on float, or being charged at the absorption voltage.

    Returns
    -------
    float in [0, 20]
        Source: IEC 62485-2, clause 7.

    Examples
    --------
    >>> gassing_ma_per_ah("vented", "boost")
    20.0
    """
    return GASSING_MA_PER_AH[gas, mode]


def air_flow_m3_per_h(cells: int, capacity_ah: float, gassing_ma_per_ah: float) -> float:
    """Return the fresh air that keeps a battery room below the explosion limit [m³/h].

    Parameters
    ----------
    cells : int
        Cells in series.
    capacity_ah : float
        Capacity of all strings together [Ah].
    gassing_ma_per_ah : float
        Current that makes gas [mA/Ah].

    Returns
    -------
    float in [0, 1e8]
        Q = 0.05 · n · I_gas · C · 10⁻³. Source: IEC 62485-2, clause 7.

    Examples
    --------
    >>> round(air_flow_m3_per_h(24, 200, 20), 2)
    4.8
    """
    return AIR_M3_PER_AH * cells * gassing_ma_per_ah * capacity_ah / 1000


def opening_cm2(air_flow_m3_per_h: float) -> float:
    """Return the least free area of inlet and of outlet, each, for natural ventilation [cm²].

    Parameters
    ----------
    air_flow_m3_per_h : float
        Fresh air needed [m³/h].

    Returns
    -------
    float in [0, 2.8e9]
        A = 28 · Q. Source: IEC 62485-2, clause 7.

    Examples
    --------
    >>> round(opening_cm2(4.8), 1)
    134.4
    """
    return OPENING_CM2_H_PER_M3 * air_flow_m3_per_h


def safety_distance_mm(capacity_ah: float, gassing_ma_per_ah: float, cells: int = 1) -> float:
    """Return how far sparks and glowing parts stay from a battery's gas opening [mm].

    Parameters
    ----------
    capacity_ah : float
        Capacity of the block [Ah].
    gassing_ma_per_ah : float
        Current that makes gas [mA/Ah].
    cells : int
        Cells of one block, whose gas may leave by one opening.

    Returns
    -------
    float in [0, 4e5]
        d = 28.8 · ∛I_gas · ∛C · ∛N. Source: IEC 62485-2, clause 7 (from memory: the wording on the
        cells of a block is to be checked; all of them are counted, which is the cautious reading).

    Examples
    --------
    >>> round(safety_distance_mm(200, 20)), round(safety_distance_mm(100, 8, cells=6))
    (457, 486)
    """
    return float(SPARK_DISTANCE_MM * (gassing_ma_per_ah * capacity_ah * cells) ** (1 / 3))
