"""A bank and inverter judged: situations with known answers, and each part of a judgement."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from optimizer import Existing, assess, choose, load
from optimizer.answers.assessment import AssessmentVerdict
from optimizer.answers.bank_limits import bank_limits
from optimizer.engine.check import CheckKind
from optimizer.errors import InputError
from optimizer.model.job import Cable, Fuse, Work
from optimizer.model.outages import Outages
from tests.unit.answers.standing import heavy_battery, roomy
from tests.unit.builders import make_battery, make_inverter, make_job, make_load, with_site


# Public worked example: 556 W for 2 h at 12 V behind an inverter of 0.8: 58 A. Arithmetic by
# Peukert's law: 200 Ah (20 h), exponent 1.2, last 2.43 h to flat at 58 A.
def test_hours_of_a_battery_drawn_to_flat():
    battery = heavy_battery()
    job, inverter = roomy(make_load("Pump", 556.0), battery=battery, target_hours=2)
    found = assess(job, Existing(inverter, 1, battery, 1, 12))
    new = found.hours[0].simulated
    assert new.shortest == pytest.approx(2.43, abs=0.005)
    assert 2 / new.shortest == pytest.approx(0.82, abs=0.005)  # share taken by one outage
    assert found.hours[0].planned_hours == 2


@pytest.mark.slow
def test_deep_outages_are_harmless_rarely_and_ruinous_daily():
    battery = heavy_battery()

    def life(times):
        job, inverter = roomy(
            make_load("Pump", 556.0), battery=battery, target_hours=2, yearly=((2.0, times),)
        )
        return assess(job, Existing(inverter, 1, battery, 1, 12)).life

    seldom, daily = life(2.0), life(365.0)
    assert seldom.years > 9
    assert seldom.calendar_share > 0.9
    assert daily.years < 1
    assert daily.cycle_share > 0.9
    assert daily.deepest.depth > 0.8


# Arithmetic: four 6 V 242 Ah (20 h) as 2 × 2 at 12 V, 360 W at 0.85 = 35.3 A, half depth:
# 6.4 h new with exponent 1.2, 4.9 h at 80 % health; 7 h wanted.
def test_two_strings_of_flooded_units_miss():
    battery = heavy_battery(voltage_v=6.0, class_v=6, capacity_ah=242.0, max_dod=0.5)
    inverter = make_inverter(efficiency=0.85, no_load_w=0.0)
    job, inverter = roomy(
        make_load("Blower", 360.0), battery=battery, inverter=inverter, target_hours=7
    )
    found = assess(job, Existing(inverter, 1, battery, 2, 12))
    new, _, end = found.hours
    assert new.simulated.shortest == pytest.approx(6.4, abs=0.05)
    assert (end.health, end.simulated.shortest) == (0.8, pytest.approx(4.9, abs=0.05))
    assert found.verdict is AssessmentVerdict.FAILS
    assert found.carries_years == 0
    energy = [check for check in found.failed if check.unit == "kWh"]
    assert (energy[0].kind, energy[0].hours) == (CheckKind.ENERGY_TODAY, 7)
    assert energy[-1].provided < energy[0].provided


# Arithmetic: two 80 Ah 12 V in series behind 0.675 A, factor 1.2: 142 h; 36 h take 2.7 A.
def test_a_charger_that_cannot():
    battery = make_battery(capacity_ah=80.0, charge_factor=1.2, max_dod=1.0)
    inverter = make_inverter(charger_a=0.675, system_v=24)
    job, inverter = roomy(
        make_load(), battery=battery, inverter=inverter, recharge_hours=36.0, target_hours=4
    )
    found = assess(job, Existing(inverter, 1, battery, 1, 24))
    assert found.recharge.hours == pytest.approx(142, abs=0.5)
    assert found.recharge.needed_a == pytest.approx(2.7, abs=0.05)
    assert [check.kind for check in found.failed] == [CheckKind.RECHARGE]
    assert found.verdict is AssessmentVerdict.FAILS


# Arithmetic: 4 strings of 126 Ah, 70 % deep, factor 1.15: 405.7 Ah; 96 h take 4.2 A and 24 h
# 16.9 A; a twentieth of the 504 Ah is 25.2 A. 20 A recharge in time and are too few all the same.
@pytest.mark.parametrize(("hours", "needed_a"), [(96.0, 4.226), (24.0, 16.905)])
def test_the_lowest_charging_current_is_not_the_time_to_recharge(hours, needed_a):
    battery = make_battery(
        capacity_ah=126.0, charge_factor=1.15, max_dod=0.7, charge_rate_min=0.05, max_parallel=4
    )
    job, inverter = roomy(
        make_load(),
        battery=battery,
        inverter=make_inverter(charger_a=20.0),
        recharge_hours=hours,
        target_hours=4,
    )
    found = assess(job, Existing(inverter, 1, battery, 4, 12))
    assert found.recharge.needed_a == pytest.approx(needed_a, abs=1e-3)
    (failed,) = found.failed
    assert failed.kind is CheckKind.LEAST_CHARGING_CURRENT
    assert (failed.required, failed.provided) == (pytest.approx(25.2), 20.0)
    (in_time,) = (check for check in found.checks if check.kind is CheckKind.RECHARGE)
    assert in_time.required == pytest.approx(needed_a, abs=1e-3)
    assert in_time.met


# Arithmetic: 300 W for 12 h at 0.90 = 4.0 kWh; at 0.80 5.0 kWh back in 12 h = 417 W = 29.8 A at
# 14 V; a charger of 15 A lacks 14.8 A.
def test_twelve_hours_off_and_twelve_on():
    battery = make_battery(
        capacity_ah=800.0, round_trip=0.8, charge_rate_max=1.0, charge_factor=1.0
    )
    inverter = make_inverter(efficiency=0.9, no_load_w=0.0, charger_a=15.0)
    job, inverter = roomy(
        make_load("House", 300.0),
        battery=battery,
        inverter=inverter,
        target_hours=12,
        recharge_hours=240.0,
    )
    cuts = Outages("daily", daily=((6.0, 18.0),), days_per_year=365.0)
    found = assess(replace(job, outages=cuts), Existing(inverter, 1, battery, 1, 12))
    balance = found.simulation.balance
    assert balance.kwh_drawn == pytest.approx(4.0)
    assert balance.watts_back == pytest.approx(417, abs=0.5)
    assert balance.amps_missing == pytest.approx(14.8, abs=0.05)
    assert CheckKind.SCHEDULED_CUTS_CLOSE in {check.kind for check in found.failed}
    assert found.verdict is AssessmentVerdict.FAILS


def test_cuts_that_the_charger_keeps_up_with_but_the_bank_does_not():
    battery = make_battery(capacity_ah=100.0, charge_rate_max=1.0)
    job, inverter = roomy(make_load("House", 300.0), battery=battery, target_hours=1)
    cuts = Outages("daily", daily=((6.0, 18.0),), days_per_year=365.0)
    found = assess(replace(job, outages=cuts), Existing(inverter, 1, battery, 1, 12))
    assert found.simulation.balance.closes
    assert CheckKind.SCHEDULED_CUTS_CARRIED in {check.kind for check in found.failed}


# Arithmetic: 15.75 kWh a day / 0.85 at 48 V and half depth: 772 Ah. 1,200 cycles alone last 3.3
# years at one a day, 1,700 last 4.7; 20 a year with a float life of 10 years add up to 8.6.
@pytest.mark.parametrize(
    ("cycles", "times", "cycle_years", "years"),
    [(1200.0, 365.0, 3.3, None), (1700.0, 365.0, 4.7, None), (1200.0, 20.0, 60.0, 8.6)],
)
def test_cycle_life_into_years(cycles, times, cycle_years, years):
    battery = make_battery(
        voltage_v=48.0, class_v=48, capacity_ah=772.0, cycle_points=((0.5, cycles),), max_dod=0.8
    )
    inverter = make_inverter(system_v=48, efficiency=0.85, no_load_w=0.0)
    job, inverter = roomy(
        make_load("House", 15750 / 24),
        battery=battery,
        inverter=inverter,
        yearly=((24.0, times),),
        reference_efficiency=0.85,
    )
    life = assess(job, Existing(inverter, 1, battery, 1, 48)).life
    assert life.cycle_years == pytest.approx(cycle_years, abs=0.05)
    assert life.calendar_share + life.cycle_share == pytest.approx(1.0)
    if years is not None:
        assert life.years == pytest.approx(years, abs=0.05)


def plain_bank(age=0.0, paid=None, **changes):
    battery = make_battery(**changes)
    return battery, Existing(make_inverter(), 1, battery, 1, 12, age, paid)


# Arithmetic: (100 W / 0.9 + 10 W) · 4 h = 484 Wh of 600 Wh when new: the health needed is 0.807. A
# bank that loses 0.02 a year, 2 years old, has it after 7 years (0.82) and lacks it after 8 (0.80).
def test_meets_for_now_until_the_health_needed_is_gone():
    battery, existing = plain_bank(age=2.0)
    job = make_job(batteries=[battery], yearly=())
    found = assess(job, existing)
    assert (found.verdict, found.carries_years) == (AssessmentVerdict.MEETS_FOR_NOW, 7)
    assert (found.life.years, found.life.deepest) == (pytest.approx(10.0), None)
    (short,) = found.failed
    assert (short.kind, short.hours, short.year) == (CheckKind.ENERGY, 4, 7)
    assert found.failed[0].required == pytest.approx((100 / 0.9 + 10) * 4 / 1000)
    assert found.failed[0].provided == pytest.approx(0.8 * 0.6)
    assert [round(stage.health, 3) for stage in found.hours] == [1.0, 0.96, 0.8]
    assert [stage.planned_hours for stage in found.hours] == [4, 4, 3]


def test_loads_that_grow_count():
    battery, existing = plain_bank(age=2.0)
    job = make_job(batteries=[battery], yearly=(), load_growth=0.02)
    assert assess(job, existing).carries_years == 4  # 1.02^4 · 444 + 40 > 0.86 · 600 at the fifth


def test_meets_to_the_end():
    battery, existing = plain_bank()
    found = assess(make_job(batteries=[battery]), existing, hours=3)
    assert found.verdict is AssessmentVerdict.MEETS
    assert found.failed == ()
    assert found.carries_years == found.design.banks[0].end


def test_hours_are_bounded():
    battery, existing = plain_bank()
    with pytest.raises(InputError, match="whole hours from 1 to 240"):
        assess(make_job(batteries=[battery]), existing, hours=0)


def test_money_set_aside_is_a_sinking_fund_without_interest():
    battery, existing = plain_bank(age=3.5)
    job = make_job(batteries=[battery], yearly=((1.0, 1e-6),))
    bank, inverter = assess(job, existing).set_aside
    assert (bank.price, bank.years, bank.yearly) == (100.0, 6, pytest.approx(100 / 6))
    assert (inverter.price, inverter.years) == (500.0, 7)
    assert inverter.yearly == pytest.approx(500 / 7)


def test_money_set_aside_pays_for_all_works_of_the_next_bank():
    battery, existing = plain_bank(mass_kg=20.0)
    existing = replace(existing, strings=3)
    works = [
        *(Work("Fuse", "parallel_string", 7.0, "both"), Work("Link", "string", 5.0, "swap")),
        *(Work("Lift", "kg", 2.0, "both"), Work("Wire", "battery_unit", 11.0, "first")),
    ]
    job = make_job(batteries=[battery], works=works, yearly=((1.0, 1e-6),))
    bank, _ = assess(job, existing).set_aside
    price = existing.series * 3 * (battery.price + 2.0 * battery.mass_kg) + 3 * (7.0 + 5.0)
    assert bank.price == pytest.approx(price)


@pytest.mark.slow
def test_distance_of_a_design_from_the_curve_is_nothing():
    job = load("house").with_site(contracts=(), peaks=(), generator=None)
    design = choose(job, hours=24).design
    found = assess(job, design, hours=24)
    assert found.verdict is AssessmentVerdict.MEETS
    distance = found.distance
    assert distance.hours == design.hours
    assert distance.upfront_cost == pytest.approx(design.upfront_cost)
    assert distance.least.life_cycle_cost == pytest.approx(design.life_cycle_cost)
    assert distance.life_cycle_cost == pytest.approx(design.life_cycle_cost)
    assert distance.by_upfront.hours >= design.hours
    assert distance.by_life_cycle.hours >= design.hours
    assert found.simulation.verdict.holds


def test_what_was_paid_takes_the_place_of_the_price():
    battery, existing = plain_bank(paid=1000.0)
    job = make_job(batteries=[battery])
    paid = assess(job, existing).distance
    plain = assess(job, replace(existing, paid=None)).distance
    assert paid.upfront_cost == 1000.0
    extra = 1000.0 - plain.upfront_cost
    assert paid.life_cycle_cost - plain.life_cycle_cost == pytest.approx(extra)


def test_limits_of_money_play_no_part():
    battery, existing = plain_bank()
    job = make_job(batteries=[battery], budget=1.0, lifetime_budget=1.0)
    free = make_job(batteries=[battery])
    least = assess(job, existing).distance.least
    assert least.life_cycle_cost == assess(free, existing).distance.least.life_cycle_cost


def test_a_bank_for_no_whole_hour_is_compared_at_the_target():
    _, existing = plain_bank(capacity_ah=10.0, discharge_rate_max=20.0)
    job = make_job(batteries=[make_battery("Big", capacity_ah=200.0)])
    distance = assess(job, existing).distance
    assert (distance.carried, distance.hours) == (False, 4)
    assert distance.least.hours >= 4


def test_a_bank_that_lasts_less_than_a_year_costs_what_all_that_follow_it_cost():
    """100 cycles a year of 20, and a tenth of wear by time: 10 · 5.1 = 51 banks of 100 in all."""
    battery, existing = plain_bank(cycle_points=((0.5, 20.0),))
    found = assess(make_job(batteries=[battery], yearly=((4.0, 100.0),)), existing)
    assert found.life.years < 1
    banks = math.ceil(10 / found.life.years)
    assert found.distance.life_cycle_cost >= banks * battery.price
    assert found.distance.life_cycle_cost == pytest.approx(found.distance.least.life_cycle_cost)


def test_older_than_it_lasts_is_taken_for_what_it_then_holds():
    battery, existing = plain_bank(age=11.0)
    found = assess(make_job(batteries=[battery], yearly=()), existing, hours=1)
    assert found.life.years == pytest.approx(10.0)
    assert found.life.left_years == 0
    now, end = found.hours[1], found.hours[2]
    lost_a_year = (1 - battery.end_of_life_soh) / found.life.years
    assert now.health == pytest.approx(1 - 11 * lost_a_year)
    assert 0 < now.simulated.shortest < end.simulated.shortest
    assert (found.verdict, found.carries_years) == (AssessmentVerdict.MEETS, 1)


def test_a_bank_worn_past_nothing_carries_nothing():
    battery, existing = plain_bank(age=60.0)
    found = assess(make_job(batteries=[battery]), existing)
    assert found.hours[1].health == 0
    assert found.hours[1].planned_hours == 0
    assert found.hours[1].simulated.shortest == pytest.approx(0, abs=0.001)
    assert found.verdict is AssessmentVerdict.FAILS


def test_a_measured_capacity_stands_in_place_of_the_age():
    battery, existing = plain_bank(age=1.0)
    job = make_job(batteries=[battery])
    rated_ah = existing.strings * battery.capacity_ah
    found = assess(job, replace(existing, measured_ah=0.9 * rated_ah))
    assert found.hours[1].health == pytest.approx(0.9)
    aged = assess(job, replace(existing, age_years=found.life.age_years))
    assert aged.hours[1].simulated.shortest == pytest.approx(found.hours[1].simulated.shortest)
    # more than the label is not believed
    assert assess(job, replace(existing, measured_ah=2 * rated_ah)).hours[1].health == 1


def test_a_charge_at_the_start_shortens_what_is_planned_and_simulated():
    battery, existing = plain_bank(max_dod=0.8)
    job = make_job(batteries=[battery])
    full = assess(job, existing)
    half = assess(job, replace(existing, charge_at_start=0.6))  # half of the 80 % are left
    assert half.existing.charged_share == pytest.approx(0.5)
    assert half.hours[1].planned_hours <= full.hours[1].planned_hours / 2
    assert half.hours[1].simulated.shortest < 0.6 * full.hours[1].simulated.shortest
    of_full, of_half = (
        next(check.provided for check in one.checks if check.kind is CheckKind.ENERGY)
        for one in (full, half)
    )
    assert of_half == pytest.approx(of_full / 2)
    empty = assess(job, replace(existing, charge_at_start=0.1))
    assert empty.hours[1].planned_hours == 0
    assert empty.verdict is AssessmentVerdict.FAILS


@pytest.mark.parametrize("hours", [2, 3, 8])
def test_the_load_carried_for_some_hours_is_the_load_that_lasts_them(hours):
    battery = heavy_battery()
    job, inverter = roomy(
        make_load("Pump", 300.0), battery=battery, design_margin=0.0, target_hours=hours
    )
    existing = Existing(inverter, 1, battery, 1, 12)
    carried = assess(job, existing).carried_load
    assert not carried.limited_by_inverter
    assert carried.mean_w == pytest.approx(300 * carried.factor)
    # an even load drawn to flat: the simulation finds just these hours
    job, _ = roomy(
        make_load("Pump", carried.mean_w), battery=battery, design_margin=0.0, target_hours=hours
    )
    assert assess(job, existing).hours[1].simulated.shortest == pytest.approx(hours, rel=1e-6)


def test_the_load_carried_ends_at_the_inverters_power():
    battery = heavy_battery(capacity_ah=5000.0)
    job, inverter = roomy(make_load("Pump", 300.0), battery=battery, target_hours=1)
    carried = assess(job, Existing(inverter, 1, battery, 1, 12)).carried_load
    assert carried.limited_by_inverter
    assert carried.mean_w == pytest.approx(4000)


def test_limits_of_a_standing_bank_by_hand():
    battery = heavy_battery(gas="vented", chemistry="flooded", max_dod=0.5)
    _, inverter = roomy(make_load("Pump", 300.0), battery=battery)
    found = bank_limits(Existing(inverter, 1, battery, 2, 12))
    # 400 Ah: at most 5 per hour; 4000 W / 0.8 / 10.8 V; 6 cells by IEC 62485-2 at 5 and 20 mA/Ah
    assert found.discharge_a == 2000
    assert found.largest_a == pytest.approx(4000 / 0.8 / 10.8)
    assert found.string_a == pytest.approx(found.largest_a / 2)
    assert found.string_fuse_a == pytest.approx(1.25 * found.largest_a / 2)
    assert found.float_air_m3_per_h == pytest.approx(0.05 * 6 * 5 * 400 / 1000)
    assert found.boost_air_m3_per_h == pytest.approx(0.05 * 6 * 20 * 400 / 1000)
    assert found.opening_cm2 == pytest.approx(28 * found.boost_air_m3_per_h)
    assert found.spark_distance_mm == pytest.approx(28.8 * (20 * 200 * 6) ** (1 / 3))  # of one unit
    assert found.cut_off_v == pytest.approx(6 * (1.75 + 0.38 * 0.5), abs=0.05)
    one = bank_limits(Existing(inverter, 1, replace(battery, gas="none"), 1, 12))
    assert (one.string_a, one.string_fuse_a, one.opening_cm2) == (None, None, None)


def test_recharge_tells_the_last_part():
    battery, existing = plain_bank(charge_factor=1.2, max_dod=0.8, gas="valve_regulated")
    found = assess(make_job(batteries=[battery]), existing).recharge
    capacity_ah = existing.strings * battery.capacity_ah
    assert found.last_share == pytest.approx(found.charger_a / capacity_ah)
    first_h = 1.2 * (0.8 - found.last_share) * capacity_ah / found.charger_a
    assert found.full_hours == pytest.approx(first_h + found.last_hours)
    assert found.full_hours > found.hours


def test_every_failing_requirement_is_named():
    battery, existing = plain_bank(
        discharge_rate_max=0.05, gas="vented", max_parallel=1, min_charge_degc=15.0, max_series=1
    )
    existing = replace(existing, strings=2, units=3)
    cables, fuses = (
        (Cable(section_mm2=6.0, ampacity_a=30.0, ohm_per_km=3.3, price_per_m=2.0),),
        (Fuse(rating_a=32.0, price=5.0),),
    )
    job = make_job(
        make_load("Kettle", 900.0), batteries=[battery], cables=cables, fuses=fuses, max_bank_kg=50
    )
    assert {
        CheckKind.CABLE_CURRENT,
        CheckKind.DISCHARGE_CURRENT,
        CheckKind.STRINGS,
        CheckKind.MASS,
        CheckKind.VENTILATED_PLACE,
        CheckKind.INVERTER_UNITS,
        CheckKind.LOWEST_TEMPERATURE,
    } <= {check.kind for check in assess(job, existing).failed}


def test_a_room_below_the_known_cold_is_a_failing_requirement_not_a_crash():
    battery, existing = plain_bank(cold_points=((5.0, 0.7), (25.0, 1.0)), min_charge_degc=-20.0)
    job = with_site(make_job(batteries=[battery]), min_degc=-3.0)
    found = assess(job, existing)
    cold = [check.kind for check in found.failed if check.unit == "°C"]
    assert cold == [CheckKind.LOWEST_TEMPERATURE]
    assert found.hours[0].simulated.shortest > 0


def test_a_charge_at_the_start_is_simulated_throughout():
    """Half of the 80 % that may be used: every figure of the simulation begins there."""
    battery, existing = plain_bank(max_dod=0.8)
    job = make_job(batteries=[battery])
    full = assess(job, existing).simulation
    half = assess(job, replace(existing, charge_at_start=0.6)).simulation
    assert half.verdict.hours == pytest.approx(full.verdict.hours / 2)
    assert half.stressed[0].hours == pytest.approx(full.stressed[0].hours / 2)
    assert half.ages[0].shortest_hours == pytest.approx(full.ages[0].shortest_hours / 2)
    assert half.simulated_years.kwh_unserved.value >= full.simulated_years.kwh_unserved.value
