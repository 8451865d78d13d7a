"""What inverters draw and motors ask at their start; chargers, and the voltages they hold."""

from __future__ import annotations

import math

import pytest

from optimizer import load
from optimizer.engine.demand import demand_of
from optimizer.formulas.charging import charger_current_a, charging_voltages, refill_hours
from optimizer.formulas.inverter import (
    drawn_wh,
    keeps_computers_up,
)
from tests.published.parts import make_job, make_load
from tests.published.table import Value, values

IEEE_946 = "IEEE Std 946, A = L + k·Q/T"
UPS_SHEET = "20 kVA UPS sheet in public"


@values(
    Value("40 W of idle draw over a day [Wh]", lambda: drawn_wh(0, 24, 0.9, 40, 0), "960",
          "watts × hours", "arithmetic"),
    Value("charger [A]", lambda: charger_current_a(200, 10, 1.1, 10), "32", IEEE_946, "arithmetic"),
    Value("UPS charger [A]", lambda: charger_current_a(171 * 1, 8, 1.15, 143), "167.6", UPS_SHEET,
          "secondary source"),
    Value("80 Ah at 0.675 A [h]", lambda: refill_hours(80, 0.675, 1.2), "142", "1.2·Q/A",
          "arithmetic"),
    Value("80 Ah in 36 h [A]", lambda: charger_current_a(80, 36, 1.2), "2.67", "1.2·Q/T",
          "arithmetic"),
)  # fmt: skip
def test_value(value):
    value.check()


def test_a_motor_draws_many_times_its_running_current():
    # 6.6 A running, 50 A locked rotor (secondary source): 7.6 times, above the 3–7 times of
    # other tables. The rule of the trade: the running sum and the largest single start
    pump = make_load("pump", 6.6 * 230, starting_w=50 * 230)
    fridges = make_load("refrigerator", 100, count=2, starting_w=600)
    demand = demand_of(make_job(pump, fridges))
    assert demand.peak_w == pytest.approx(6.6 * 230 + 200)
    assert demand.surge_w == pytest.approx(50 * 230 + 200)
    assert pump.starting_w / pump.running_w > 7


def test_the_rectifier_of_a_worked_example_is_the_next_on_the_shelf():
    # 50 Ah back in 2 h at 1.1 beside 6.4 A of load → 40 A chosen (published)
    needed_a = charger_current_a(50, 2, 1.1, 6.4)
    assert needed_a == pytest.approx(33.9)
    assert min(size for size in (10, 16, 25, 40, 63) if size >= needed_a) == 40


def test_refill_and_charger_are_one_formula():
    assert refill_hours(200, charger_current_a(200, 10, 1.1, 10), 1.1, 10) == pytest.approx(10)
    assert refill_hours(80, 5, 1.2, load_a=5) == math.inf


@pytest.mark.parametrize(
    ("chemistry", "absorption", "floating"),
    [
        # for each cell at 20–25 °C (from memory; the maker's sheet prevails), times the cells of
        # a 12 V unit (12.8 V of lithium)
        ("flooded", (14.40, 14.70), (13.38, 13.62)),
        ("agm", (14.40, 14.40), (13.50, 13.80)),
        ("gel", (14.10, 14.40), (13.50, 13.80)),
        ("lfp", (13.80, 14.40), (13.40, 13.60)),
    ],
)
def test_charging_voltages_of_a_unit(chemistry, absorption, floating):
    ranges = charging_voltages(chemistry, 12.8 if chemistry == "lfp" else 12.0)
    assert ranges == (pytest.approx(absorption), pytest.approx(floating))


@pytest.mark.slow
def test_the_demo_price_list_is_charged_within_or_just_below_the_usual_ranges():
    # a sheet may stay up to 0.02 V a cell outside what is usual, not more
    stated = [b for b in load("house").catalog.batteries if b.absorption_v is not None]
    assert stated
    for battery in stated:
        absorption, floating = charging_voltages(battery.chemistry, battery.voltage_v)
        slack_v = 0.02 * battery.voltage_v / 2
        assert absorption[0] - slack_v <= battery.absorption_v <= absorption[1] + slack_v
        assert floating[0] - slack_v <= battery.float_v <= floating[1] + slack_v


def test_computers_ride_through_twenty_milliseconds():
    # ITI (CBEMA) curve (published): no voltage for up to 20 ms
    assert keeps_computers_up(20)
    assert not keeps_computers_up(21)


def test_idle_draw_in_the_demo_price_list_is_of_the_usual_size():
    # 30–100 W is typical, 50 W for 5.5 kW (secondary source): small units draw less, and none
    # is free
    for inverter in load("house").catalog.inverters:
        assert 0.002 <= inverter.no_load_w / inverter.power_w <= 0.03
        assert inverter.no_load_w <= 100
