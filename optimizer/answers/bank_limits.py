"""What a bank that stands there asks of its surroundings and settings."""

from dataclasses import dataclass

from optimizer.formulas.charging import LEAD_CELL_V, cut_off_v
from optimizer.formulas.hydrogen import (
    air_flow_m3_per_h,
    gassing_ma_per_ah,
    opening_cm2,
    safety_distance_mm,
)
from optimizer.formulas.inverter import battery_current_a
from optimizer.formulas.wiring import CONTINUOUS_FACTOR
from optimizer.model.existing import Existing


@dataclass(frozen=True, slots=True, kw_only=True)
class BankLimits:
    """Currents, voltage and air of a bank.

    Parameters
    ----------
    discharge_a, start_a : float
        The most that may be drawn: continuously, and for the seconds of a start [A].
    charge_least_a, charge_most_a : float
        Charging current that it needs, and that it may take [A].
    largest_a : float
        What the inverters draw at full power and lowest voltage [A].
    string_a, string_fuse_a : float or None
        The same of each string if they share evenly, and the least rating of the fuse that each
        string then has of its own [A]; None where there is one string.
    cut_off_v : float or None
        Voltage under load at which the inverter is to stop [V]; None where not known.
    float_air_m3_per_h, boost_air_m3_per_h, opening_cm2, spark_distance_mm : float or None
        Fresh air on float and while charging [m³/h], the free area of inlet and of outlet, each
        [cm²], and how far sparks stay away [mm]; None where the bank gives off no gas.
    """

    discharge_a: float
    start_a: float
    charge_least_a: float
    charge_most_a: float
    largest_a: float
    string_a: float | None
    string_fuse_a: float | None
    cut_off_v: float | None
    float_air_m3_per_h: float | None
    boost_air_m3_per_h: float | None
    opening_cm2: float | None
    spark_distance_mm: float | None


def bank_limits(existing: Existing) -> BankLimits:
    """Return what a bank asks of its surroundings and settings."""
    battery, strings, inverter = existing.battery, existing.strings, existing.inverter
    capacity_ah, voltage_v = strings * battery.capacity_ah, float(existing.voltage_v)
    largest_a = battery_current_a(existing.units * inverter.power_w, inverter.efficiency, voltage_v)
    string_a = largest_a / strings if strings > 1 else None
    flows: list[float | None] = [None, None]
    distance_mm = None
    if battery.gas != "none":
        cells = round(voltage_v / LEAD_CELL_V)
        boost = gassing_ma_per_ah(battery.gas, "boost")
        flows = [
            air_flow_m3_per_h(cells, capacity_ah, gassing_ma_per_ah(battery.gas, "float")),
            air_flow_m3_per_h(cells, capacity_ah, boost),
        ]
        block = round(battery.class_v / LEAD_CELL_V)
        distance_mm = safety_distance_mm(battery.capacity_ah, boost, block)
    return BankLimits(
        discharge_a=battery.discharge_rate_max * capacity_ah,
        start_a=battery.start_rate_max * capacity_ah,
        charge_least_a=battery.charge_rate_min * capacity_ah,
        charge_most_a=battery.charge_rate_max * capacity_ah,
        largest_a=largest_a,
        string_a=string_a,
        string_fuse_a=None if string_a is None else CONTINUOUS_FACTOR * string_a,
        cut_off_v=cut_off_v(
            battery.chemistry, existing.series * battery.voltage_v, battery.max_dod
        ),
        float_air_m3_per_h=flows[0],
        boost_air_m3_per_h=flows[1],
        opening_cm2=None if flows[1] is None else opening_cm2(flows[1]),
        spark_distance_mm=distance_mm,
    )
