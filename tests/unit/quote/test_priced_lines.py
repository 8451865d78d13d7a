from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal

import pytest

from optimizer.answers.curve import Curve
from optimizer.engine import cashflow
from optimizer.errors import InputError
from optimizer.formulas.rounding import exact, rounded
from optimizer.model.job import Generator, GeneratorRules
from optimizer.quote import Company, Stage, build_quote, price
from optimizer.quote.company import StageKind
from optimizer.quote.priced_lines import sold_at_start, sum_again
from optimizer.quote.sums import Heading, Part
from optimizer.report.words import quote_lines as words
from optimizer.report.words.writer import Writer
from tests.unit.builders import (
    every_work,
    make_battery,
    make_design,
    make_inverter,
    make_job,
    make_period,
    with_site,
)
from tests.unit.quote.made import DAY, company, curve, quote

WRITE = Writer("EUR")


def priced(job, design, sender=None):
    flow = cashflow.payments(job, design)
    return price(
        job, replace(design, upfront_cost=cashflow.upfront_cost(flow)), sender or Company()
    )


def two_banks(**battery):
    slate = make_battery(**battery)
    return make_design(
        make_period(slate, strings=2, start=0, end=6),
        make_period(slate, strings=3, start=6, end=10),
        inverter=make_inverter(life_years=4.0),
    )


def test_lines_by_hand():
    """One bank, one set, a cable of 2 m one way, tax 20 %: all worked out by hand."""
    job = make_job(works=every_work(), tax_rate=0.2)
    found = priced(job, make_design(make_period(make_battery(gas="vented"))))
    lines = {
        words.item(WRITE, line.item): (str(line.quantity), line.amount)
        for line in found.first.lines
    }
    assert lines["Battery Slate, 12 V 100 Ah"] == ("1", Decimal("100.00"))
    assert lines["Battery cable 50 mm²"] == ("4.0", Decimal("40.00"))  # 2 × 2 m at 10
    assert lines["Battery fuse 160 A"] == ("1", Decimal("20.00"))
    assert lines["Freight"] == ("30.0", Decimal("15.00"))  # 30 kg at 0.5
    assert lines["Locker"] == ("1", Decimal("180.00"))
    assert "Exchange set" not in lines
    assert found.first.tax == rounded(found.first.net * Decimal("0.2"), "EUR")
    assert found.total == found.first.net + found.first.tax


def test_headings_in_order_and_moved_by_the_company():
    job = make_job(works=every_work())
    sender = Company(protective_devices=("Link",), box_or_ventilation=("Survey",), file="c.toml")
    found = priced(job, make_design(make_period(make_battery(gas="vented"))), sender)
    under = {
        heading: [line.item.name for line in lines] for heading, lines in found.first.by_heading()
    }
    assert list(under) == list(Heading)
    assert under[Heading.BOX_OR_VENTILATION] == ["Survey", "Locker"]
    assert under[Heading.PROTECTIVE_DEVICES] == ["Link"]


def test_a_heading_for_works_that_there_are_not():
    sender = Company(protective_devices=("Linc",), file="c.toml")
    with pytest.raises(InputError, match="nearest known: Link"):
        priced(make_job(works=every_work()), make_design(), sender)


@pytest.mark.parametrize("currency", ["EUR", "JPY", "KWD"])
@pytest.mark.parametrize("markup", [0.0, 0.137])
@pytest.mark.parametrize("shown", ["line", "spread"])
def test_lines_add_up_and_stay_near_the_model(currency, markup, shown):
    """Sums are sums of what is printed; rounding moves each line by half a unit at most."""
    prices = {"price": 99.995}
    job = make_job(works=every_work(), markup=markup, tax_rate=0.19, currency=currency)
    design = make_design(make_period(make_battery(**prices)))
    design = replace(design, upfront_cost=cashflow.upfront_cost(cashflow.payments(job, design)))
    found = price(job, design, Company(markup=shown))
    sums = found.first
    assert sum((line.amount for line in sums.lines), Decimal(0)) == sums.net
    for line in sums.lines:
        assert line.amount == rounded(line.quantity * line.price_each, currency)
    assert (not sums.added) is (shown == "spread" or markup == 0)
    unit = {"JPY": Decimal(1), "EUR": Decimal("0.01"), "KWD": Decimal("0.001")}[currency]
    units = sum(line.quantity for line in sums.lines) + len(sums.lines) + 2
    assert abs(found.total - exact(sold_at_start(job, design))) <= unit * units


@pytest.mark.parametrize("site", ["house", "clinic", "hall"])
def test_the_demo_differs_from_the_model_by_cents_at_most(site):
    for option in quote(site).options:
        pricing, design = option.pricing, option.design
        job = quote(site).job
        circuit = [line for line in pricing.first.lines if line.item.part is Part.CIRCUIT]
        assert len(circuit) >= 6  # what the optimum does not count: isolators, breakers and so on
        gross = exact(1 + job.site.markup) * exact(1 + job.site.tax_rate)
        beside = sum((line.quantity * line.cost_each for line in circuit), Decimal(0)) * gross
        model = exact(sold_at_start(job, design)) + beside
        assert abs(pricing.total - model) <= Decimal("0.1")
        told = design.life_cycle_cost + float(beside)
        assert pricing.life_cycle_cost == pytest.approx(told, abs=0.1)


