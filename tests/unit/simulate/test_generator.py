"""An outage beside a generator, against arithmetic and against a plain loop over minutes."""

from dataclasses import replace

import numpy as np
import pytest

from optimizer.model.job import Generator, GeneratorRules
from optimizer.model.outages import Outages
from optimizer.simulate import Shortfall, replay_log, ride_through, simulate_years, trace, verdict
from optimizer.simulate.depletion import Depletion
from optimizer.simulate.outage import OutageBatch, endure
from optimizer.simulate.store import store

from .sites import make_bank, make_design, make_job, make_load
from .test_replay import logged


def plant(design, hours=30, fuel_l=1e3, **changes):
    """One litre an hour at 1 kW, none when idle."""
    values = {"litres_h_full": 1.0, "litres_h_idle": 0.0, "power_w": 1000.0}
    values |= changes
    generator = Generator(
        generator="generator",
        power_va=values["power_w"],
        surge_w=values["power_w"],
        price=0.0,
        life_years=10.0,
        **values,
    )
    return replace(design, hours=hours, generator=generator, fuel_l=fuel_l)


def night_site(*loads, start_after_h=2, **changes):
    rules = GeneratorRules(
        fuel_price=1.0, max_stored_l=1e9, quiet=(20.0, 32.0), start_after_h=start_after_h
    )
    return make_job(*loads, generator=rules, **changes)


def test_the_bank_carries_the_night_and_the_generator_the_day():
    # 100 W: two hours before the generator, twelve in the night: 1.4 kWh of 2.4
    job = night_site()
    design = plant(make_design(make_bank(capacity_ah=200.0), charger_a=20.0))
    told = verdict(job, design)
    assert told.holds
    assert told.hours == 30
    assert told.capped
    # from 18:00: 14 h on the bank, 116.7 Ah back at 14 V / 0.90, and loads by day for 12 + 4 h
    line = trace(job, design, 0, "year", 18)
    assert line.state_of_charge.min() == pytest.approx(1 - 14 / 24)
    assert line.state_of_charge[-1] == pytest.approx(1 - 4 / 24)
    assert line.on_generator.sum() > 0
    assert told.generator.running_hours == pytest.approx(16.0)
    assert told.generator.evening_depth == 0


def test_fuel_of_one_outage_by_hand():
    # from 8:00 for 30 h: 2 h on the bank, 10 h of day, 12 h of night, 6 h of day; 16.67 Ah and
    # 100 Ah are put back at 14 V / 0.90
    job, design = night_site(), plant(make_design(make_bank(capacity_ah=200.0), charger_a=20.0))
    tables = store(job, design)
    batch = OutageBatch(
        rows=np.array([0]),
        clock_h=np.array([8.0]),
        hours=np.array([30.0]),
        before=Depletion(np.zeros(1), np.zeros(1)),
    )
    run = endure(tables, batch)
    back_wh = (200 / 12 + 100) * 14 / 0.9
    assert run.fuel_l[0] == pytest.approx((16 * 100 + back_wh) / 1000)
    assert run.running_h[0] == pytest.approx(16.0)
    assert run.unserved_wh[0] == 0


def test_fuel_that_runs_out_leaves_the_bank_alone():
    # nothing put back: one litre carries 100 W for ten hours, then 1.2 kWh for twelve
    rules = GeneratorRules(fuel_price=1.0, max_stored_l=1e9, start_after_h=1)
    job = make_job(generator=rules)
    design = plant(make_design(make_bank(capacity_ah=100.0), charger_a=0.0), hours=60, fuel_l=1.0)
    told = verdict(job, design)
    # one hour before, ten beside it, eleven after
    assert told.hours == pytest.approx(22.0)
    assert told.shortfalls == (Shortfall.HOURS,)


def test_a_charger_too_small_for_the_day_is_told():
    job = night_site()
    # 116.7 Ah in twelve hours need 9.7 A
    design = plant(make_design(make_bank(capacity_ah=200.0), charger_a=8.0), hours=60)
    told = verdict(job, design)
    assert Shortfall.NIGHTS in told.shortfalls
    # the first day leaves 20.7 Ah missing, the second, after 100 Ah more, 24.7
    assert told.generator.evening_depth == pytest.approx((140 / 1.2 + 100 - 2 * 96) / 200)
    enough = plant(make_design(make_bank(capacity_ah=200.0), charger_a=9.8), hours=60)
    assert verdict(job, enough).holds


def test_the_generator_charges_with_what_the_loads_leave():
    job = night_site(make_load(watts=900.0, windows=((8.0, 20.0),)), make_load("night", 100.0))
    # 1,000 W, of which the loads take all by day
    design = plant(make_design(make_bank(capacity_ah=400.0), charger_a=100.0), hours=60)
    assert verdict(job, design).generator.evening_depth > 0.25
    roomy = replace(design, generator=replace(design.generator, power_w=2000.0))
    assert verdict(job, roomy).generator.evening_depth == 0


def test_nothing_is_let_go_beside_a_generator():
    job = night_site(tier_hours={"essential": 3})
    design = plant(make_design(make_bank(capacity_ah=116.0), charger_a=20.0))
    assert verdict(job, design).hours < 14


