from __future__ import annotations

import tomllib
from dataclasses import replace
from datetime import date
from decimal import Decimal

import numpy as np
import pytest

from optimizer import load
from optimizer.engine.demand import demand_of
from optimizer.inputs.design_file import load_design
from optimizer.model.existing import Plan
from optimizer.quote import Company
from optimizer.quote.as_built import as_built
from optimizer.quote.handover import Units, handover_sheet, months_after
from optimizer.report.grids import quote as grids
from optimizer.report.words import handover as words
from optimizer.report.words.writer import Writer
from optimizer.simulate import ride_through, trace
from tests.unit.builders import make_battery, make_design, make_job, make_load, make_period
from tests.unit.quote.made import curve, quote

DAY = date(2026, 11, 25)


@pytest.mark.parametrize(("site", "hours"), [("clinic", 6), ("house", 5)])
def test_the_energy_of_one_outage_is_the_least_of_any(site, hours):
    """Against outages traced one by one, each summed here."""
    job, design = curve(site).job, curve(site).at(hours)
    last = design.banks[0].end - 1
    sheet = handover_sheet(job, design, Company(), DAY)
    assert sheet.last_year == last
    for year, found in ((0, sheet.outage_kwh_new), (last, sheet.outage_kwh_last)):
        sums = []
        for season in job.site.seasons:
            for start in range(24):
                followed = trace(job, design, year, season.name, start)
                lengths = followed.hours[1:] - followed.hours[:-1]
                watts = sum(followed.loads_w.values())
                sums.append(float((watts * lengths).sum()) / 1000)
        assert found == pytest.approx(min(sums))


def test_the_sheet_of_the_demo():
    sheet = quote("clinic").options[0].handover
    assert sheet.kept[0].load == "Vaccine refrigerator"
    assert all(kept.tier in ("essential", "useful") for kept in sheet.kept)
    daily = sum(kept.kwh_day[0] for kept in sheet.kept)
    assert daily == pytest.approx(demand_of(curve("clinic").job).profiles[0].sum() / 1000)
    for season in sheet.seasons:
        assert season.new > season.last
        assert season.first_tier_last > season.last
    assert sheet.outage_kwh_new > sheet.outage_kwh_last
    bank = quote("clinic").options[0].design.banks[0]
    assert sheet.last_year == min(bank.end, int(bank.service_life_years)) - 1


def test_dues_and_monthly_sums_by_hand():
    """A bank of 100 that lasts 12 years and a set of 300 for 10: 0.69 and 2.50 a month."""
    inverter = replace(make_design().inverter, price=300.0, life_years=10.0)
    design = make_design(make_period(make_battery(), life=12.9), inverter=inverter)
    parts = handover_sheet(make_job(), design, Company(), DAY).parts
    assert [(part.after_months, part.due) for part in parts] == [
        (144, date(2038, 11, 25)),
        (120, date(2036, 11, 25)),
    ]
    assert [part.monthly for part in parts] == [Decimal("0.69"), Decimal("2.50")]


def test_a_bank_replaced_within_the_horizon_is_due_then():
    slate, chalk = make_battery(), make_battery("Chalk", price=240.0)
    design = make_design(make_period(slate, end=5), make_period(chalk, start=5))
    part = handover_sheet(make_job(), design, Company(), DAY).parts[0]
    assert (part.after_months, part.amount) == (60, Decimal("240.00"))
    assert (part.units, part.following) == (Units(1, "Slate"), Units(1, "Chalk"))
    assert words.part(Writer("EUR"), part) == "Battery bank, 1 × Slate, then 1 × Chalk"
    assert part.monthly == Decimal("4.00")


def test_a_leap_day_has_its_year_too():
    assert months_after(date(2028, 2, 29), 48) == date(2032, 2, 29)
    assert months_after(date(2028, 2, 29), 12) == date(2029, 2, 28)
    assert months_after(date(2026, 10, 31), 4) == date(2027, 2, 28)
    assert months_after(date(2026, 11, 30), 1) == date(2026, 12, 30)


def test_the_yearly_test_asks_no_more_than_the_bank_gives():
    """What a kWh may cost of the charge, times the kWh of an outage, is about the depth allowed."""
    option = quote("house").options[0]
    sheet = option.handover
    depth = option.design.banks[0].battery.max_dod
    assert sheet.test.fall_last > sheet.test.fall_new
    assert sheet.test.fall_new * sheet.outage_kwh_new == pytest.approx(depth, rel=0.15)