def test_later_purchases_are_the_models_at_todays_prices():
    """Without rounding and drift they are the payments of the life-cycle cost, year by year."""
    job = make_job(works=every_work(), markup=0.1, tax_rate=0.2)
    design = two_banks(price_drift=-0.05)
    found = priced(job, design).replacements
    assert [(one.year, one.item) for one in found] == [(4, "Gable"), (6, "Slate"), (8, "Gable")]
    flow = cashflow.payments(job, design)
    kinds = {"inverter", "battery", "works"}
    for one in found:
        paid = sum(p.amount for p in flow if p.year == one.year and p.kind in kinds)
        assert one.model_amount == pytest.approx(paid)
    bank = found[1]
    assert float(bank.sum.total) > bank.model_amount  # today's price, the model's has drifted
    undrifted = priced(job, two_banks()).replacements[1]
    assert (bank.sum.total, bank.sum.taxes) == (undrifted.sum.total, undrifted.sum.taxes)
    amounts, plain = ([line.amount for line in one.sum.lines] for one in (bank, undrifted))
    assert amounts == plain


def test_many_banks_one_after_another_are_one_line():
    """Six banks in ten years: five after the first; the set at year 4 and 8, a chain each once."""
    inverter = make_inverter(life_years=4.0)
    design = make_design(make_period(life=1.9, bought=6), inverter=inverter)
    found = priced(make_job(), design)
    assert [(run[0].item, len(run)) for run in found.replacement_runs] == [
        ("Slate", 5),
        ("Gable", 2),
    ]
    assert words.replaced(WRITE, found, 10) == (
        "5 × Slate, one every 1.9 years, €100 today each; "
        "2 × Gable, one every 4 years, €500 today each"
    )
    assert words.replacement_time(WRITE, DAY, found.replacement_runs[0]) == (
        "5 times, one every 1.9 years"
    )
    chain = priced(make_job(), two_banks(price_drift=-0.05))
    assert [len(run) for run in chain.replacement_runs if run[0].item == "Slate"] == [1]


def test_a_generator_is_sold_and_its_fuel_is_not():
    """800 for it, 50 l of fuel at 2 a litre: the model's upfront cost is 100 above the quote's."""
    generator = Generator(
        generator="Wick",
        power_w=2000.0,
        power_va=2000.0,
        surge_w=2500.0,
        litres_h_full=1.2,
        litres_h_idle=0.4,
        price=800.0,
        life_years=4.0,
    )
    bare = make_design(make_period(), inverter=make_inverter(life_years=20.0))
    design = replace(bare, generator=generator, fuel_l=50.0)
    job = with_site(make_job(), generator=GeneratorRules(fuel_price=2.0, max_stored_l=60.0))
    found, without = priced(job, design), priced(job, bare)
    assert found.total - without.total == Decimal("800.00")
    again = [one for one in found.replacements if one.item == generator.generator]
    assert [one.year for one in again] == [4, 8]
    assert all(one.sum.total == Decimal("800.00") for one in again)


def test_a_bank_bought_twice_within_its_time_is_a_replacement():
    """Two lives of 4.5 years from the start: the second is bought in the fifth year."""
    job = make_job(works=every_work())
    bank = replace(make_period(life=4.5, end=9), bought=2)
    found = priced(job, make_design(bank, inverter=make_inverter(life_years=20.0))).replacements
    assert [(one.year, one.item) for one in found] == [(4, "Slate")]
    assert found[0].sum == sum_again(job, bank, Company())


def test_the_plan_adds_up():
    stages = (
        Stage(StageKind.WITH_ORDER, "", Decimal("0.333")),
        Stage(StageKind.NAMED, "b", Decimal("0.333")),
        Stage(StageKind.AT_HANDOVER, "", Decimal("0.334")),
    )
    found = priced(make_job(tax_rate=0.21), make_design(), Company(stages=stages))
    assert sum((due.amount for due in found.plan), Decimal(0)) == found.total


def test_margins_are_what_the_markup_leaves():
    job = make_job(works=every_work(), markup=0.25)
    for shown in ("line", "spread"):
        found = priced(job, make_design(), Company(markup=shown))
        whole = sum((one.margin for one in found.margins), Decimal(0))
        net = sum((one.cost for one in found.margins), Decimal(0))
        assert float(whole) == pytest.approx(0.25 * float(net), abs=0.05)
        assert next(found.margins).share == Decimal("0.2")  # a quarter on top: a fifth of it


def test_a_bank_bought_again_has_swap_works():
    job = make_job(works=every_work())
    found = sum_again(job, make_period(start=6), Company())
    items = [line.item.name for line in found.lines]
    assert "Exchange unit" in items
    assert "Place" not in items


def test_old_prices_are_named_with_their_date():
    """A year and a day old is told, a year is not."""
    found = curve("clinic")
    for day, told in ((date(2025, 11, 24), True), (date(2025, 11, 25), False)):
        inverter = replace(found.points[0].inverter, price_date=day)
        bank = found.points[0].banks[0]
        bank = replace(bank, battery=replace(bank.battery, price_date=None))
        point = replace(found.points[0], inverter=inverter, banks=(bank,), generator=None)
        (option,) = build_quote(Curve(found.job, None, (point,)), options=[1], day=DAY).options
        old = [(one.item.name, one.price_date) for one in option.old_prices]
        assert old == ([(inverter.inverter, day)] if told else [])


def test_the_company_of_the_demo_suits_its_price_list():
    design = curve().at(19)
    found = price(curve().job, design, company())
    assert Heading.PROTECTIVE_DEVICES in dict(found.first.by_heading())