def minute_by_minute(job, design, start, charge_v=14.0):
    """Hours carried and fuel, by steps of a minute, for a steady exponent of 1."""
    rules, generator, period = job.site.generator, design.generator, design.banks[0]
    capacity = period.strings * period.battery.capacity_ah * 0.8
    ratio = max(period.battery.charge_factor, 12 / period.battery.round_trip / charge_v)
    lacks_ah, fuel_l = 0.0, design.fuel_l
    for minute in range(60 * design.hours):
        hour = int(start + minute / 60) % 24
        watts = sum(
            load.running_w
            for load in job.loads
            if any((hour - a) % 24 < b - a for a, b in load.windows)
        )
        quiet = (hour - rules.quiet[0]) % 24 < rules.quiet[1] - rules.quiet[0]
        if quiet or minute < 60 * rules.start_after_h or fuel_l <= 0:
            idle_w = design.inverter.no_load_w
            lacks_ah += (watts / design.inverter.efficiency + idle_w) / 12 / 60
            if lacks_ah > capacity * period.battery.max_dod:
                return minute / 60, design.fuel_l - fuel_l
        else:
            most_w = design.inverter.charger_a * charge_v / 0.9
            charge_w = min(most_w, generator.power_w - watts)
            charge_w = min(charge_w, lacks_ah * ratio * charge_v / 0.9 * 60)
            lacks_ah -= charge_w * 0.9 / charge_v / ratio / 60
            share = (watts + charge_w) / generator.power_w
            per_hour = generator.litres_h_full - generator.litres_h_idle
            fuel_l -= (generator.litres_h_idle + share * per_hour) / 60
    return float(design.hours), design.fuel_l - fuel_l


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(12))
def test_a_plain_loop_over_minutes_gives_the_same(seed):
    rng = np.random.default_rng(seed)
    loads = [
        make_load(str(i), float(rng.integers(20, 200)), windows=((float(a), float(a + b)),))
        for i, (a, b) in enumerate(rng.integers(1, 20, size=(4, 2)))
    ]
    start, quiet_h = int(rng.integers(0, 24)), int(rng.integers(4, 16))
    rules = GeneratorRules(
        fuel_price=1.0,
        max_stored_l=1e9,
        quiet=(float(start), float(start + quiet_h)),
        start_after_h=int(rng.integers(0, 6)),
    )
    job = make_job(*loads, generator=rules)
    bank = make_bank(
        capacity_ah=float(rng.integers(60, 500)),
        end=1,
        life=1.0,
        max_dod=0.9,
        charge_factor=float(rng.choice([1.0, 1.2])),
        round_trip=0.8,
    )
    design = plant(
        make_design(bank, charger_a=float(rng.integers(5, 40)), efficiency=0.9, no_load_w=7.0),
        hours=int(rng.integers(20, 90)),
        fuel_l=float(rng.uniform(2, 20)),
        power_w=800.0,
        litres_h_idle=0.2,
    )
    ride = ride_through(job, design)
    for hour in (0, 5, 13, 19):
        expected, _ = minute_by_minute(job, design, hour)
        assert ride.hours[0, 0, hour] == pytest.approx(expected, abs=0.05)
    used = [minute_by_minute(job, design, hour)[1] for hour in range(24)]
    assert verdict(job, design).generator.fuel_l == pytest.approx(max(used), rel=0.01)


def test_a_log_is_replayed_beside_it():
    outages = logged(("2023-01-05T18:30", 20.0), ("2023-02-05T09:15", 3.5))
    job = night_site(outages=outages)
    design = plant(make_design(make_bank(capacity_ah=200.0), charger_a=20.0))
    first, second = replay_log(job, design).outages
    assert first.carried
    # quiet until 8:00, 13.5 h on the bank; then 20 A for 6.5 h are 130 Ah
    assert first.depth_after == pytest.approx(0.0)
    # two hours before it may start, 1.5 h of 20 A
    assert second.depth_after == pytest.approx(0.0)
    alone = replace(design, generator=None)
    assert replay_log(job, alone).outages[0].depth_after == pytest.approx(20 / 24)


def test_simulated_years_beside_it():
    job = night_site(outages=Outages("typed", ((40.0, 2.0),)))
    design = plant(make_design(make_bank(capacity_ah=200.0), charger_a=20.0))
    assert simulate_years(job, design, years=50).share_carried.value == 1
    dry = replace(design, fuel_l=0.5)
    assert simulate_years(job, dry, years=50).share_carried.value == 0


def test_what_a_generator_burns_is_gone_for_the_year():
    """Each outage of 40 h takes the same fuel; with enough for two, the third of a year fails."""
    job = night_site(outages=Outages("typed", ((40.0, 3.0),)))
    design = plant(make_design(make_bank(capacity_ah=200.0), charger_a=20.0), hours=40)
    ample = simulate_years(job, design, years=300)
    assert ample.share_carried.value == 1
    most_l = verdict(job, design).generator.fuel_l
    two = simulate_years(job, replace(design, fuel_l=2 * most_l), years=300)
    assert 0 < two.share_carried.value < 1
    # years of a Poisson process of 3 that hold no third outage
    assert two.share_of_years_whole == pytest.approx(np.exp(-3) * (1 + 3 + 4.5), abs=0.12)


def test_fuel_lasts_from_outage_to_outage_until_it_is_renewed():
    outages = logged(
        ("2023-01-05T18:00", 40.0),
        ("2023-03-05T18:00", 40.0),
        ("2024-01-05T18:00", 40.0),
    )
    job = night_site(outages=outages)
    ample = plant(make_design(make_bank(capacity_ah=200.0), charger_a=20.0), hours=40)
    assert all(one.carried for one in replay_log(job, ample).outages)
    enough = replace(ample, fuel_l=1.2 * verdict(job, ample).generator.fuel_l)
    assert [one.carried for one in replay_log(job, enough).outages] == [True, False, True]
