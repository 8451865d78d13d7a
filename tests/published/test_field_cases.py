"""Situations that people who do this work meet, each with the value of a right calculation.

All fifteen are public worked examples, restated and recomputed; where a value needs an assumption
it stands beside it.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from optimizer.engine.curve import Search
from optimizer.engine.demand import demand_of
from optimizer.engine.diagnosing import diagnose
from optimizer.engine.relaxations import Question
from optimizer.engine.variants import variant_of
from optimizer.engine.verify import checks, verify
from optimizer.engine.wear import discharges
from optimizer.errors import InternalError
from optimizer.formulas.ageing import cycles_to_end_of_life, service_life_years, wear_per_year
from optimizer.formulas.charging import charger_current_a, refill_hours
from optimizer.formulas.inverter import direct_current_a, drawn_wh
from optimizer.formulas.rate import fixed_time_share
from optimizer.formulas.temperature import cold_share
from optimizer.formulas.windows import windows
from optimizer.formulas.wiring import CONTINUOUS_FACTOR, choose_cable
from optimizer.model.design import CableRun
from optimizer.model.job import Cable
from optimizer.model.outages import Outages
from optimizer.model.requirement import Requirement
from optimizer.simulate import at_health, daily_balance, ride_through
from tests.published.parts import (
    FUSES,
    make_bank,
    make_battery,
    make_design,
    make_inverter,
    make_job,
    make_load,
    shipped,
)

# --- 1 The missing ageing and depth ----------------------------------------------------------


def charge_ah(energy_wh, efficiency, voltage_v):
    return drawn_wh(energy_wh, 1, efficiency, 0, 0) / voltage_v


def discharge_hours(capacity_ah, rate_h, peukert, current_a):
    """How long a constant current runs a battery flat: t = H · (C / (I · H))^k (Peukert 1897)."""
    return rate_h * (capacity_ah / (current_a * rate_h)) ** peukert


def depth_of(job, bank):
    """Hours, times a year and depth of the only outage."""
    [one] = discharges(job, bank, variant_of(job, demand_of(job)).events)
    return one.hours, one.times_a_year, one.depth


def in_the_way(question):
    """Return the requirements that alone stand in the way."""
    return [one.requirement for one in diagnose(question).hindrances if one.requirement]


def test_a_sum_that_is_right_and_a_bank_that_is_emptied_each_time():
    asked_ah = charge_ah(556 * 2, 0.8 * 0.8, 12) / 0.8
    assert asked_ah == pytest.approx(181, abs=0.5)
    current_a = direct_current_a(556, 0.8, 12)
    assert current_a == pytest.approx(58, abs=0.5)
    runs_h = discharge_hours(200, 20, 1.2, 58)
    assert runs_h == pytest.approx(2.43, abs=0.005)
    assert 2 / runs_h == pytest.approx(0.82, abs=0.005)


@pytest.mark.parametrize(
    ("times_a_year", "least_years", "most_years"), [(2, 6.5, 8.0), (365, 0.3, 0.7)]
)
def test_the_depth_is_said_and_what_it_does_to_the_life(times_a_year, least_years, most_years):
    job = make_job(
        make_load("equipment", 556),
        outages=Outages("typed", ((2.0, times_a_year),)),
        reference_efficiency=0.8,
    )
    battery = make_battery(
        "flooded", capacity_ah=200.0, peukert=1.2, max_dod=0.9, max_series=1, max_parallel=1
    )
    bank = make_bank(battery)
    hours, times, depth = depth_of(job, bank)
    assert (hours, times) == (2.0, times_a_year)
    assert depth == pytest.approx(2 / 2.43, abs=0.005)
    wear = times / float(cycles_to_end_of_life(depth, battery.cycle_points))
    life = float(service_life_years(battery.float_life_years, wear))
    assert least_years < life < most_years


# --- 2 The rule that is too short ------------------------------------------------------------


def test_a_common_answer_is_below_what_is_drawn():
    drawn_ah = charge_ah(290 * 5, 0.85, 12)
    assert drawn_ah == pytest.approx(142, abs=0.5)
    assert drawn_ah / 0.8 == pytest.approx(178, abs=0.5)
    assert drawn_ah / 0.5 == pytest.approx(284, abs=0.5)
    assert drawn_ah > 120


# --- 3 An existing bank judged ---------------------------------------------------------------


def test_an_existing_bank_misses_what_is_wanted():
    job = make_job(make_load("blower", 360))
    battery = make_battery(
        "flooded", voltage_v=6.0, class_v=6, capacity_ah=242.0, peukert=1.2, max_dod=0.5
    )
    design = make_design(make_bank(battery, 2, 2), efficiency=0.85)
    current_a = direct_current_a(360, 0.85, 12)
    assert current_a == pytest.approx(35.3, abs=0.05)
    assert 0.5 * 484 / current_a == pytest.approx(6.9, abs=0.05)
    new_h = at_health(job, design, 1.0).shortest
    aged_h = at_health(job, design, 0.8).shortest
    assert new_h == pytest.approx(6.4, abs=0.05)
    assert aged_h == pytest.approx(4.9, abs=0.05)
    # were the label's ampere-hours kept in the rate's term
    assert 0.8 * new_h == pytest.approx(5.1, abs=0.05)
    assert new_h < 7
    # the formula and the simulation share no code
    assert new_h == pytest.approx(0.5 * discharge_hours(484, 20, 1.2, current_a))


# --- 4 Low voltage, high current -------------------------------------------------------------


def test_low_voltage_takes_a_current_that_a_thin_cable_refuses():
    assert direct_current_a(3000, 0.85, 12) == pytest.approx(294, abs=0.5)
    lowest_a = direct_current_a(3000, 0.85, 10.5)
    assert lowest_a == pytest.approx(336, abs=0.5)
    assert CONTINUOUS_FACTOR * lowest_a == pytest.approx(420, abs=0.5)
    assert direct_current_a(3000, 0.85, 24) == pytest.approx(147, abs=0.5)
    assert direct_current_a(3000, 0.85, 48) == pytest.approx(74, abs=0.5)
    thin = Cable(section_mm2=16.0, ampacity_a=79.0, ohm_per_km=1.21, price_per_m=1.0)
    # four runs in parallel carry 316 A: refused even then
    run = choose_cable(
        [thin], FUSES, current_a=lowest_a, length_m=0.5, max_drop_v=1.0, system_v=12, room_degc=25
    )
    assert run is None
    design = replace(make_design(make_bank(make_battery())), wiring=CableRun(thin, 1, FUSES[3]))
    failed = [
        check.requirement
        for check in checks(make_job(make_load("oven", 3000)), design)
        if not check.met
    ]
    assert Requirement.WIRING in failed


# --- 5 Three days on lead at half depth ------------------------------------------------------


def test_three_days_on_half_depth():
    asked_ah = charge_ah(3 * 1520, 0.85, 24) / 0.5
    assert asked_ah == pytest.approx(447, abs=0.5)


# --- 6 A pump that needs power, not energy ---------------------------------------------------


def pump_job(starting_w: float = 14_400.0, discharge_rate_max: float = 1.0, surge_w: float = 2e4):
    """Six days of a pump that runs for minutes, on a bank of 1.5 kWh."""
    pump = make_load("pump", 2400, starting_w=starting_w, duty=230 / 2400 / 24)
    battery = make_battery(
        "lfp",
        voltage_v=51.2,
        class_v=48,
        capacity_ah=1500 / 51.2,
        discharge_rate_max=discharge_rate_max,
        max_dod=1.0,
        float_life_years=20.0,  # the pump is the matter here, not what the shelf takes
        self_discharge_month=0.0,
        max_parallel=1,
        surge_rate_max=20.0,
    )
    inverter = make_inverter(system_v=48, surge_w=surge_w)
    return make_job(pump, batteries=(battery,), inverters=(inverter,), max_hours=240)


def test_a_pumps_energy_is_small_and_its_current_is_not():
    demand = demand_of(pump_job())
    assert windows(demand.layers, 6 * 24).largest_wh == pytest.approx(1.4e3, abs=50)
    assert pytest.approx(1.8, abs=0.05) == 2400 / 0.90 / 1500
    assert demand.surge_w == pytest.approx(14_400)
    # the energy alone would do for five days, were the current free
    free = Search(pump_job(), lifted=frozenset({Requirement.DISCHARGE}))
    assert free.exists(5 * 24)


@pytest.mark.slow
def test_what_a_pump_fails_at_is_named():
    assert not Search(pump_job()).exists(24)
    assert in_the_way(Question(pump_job(), 24)) == [Requirement.DISCHARGE]
    # 1.8 per hour at the nominal voltage are 2.1 at the lowest, which is what must be given
    strong = pump_job(discharge_rate_max=2.2)
    assert Search(strong).exists(24)
    weak = pump_job(discharge_rate_max=2.2, surge_w=6000)
    assert in_the_way(Question(weak, 24)) == [Requirement.SURGE]
    # a soft starter: the same pump at three times its running power
    assert Search(pump_job(7200, 2.2, 7200)).exists(24)


# --- 7 A charger that cannot -----------------------------------------------------------------


def test_a_charger_that_takes_a_week():
    # two units in series: their ampere-hours do not add up
    assert refill_hours(80, 0.675, 1.2) == pytest.approx(142, abs=0.5)
    assert charger_current_a(80, 36, 1.2) == pytest.approx(2.7, abs=0.05)
    job = make_job(make_load("alarm", 10), recharge_hours=36)
    battery = make_battery(
        "agm", capacity_ah=80.0, charge_factor=1.2, max_dod=1.0, charge_rate_min=0.0
    )
    design = make_design(make_bank(battery, 2, 1), voltage_v=24, charger_a=0.675)
    refill = next(c for c in checks(job, design) if c.requirement is Requirement.REFILL)
    assert not refill.met
    assert refill.required == pytest.approx(2.67, abs=0.005)


# --- 8 Twelve hours off, twelve on -----------------------------------------------------------


def test_the_second_opinion_names_the_same_missing_amperes():
    cuts = Outages("daily", daily=((6.0, 18.0),), days_per_year=365.0)
    job = make_job(make_load("house", 300), outages=cuts)
    battery = make_battery(
        "flooded", capacity_ah=1000.0, round_trip=0.80, charge_factor=1.0, charge_rate_max=1.0
    )
    found = daily_balance(job, make_design(make_bank(battery), charger_a=15.0))
    assert found.kwh_drawn == pytest.approx(4.0)
    assert found.kwh_back == pytest.approx(5.0)
    assert found.watts_back == pytest.approx(417, abs=0.5)
    assert found.amps_missing == pytest.approx(14.8, abs=0.05)
    assert not found.closes
    assert daily_balance(job, make_design(make_bank(battery), charger_a=30.0)).closes


# --- 9 Cycle life into years -----------------------------------------------------------------


def test_cycles_and_years_add_up():
    asked_ah = charge_ah(15_750, 0.85, 48) / 0.5
    assert asked_ah == pytest.approx(772, abs=0.5)
    assert service_life_years(math.inf, 365 / 1200) == pytest.approx(3.3, abs=0.05)
    assert service_life_years(math.inf, 365 / 1700) == pytest.approx(4.7, abs=0.05)
    wear = wear_per_year(*(np.array([0.5]), np.array([20])), cycle_points=[(0.5, 1200)])
    assert float(service_life_years(10, wear)) == pytest.approx(8.6, abs=0.05)


# --- 10 Ampere-hours at the wrong rate -------------------------------------------------------


def test_a_label_at_the_hundred_hour_rate():
    share = float(fixed_time_share(9, 100, 1.17))
    assert share == pytest.approx(0.705, abs=0.0005)
    label_kwh = 48 * 4940 / 1000
    assert label_kwh == pytest.approx(237, abs=0.5)
    assert 118 / label_kwh == pytest.approx(0.50, abs=0.005)
    job = make_job(
        make_load("village", 118_000 / 9),
        outages=Outages("typed", ((9.0, 365.0),)),
        reference_efficiency=1.0,
    )
    battery = make_battery(
        "gel", voltage_v=48.0, class_v=48, capacity_ah=4940.0, rate_h=100.0, peukert=1.17,
        max_dod=0.8,
    )  # fmt: skip
    _, _, depth = depth_of(job, make_bank(battery))
    # at the mean current the label's half is two thirds: 0.50 · (0.50 · 100 / 9)^0.17
    assert depth == pytest.approx(0.6655, abs=0.00005)


# --- 13 Cold ---------------------------------------------------------------------------------


def cold_job(min_charge_degc: float, chemistry: str = "lfp"):
    battery = make_battery(chemistry, min_charge_degc=min_charge_degc, discharge_rate_max=1.0)
    return make_job(
        make_load("router", 20),
        batteries=(battery,),
        inverters=(make_inverter(),),
        min_degc=-3.0,
        mean_degc=8.0,
    )


def test_lithium_is_offered_in_frost_only_where_it_can_be_charged():
    assert shipped("lfp").min_charge_degc == 0
    assert not Search(cold_job(0.0)).exists(4)
    assert in_the_way(Question(cold_job(0.0), 4)) == [Requirement.COLD]
    # a heater, or a lower limit on the maker's sheet
    assert Search(cold_job(-20.0)).exists(4)
    assert Search(cold_job(shipped("agm").min_charge_degc, "agm")).exists(4)


def test_lead_in_frost():
    share = cold_share(shipped("flooded").cold_points, 0.0)
    assert share == pytest.approx(0.71, abs=0.005)
    # a handbook's 20 h column gives 80–85 %: milder than the default
    assert share < 0.80


# --- 14 Duty decides -------------------------------------------------------------------------


def radio_ah(count: int, transmitting: float) -> float:
    loads = [make_load("listening", 1.2 * 12, count=count, duty=max(1 - transmitting, 1e-12))]
    if transmitting:
        loads.append(make_load("transmitting", 13 * 12, count=count, duty=transmitting))
    layers = demand_of(make_job(*loads)).layers
    return charge_ah(windows(layers, 20).largest_wh, 1.0, 12)


def test_duty_decides():
    assert radio_ah(3, 0.0) == pytest.approx(72, abs=0.5)
    assert radio_ah(4, 0.20) == pytest.approx(285, abs=0.5)
    assert radio_ah(4, 0.20) / 0.5 == pytest.approx(570, abs=0.5)


# --- 15 Adding later -------------------------------------------------------------------------


def test_strings_of_one_bank_are_of_one_age():
    # new lead-acid strings beside old ones age as the old: a chain of banks holds one at a time,
    # and a second one beside it is refused
    job = make_job(make_load("lamp", 100))
    battery = make_battery("agm")
    old = make_bank(battery, strings=1, start=0, end=10)
    added = make_bank(battery, strings=1, start=4, end=10)
    mixed = make_design(old, added)
    with pytest.raises(InternalError, match="exactly one bank"):
        ride_through(job, mixed)
    with pytest.raises(InternalError, match="one bank at a time"):
        verify(job, mixed)
