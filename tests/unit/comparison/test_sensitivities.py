"""Sensitivities and regret."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from optimizer import choose, load
from optimizer.comparison.first_purchases import continued, first_purchase
from optimizer.comparison.regrets import regret
from optimizer.comparison.scenarios import LIFE, PRICE, Scenario, draw, in_scenario
from optimizer.comparison.sensitivities import sensitivities
from optimizer.engine.curve import Search
from optimizer.errors import NoDesignError
from optimizer.model.job import LONGEST_HOURS
from optimizer.report.grids import sensitivity as grids
from optimizer.report.words import design as words
from optimizer.report.words.regret import means, verdict
from optimizer.report.words.writer import Writer
from tests.unit import builders

from .jobs import small_house

pytestmark = pytest.mark.slow


@pytest.fixture(scope="module")
def moved():
    return sensitivities(small_house(12), 12)


def test_a_sensitivity_is_what_a_search_finds(moved):
    job = small_house(12)
    sensitivity = next(one for one in moved.sensitivities if one.parameter.key == "price:lithium")
    for setting in (sensitivity.low, sensitivity.base, sensitivity.high):
        changed = sensitivity.parameter.at(job, setting.value)
        assert setting.cost == pytest.approx(Search(changed, setting.winner).least(12))
        limited = replace(changed, site=replace(changed.site, budget=moved.budget))
        assert setting.hours == Search(limited).longest().hours


def test_hours_are_followed_beyond_the_end_of_the_curve():
    at_its_end = small_house(12).with_site(max_hours=12)
    further = at_its_end.with_site(max_hours=LONGEST_HOURS)
    for job, ends in ((at_its_end, False), (at_its_end.with_site(beyond_max_hours=False), True)):
        moved = sensitivities(job, 12)
        load = next(one for one in moved.sensitivities if one.parameter.key == "load")
        for setting in (load.low, load.base):
            far = Search(load.parameter.at(further, setting.value).with_site(budget=moved.budget))
            assert setting.hours == (12 if ends else far.longest().hours)
        assert (load.low.hours > load.base.hours) is not ends


def test_sensitivities_are_sorted_and_share_their_base(moved):
    spans = [sensitivity.cost_span for sensitivity in moved.sensitivities]
    assert spans == sorted(spans, reverse=True)
    assert len({sensitivity.base.cost for sensitivity in moved.sensitivities}) == 1
    assert {sensitivity.parameter.key for sensitivity in moved.sensitivities} >= {
        "load",
        "outages",
        "depth:lead",
    }


def test_dearer_batteries_never_cost_less(moved):
    for sensitivity in moved.sensitivities:
        if sensitivity.parameter.key.startswith("price:") or sensitivity.parameter.key in {
            "tariff",
            "load",
        }:
            assert sensitivity.low.cost <= sensitivity.base.cost <= sensitivity.high.cost
            assert sensitivity.low.hours >= sensitivity.base.hours >= sensitivity.high.hours or (
                sensitivity.parameter.key == "tariff"
            )


def test_without_a_design_nothing_moves():
    job = builders.make_job(max_bank_kg=1.0)
    with pytest.raises(NoDesignError):
        sensitivities(job, 4)
    with pytest.raises(NoDesignError):
        regret(job, 4, scenarios=2, processes=1)


def test_the_same_seed_draws_the_same_scenarios():
    job = small_house()
    assert draw(job, 5, 3) == draw(job, 8, 3)[:5]
    assert draw(job, 5, 3) != draw(job, 5, 4)
    for scenario in draw(job, 50, 1):
        assert all(LIFE[0] <= life <= LIFE[2] for life in scenario.life.values())
        assert all(PRICE[0] <= price <= PRICE[2] for price in scenario.price.values())


def plain_scenario(job, **changes):
    families = ("lead", "lithium")
    values = {
        "life": dict.fromkeys(families, 1.0),
        "price": dict.fromkeys(families, 1.0),
        "drift": dict.fromkeys(families, 0.0),
        "outages": 1.0,
        "tariff": 1.0,
        "discount_rate": job.site.discount_rate,
    }
    return Scenario(**(values | changes))


def test_a_scenario_like_today_costs_what_today_costs():
    job = small_house()
    assert Search(in_scenario(job, plain_scenario(job))).least(12) == pytest.approx(
        Search(job).least(12)
    )


def test_one_process_and_two_find_the_same_regret():
    job = small_house(12)
    steps = []
    alone = regret(
        job, 12, scenarios=24, seed=7, processes=1, progress=lambda done, all_: steps.append(done)
    )
    together = regret(job, 12, scenarios=24, seed=7, processes=2)
    assert alone == together
    assert steps == list(range(1, len(steps) + 1))


def test_regret_is_what_the_best_would_have_saved(monkeypatch):
    job = small_house(12)
    dear = plain_scenario(job, price={"lead": 1.0, "lithium": 1.5})
    cheap = plain_scenario(job, price={"lead": 1.0, "lithium": 0.6})
    monkeypatch.setattr("optimizer.comparison.regrets.draw", lambda *_: [dear, cheap])
    found = regret(job, 12, scenarios=2, processes=1)
    for family in ("lead", "lithium"):
        first = first_purchase(Search(job, family).cheapest(12))
        record = next(one for one in found.records if one.first == first)
        regrets = []
        for scenario in (dear, cheap):
            there = in_scenario(job, scenario)
            bought = [one for one in there.catalog.batteries if one.battery == first.battery]
            # held to the battery bought, every later bank too: at least as dear as going on freely
            held = replace(there, catalog=replace(there.catalog, batteries=tuple(bought)))
            best = Search(there).least(12)
            regrets.append(Search(held).least(12) - best)
        assert record.largest_regret <= max(regrets) + 1e-6
        assert record.mean_regret >= 0
    assert found.records[0].largest_regret == min(one.largest_regret for one in found.records)
    assert found.today.first == first_purchase(Search(job).cheapest(12))
    assert sum(found.family_share.values()) == pytest.approx(1.0)


def test_a_first_purchase_goes_on_in_the_cheapest_way():
    # one lead bank of four years now; in the future lithium costs nearly nothing
    lead = builders.make_battery("Slate", float_life_years=4.0, end_of_life_soh=0.99)
    lithium = builders.make_battery(
        "Beech", family="lithium", chemistry="lfp", price=900.0, float_life_years=12.0,
        end_of_life_soh=0.99, price_drift=-0.29,
    )  # fmt: skip
    job = builders.make_job(batteries=[lead, lithium], yearly=(), horizon_years=8, target_hours=2)
    found = regret(job, 2, scenarios=4, processes=1)
    record = found.today
    assert record.first.battery == "Slate"
    assert record.stranded == 0.0
    assert math.isfinite(record.largest_regret)


def test_a_generator_bought_today_stays_bought():
    """Continued without it, the same bank costs more or does not carry the hours at all."""
    job = load("house").with_site(max_hours=20)
    design = choose(job, hours=18).design
    first, search = first_purchase(design), Search(job)
    assert first.generator == design.generator.generator
    assert continued(search, first, 18) == pytest.approx(design.life_cycle_cost)
    assert continued(search, replace(first, generator=None), 18) > design.life_cycle_cost + 1
    assert first.generator in words.models(Writer("EUR"), first)


@pytest.fixture
def stranded(monkeypatch):
    """Return a regret over two scenarios; what is cheapest today can go on in the first alone.

    Arithmetic: 400 Wh at 0.9 and 40 Wh of the inverter's own are 80.7 Ah at 12 V, half deep. Of
    97.5 Ah ten years leave 81.2 with a life of 12 years, 80.4 with one of 11.4. No bank may go
    before half its life, 5.7 years: two do not fit into ten.
    """
    lead = builders.make_battery("Slate", capacity_ah=97.5, float_life_years=12.0, max_parallel=1)
    lithium = builders.make_battery(
        "Beech", family="lithium", chemistry="lfp", capacity_ah=200.0, price=1900.0,
        float_life_years=20.0, max_parallel=1,
    )  # fmt: skip
    job = builders.make_job(batteries=[lead, lithium], yearly=(), horizon_years=10, target_hours=4)
    lead_dear = plain_scenario(job, price={"lead": 30.0, "lithium": 1.0})
    lead_short = plain_scenario(
        job, life={"lead": 0.95, "lithium": 1.0}, price={"lead": 1.0, "lithium": 2.5}
    )
    drawn = [lead_dear, lead_short]
    monkeypatch.setattr("optimizer.comparison.regrets.draw", lambda *_: drawn)
    return regret(job, 4, scenarios=2, processes=1)


def test_costs_are_compared_over_the_scenarios_in_which_both_go_on(stranded):
    today, safest = stranded.today, stranded.safest
    assert (today.first.battery, safest.first.battery) == ("Slate", "Beech")
    assert (today.stranded, today.both_share, today.over_today) == (0.5, 0.5, 0.0)
    assert (safest.stranded, safest.both_share) == (0.0, 0.5)
    # the means over what each survives have the other sign
    assert safest.mean_cost > today.mean_cost
    # price of one bank each: the lead one thirty times 100 there
    assert safest.over_today == pytest.approx(1900 - 30 * 100)


def test_sentences_and_table_say_the_same_of_the_means(stranded):
    write = Writer("EUR")
    told = verdict(write, stranded)
    safer = next(line for line in told if "Beech" in line)
    assert "€1,100 less than today's cheapest, over the 50% of the scenarios in which both" in safer
    assert sum("be replaced before 50% of its life" in line for line in told) == 1
    table = grids.regret(write, stranded)
    place = [column.key for column in table.columns].index("over_today")
    assert [row[place] for row in table.rows] == [pytest.approx(-1100.0), 0.0]
    assert table.notes[0] == means(write)
    data = [one["over_today"] for one in stranded.to_dict()["records"]]
    assert data == [row[place] for row in table.rows]
    whole = replace(stranded, records=(replace(stranded.safest, both_share=1.0), stranded.today))
    assert "than today's cheapest." in "\n".join(verdict(write, whole))


def test_what_is_stranded_least_often_is_safer(monkeypatch, stranded):
    """Where nothing goes on in every scenario, fewer scenarios lost go before a smaller mean."""
    lost = {"Slate": {0, 1}, "Beech": {2}}
    job = stranded.job
    drawn = [plain_scenario(job, tariff=1.0 + place) for place in range(3)]
    monkeypatch.setattr("optimizer.comparison.regrets.draw", lambda *_: drawn)
    costs = [
        [
            math.inf if place in lost[name] else dear
            for name, dear in (("Slate", 3e3), ("Beech", 5e3))
        ]
        for place in range(3)
    ]
    monkeypatch.setattr("optimizer.comparison.regrets._costs", lambda _: costs)
    found = regret(job, 4, scenarios=3, processes=1)
    assert [one.first.battery for one in found.records] == ["Beech", "Slate"]
    assert found.records[0].mean_regret > found.records[1].mean_regret
    assert (found.safest.over_today, found.safest.both_share) == (math.inf, 0.0)
    assert "in no scenario can both" in "\n".join(verdict(Writer("EUR"), found))
