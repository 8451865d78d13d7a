"""What is told of contract and generator, on a site with nine variants."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest

from optimizer import choose, frontier, load
from optimizer.engine.check import CheckKind
from optimizer.formulas.money import yearly_costs_factor
from optimizer.report.grids import curve as grids
from optimizer.report.grids.grid import raw
from optimizer.report.words import design as said
from optimizer.report.words import simulation
from optimizer.report.words.beside import beside
from optimizer.report.words.writer import Writer

pytestmark = pytest.mark.slow

WRITE = Writer("EUR")
SITE = Path(__file__).parents[2] / "cases" / "worked5"


@pytest.fixture(scope="module")
def job():
    return load(SITE)


@pytest.fixture(scope="module")
def chosen(job):
    return choose(job, hours=24)


@pytest.fixture(scope="module")
def curve(job):
    return frontier(job)


def test_help_at_peaks_is_worth_what_the_covering_contract_costs_more(job, chosen):
    found = chosen.help
    largest_w = max(peak.power_w for peak in job.site.peaks)
    assert found.help_w == largest_w - found.contract.power_w > 0
    assert found.covering.power_w >= largest_w
    factor = yearly_costs_factor(job.site.discount_rate, 0, job.site.horizon_years)
    charges = (found.covering.cost_year - found.contract.cost_year) * factor
    assert found.contract_saving == pytest.approx(charges)
    alone = choose(job.with_site(contracts=(found.covering,)), hours=24)
    more = alone.design.life_cycle_cost - chosen.design.life_cycle_cost
    assert found.saving == pytest.approx(more)
    assert alone.help.help_w == alone.help.saving == 0
    assert "covers every peak alone" in said.choice(WRITE, alone)


def test_where_no_contract_covers_the_peaks_no_saving_is_told(job):
    step = choose(job, hours=24).design.contract
    found = choose(job.with_site(contracts=(step,)), hours=24)
    assert (found.help.covering, found.help.contract_saving, found.help.saving) == (None,) * 3
    assert "no contract on offer covers them alone" in said.choice(WRITE, found)


def test_the_headline_names_generator_and_contract(chosen):
    text, found = said.choice(WRITE, chosen), chosen.running
    assert (found.outage_hours, found.stored_l) == (chosen.design.hours, chosen.design.fuel_l)
    # from 2 h after the start, 14 h of the day
    assert found.running_hours == 14
    assert chosen.design.generator.generator in text
    assert f"{found.stored_l:.1f} l of fuel stored" in text
    assert "it runs 14 hours of an outage of 24 hours" in text
    assert "Supply contract: 4.5 kW" in text
    assert WRITE.money(chosen.help.saving, whole=True) in text


def test_a_site_without_contract_and_generator_tells_nothing_of_them():
    plain = choose(load("house").with_site(contracts=(), peaks=(), generator=None), hours=8)
    assert (plain.help, plain.running) == (None, None)
    assert beside(WRITE, plain) == []


def test_neighbours_that_differ_in_fuel_alone_are_one_row(curve):
    assert sum(len(run) for run in curve.runs) == len(curve.points) > len(curve.runs)
    grid = grids.points(WRITE, curve)
    assert len(grid.rows) == len(curve.runs)
    [run] = [run for run in curve.runs if len(run) > 1]
    place = curve.runs.index(run)
    texts = dict(zip([one.key for one in grid.columns], grid.texts(WRITE)[place], strict=True))
    assert texts["hours"] == f"{run[0].hours}–{run[-1].hours}"
    assert texts["fuel_l"] == f"{run[0].fuel_l:.1f}–{run[-1].fuel_l:.1f}"
    steps = [
        (there.life_cycle_cost - here.life_cycle_cost) / (there.hours - here.hours)
        for here, there in pairwise(run)
    ]
    each = grid.rows[place][-1]
    assert (raw(each), each.last) == pytest.approx((min(steps), max(steps)))


def test_a_file_keeps_every_point(curve):
    rows = grids.file(WRITE, curve, {}).rows
    assert [row[1] for row in rows] == [point.hours for point in curve.points]


def test_what_is_bought_at_the_start_adds_up_with_the_fuel(chosen):
    from optimizer.report.grids import choice as tables

    assert tables.materials(WRITE, chosen).rows[-1][-1] == pytest.approx(chosen.design.upfront_cost)
    lines = {
        row[0]: row[1:] for row in tables.reconciliation(WRITE, chosen.job, chosen.design).rows
    }
    assert lines["Upfront cost"] == pytest.approx([chosen.design.upfront_cost] * 2)
    by_line = lines["Life-cycle cost"]
    assert by_line[-1] == pytest.approx(chosen.design.life_cycle_cost)
    parts = [row for name, row in lines.items() if name not in {"Upfront cost", "Life-cycle cost"}]
    assert [sum(column) for column in zip(*parts, strict=True)] == pytest.approx(by_line)
    total = tables.cash(WRITE, chosen.job, chosen.design).rows[-1]
    assert total[-1] == pytest.approx(by_line[-1])


def test_fuel_is_bought_to_measure_and_never_called_what_limits(chosen):
    fuel = next(one for one in chosen.explained if one.check.kind is CheckKind.FUEL)
    assert fuel.check.margin == pytest.approx(0)
    assert not fuel.binds
    assert CheckKind.FUEL not in {one.check.kind for one in chosen.binding}


def test_what_a_generator_does_is_what_the_simulation_finds(chosen):
    """Hours of running and litres, told on the safe side of what the whole outage takes."""
    use, told = chosen.design.verdict.generator, chosen.running
    assert use.running_hours <= told.running_hours
    assert use.fuel_l <= told.stored_l
    sentence = simulation.verdict(WRITE, chosen.design.verdict, 0.1)
    assert f"an outage of {chosen.design.hours} hours hour by hour from every start" in sentence
    assert f"of the {use.stored_l:.1f} l stored" in sentence
    assert simulation.in_a_line(WRITE, chosen.design.verdict).startswith("The independent")
