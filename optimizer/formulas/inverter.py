"""What an inverter draws from the bank, in energy and in amperes."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    from collections.abc import Sequence

    import numpy as np
    from numpy.typing import NDArray

    Quantity = TypeVar("Quantity", float, NDArray[np.float64])

#: Lowest battery voltage as a share of the system voltage: where currents are largest
#: (1.75–1.80 V a cell of 2 V; common practice).
LOWEST_VOLTAGE_SHARE = 0.90


def drawn_wh(
    energy_ac_wh: Quantity,
    hours: float,
    efficiency: Quantity,
    no_load_w: Quantity,
    design_margin: float,
) -> Quantity:
    """Return the energy an inverter set draws from the bank, margin included [Wh].

    Parameters
    ----------
    energy_ac_wh : float or ndarray
        Energy delivered to the loads [Wh].
    hours : float
        Time [h].
    efficiency : float or ndarray
        Marginal efficiency, (0, 1].
    no_load_w : float or ndarray
        Draw of all units without load [W].
    design_margin : float
        Share added on top.

    Examples
    --------
    >>> drawn_wh(900, 10, 0.9, 10, 0.1)
    1210.0
    """
    return (energy_ac_wh / efficiency + hours * no_load_w) * (1 + design_margin)


def battery_current_a(power_w: float, efficiency: Quantity, voltage_v: Quantity) -> Quantity:
    """Return the battery current at the lowest voltage [A].

    Parameters
    ----------
    power_w : float
        AC power [W].
    efficiency : float or ndarray
        Efficiency, (0, 1].
    voltage_v : float or ndarray
        System voltage [V]; 0.90 of it is taken as the lowest.

    Examples
    --------
    >>> round(battery_current_a(3000, 0.9, 24), 1)
    154.3
    """
    return power_w / efficiency / (LOWEST_VOLTAGE_SHARE * voltage_v)


def direct_current_a(power_w: float, efficiency: float, terminal_v: float) -> float:
    """Return the battery current at a given voltage of the bank [A].

    Parameters
    ----------
    power_w : float
        AC power [W].
    efficiency : float
        Efficiency, (0, 1].
    terminal_v : float
        Voltage at the battery's terminals at that moment [V].

    Examples
    --------
    >>> round(direct_current_a(3000, 0.85, 10.5))
    336
    """
    return power_w / efficiency / terminal_v


#: Weights of the efficiency at 5, 10, 20, 30, 50 and 100 % of rated power ("European
#: efficiency", EN 50530 from memory).
EU_WEIGHTS = (0.03, 0.06, 0.13, 0.10, 0.48, 0.20)


def eu_weighted_efficiency(efficiencies: Sequence[float]) -> float:
    """Return one efficiency for a curve: what a row of the price list should hold.

    Parameters
    ----------
    efficiencies : sequence of float
        At 5, 10, 20, 30, 50 and 100 % of rated power, 0…1.

    Notes
    -----
    Source: EN 50530 (from memory). The efficiency at full load, which sheets print large, is
    seldom it.

    Examples
    --------
    >>> round(eu_weighted_efficiency([0.80, 0.88, 0.92, 0.93, 0.94, 0.92]), 4)
    0.9246
    """
    return sum(w * e for w, e in zip(EU_WEIGHTS, efficiencies, strict=True))


#: Locked-rotor kVA for each horsepower by code letter: from, to (NEMA MG 1).
LOCKED_ROTOR_KVA_PER_HP = {
    "A": (0.0, 3.15),
    "B": (3.15, 3.55),
    "C": (3.55, 4.0),
    "D": (4.0, 4.5),
    "E": (4.5, 5.0),
    "F": (5.0, 5.6),
    "G": (5.6, 6.3),
    "H": (6.3, 7.1),
    "J": (7.1, 8.0),
    "K": (8.0, 9.0),
    "L": (9.0, 10.0),
    "M": (10.0, 11.2),
    "N": (11.2, 12.5),
}


def locked_rotor_va(power_hp: float, code_letter: str) -> tuple[float, float]:
    """Return the least and the most a motor draws at its start by its plate's letter [VA].

    Parameters
    ----------
    power_hp : float
        Power on the plate [hp].
    code_letter : {"A" … "N"}
        Code letter on the plate.

    Notes
    -----
    Source: NEMA MG 1.

    Examples
    --------
    >>> locked_rotor_va(10, "G")
    (56000.0, 63000.0)
    """
    low, high = LOCKED_ROTOR_KVA_PER_HP[code_letter]
    return low * power_hp * 1000, high * power_hp * 1000


#: Longest time without voltage that computers' power supplies must ride through [ms]
#: (ITI (CBEMA) curve).
COMPUTER_HOLD_MS = 20.0


def keeps_computers_up(transfer_ms: float) -> bool:
    """Tell whether a transfer of so many milliseconds passes unseen by computers.

    >>> keeps_computers_up(15), keeps_computers_up(35)
    (True, False)
    """
    return transfer_ms <= COMPUTER_HOLD_MS
