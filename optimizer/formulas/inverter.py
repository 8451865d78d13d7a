"""What an inverter draws from the bank, in energy and in amperes."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from optimizer.model.arrays import Quantity

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

    Returns
    -------
    float or ndarray in [0, 1e17]

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

    Returns
    -------
    float or ndarray in [0, 1e24]

    Examples
    --------
    >>> round(battery_current_a(3000, 0.9, 24), 1)
    154.3
    """
    return direct_current_a(power_w, efficiency, LOWEST_VOLTAGE_SHARE * voltage_v)


def direct_current_a(power_w: float, efficiency: Quantity, terminal_v: Quantity) -> Quantity:
    """Return the battery current at a given voltage of the bank [A].

    Parameters
    ----------
    power_w : float
        AC power [W].
    efficiency : float or ndarray
        Efficiency, (0, 1].
    terminal_v : float or ndarray
        Voltage at the battery's terminals at that moment [V].

    Returns
    -------
    float or ndarray in [0, 1e24]

    Examples
    --------
    >>> round(direct_current_a(3000, 0.85, 10.5))
    336
    """
    return power_w / efficiency / terminal_v


#: Longest time without voltage that computers' power supplies must ride through [ms]
#: (ITI (CBEMA) curve).
COMPUTER_HOLD_MS = 20.0


def keeps_computers_up(transfer_ms: float) -> bool:
    """Tell whether a transfer of so many milliseconds passes unseen by computers.

    >>> keeps_computers_up(15), keeps_computers_up(35)
    (True, False)
    """
    return transfer_ms <= COMPUTER_HOLD_MS