@pytest.mark.parametrize("hours", [5, 16, 19])
def test_the_as_built_file_reads_back(tmp_path, hours):
    """A name that needs quoting included; every value as it was, within twelve digits."""
    job, design = curve().job, curve().at(hours)
    odd = replace(design.banks[0].battery, battery='Slate "12", = new')
    design = replace(design, banks=(replace(design.banks[0], battery=odd), *design.banks[1:]))
    text = as_built(
        job.with_site(name="House\nwith a second line"), design, Decimal("1234.50"),
        Company(number="Q-7"), DAY,
    )  # fmt: skip
    tomllib.loads(text)
    path = tmp_path / "as-built.toml"
    path.write_text(text, "utf-8")
    found = load_design(path, "house", job=job)
    built = replace(odd, max_dods=(odd.max_dod,), sources={})  # the depth that was chosen, alone
    assert replace(found.battery, sources={}) == built
    assert found.inverter == design.inverter
    assert (found.units, found.strings, found.voltage_v) == (
        design.inverter_units,
        design.banks[0].strings,
        design.voltage_v,
    )
    assert found.paid == 1234.5
    assert found.plan == Plan("Q-7", DAY, hours, 10, is_unchanged=True)
    path.write_text(text.replace("round_trip = 0.", "round_trip = 0.0"), "utf-8")
    changed = load_design(path, "house", job=job)
    assert not changed.plan.is_unchanged
    assert found.contract == design.contract
    assert found.generator == design.generator
    assert found.fuel_l == (design.fuel_l if design.generator else None)
    assert load("house") == job


def beside_a_generator():
    """The house's quoted option with a generator, and its sheet."""
    return next(one for one in quote("house").options if one.design.generator is not None)


def test_beside_a_generator_the_sheet_tells_what_the_bank_alone_does():
    option, job = beside_a_generator(), quote("house").job
    design, sheet = option.design, option.handover
    alone = ride_through(job, replace(design, generator=None, fuel_l=0.0))
    assert alone.shortest < design.hours
    assert min(season.last for season in sheet.seasons) == pytest.approx(
        alone.hours[alone.years.index(sheet.last_year)].min()
    )
    volts = design.banks[0].series * design.banks[0].battery.voltage_v
    held_kwh = volts * design.banks[0].strings * design.banks[0].battery.capacity_ah / 1000
    assert sheet.outage_kwh_new < held_kwh
    assert sheet.switch_off.hours_now == pytest.approx(alone.hours[0].min())


def test_the_yearly_test_of_the_bank_leaves_the_generator_off():
    """The charge falls for each kWh by what an hour of the same load takes, nothing put back."""
    option, job = beside_a_generator(), quote("house").job
    design, sheet = option.design, option.handover
    depths = []
    for season in job.site.seasons:
        for start in range(8, 17):
            line = trace(job, replace(design, generator=None), 0, season.name, start)
            at = int(np.searchsorted(line.hours, sheet.test.hours))
            lengths = line.hours[1 : at + 1] - line.hours[:at]
            kwh = float((sum(line.loads_w.values())[:at] * lengths).sum()) / 1000
            depths.append(float(line.state_of_charge[0] - line.state_of_charge[at]) / kwh)
    assert sheet.test.fall_new == pytest.approx(max(depths))
    steps = list(words.test_steps(Writer("EUR"), sheet))
    assert any("generator off" in step for step in steps)
    without = quote("clinic").options[0].handover
    assert not any("generator" in step for step in words.test_steps(Writer("EUR"), without))


def test_the_household_learns_when_the_generator_runs():
    option, job = beside_a_generator(), quote("house").job
    told = words.hours(Writer("EUR"), option.handover, job)[0]
    assert "bank alone" in told
    assert "From 21:00 to 07:00 it stays off" in told
    assert f"{option.design.fuel_l:.1f} l" in told


def sheet_of(*loads, tiers=("essential",)):
    job = make_job(*loads, tiers=tiers)
    return handover_sheet(job, make_design(), Company(), DAY)


def test_what_stays_on_is_named_beside_the_first_tier_not_within_it():
    lamp = make_load("Lamp", 40.0)
    oxygen = make_load("Oxygen", 40.0, critical=True)
    pump = make_load("Bed pump", 10.0, tier="useful", never_off=True)
    write, both = Writer("EUR"), ("essential", "useful")
    assert sheet_of(lamp, oxygen).staying_on == ()
    assert "Oxygen" not in words.switch_off(write, sheet_of(lamp, oxygen))
    assert sheet_of(lamp, oxygen, pump).staying_on == ()  # it waits for the grid
    found = words.switch_off(write, sheet_of(lamp, oxygen, pump, tiers=both))
    assert found.endswith("Everything “essential” stays on throughout, plus Bed pump.")


def test_hours_of_one_tier_alone_are_told_once():
    lamp, radio = make_load("Lamp", 40.0), make_load("Radio", 10.0, tier="useful")
    one = grids.seasons(Writer("EUR"), sheet_of(lamp))
    two = grids.seasons(Writer("EUR"), sheet_of(lamp, radio, tiers=("essential", "useful")))
    assert [column.key for column in one.columns] == ["season", "new", "last"]
    assert [len(row) for row in one.rows] == [3]
    assert [column.key for column in two.columns][3:] == ["tier_new", "tier_last"]
    assert two.rows[0][3].value > two.rows[0][1].value


@pytest.mark.parametrize(("life", "months"), [(1.9, 22), (0.2, 2), (0.02, 1)])
def test_a_bank_that_wears_out_soon_is_due_when_its_life_ends(life, months):
    """Bought again and again: a bank of 100 every 1.9 years asks for 4.55 a month."""
    bought = -(-10 // life)
    design = make_design(make_period(make_battery(), life=life, bought=int(bought)))
    part = handover_sheet(make_job(), design, Company(), DAY).parts[0]
    assert part.after_months == months
    assert part.due == months_after(DAY, months)
    assert part.monthly == Decimal(round(10000 / months)) / 100
