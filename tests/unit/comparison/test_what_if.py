"""A job with other numbers: how they are written, and that nothing is supposed in silence."""

from __future__ import annotations

import pytest

from optimizer.comparison.parameters import sensitivity_parameters_of
from optimizer.comparison.what_if import changes_of
from optimizer.errors import FaultKind, InputError
from optimizer.model.warning import WarningKind
from optimizer.report.words.warnings import job_warning
from optimizer.report.words.writer import Writer

from .jobs import small_house


@pytest.mark.parametrize(
    ("wish", "rate"),
    [(0.12, 0.12), ("0.12", 0.12), ("12%", 0.12), ("+2%", 0.05), ("-0.01", 0.02), ("x2", 0.06)],
)
def test_a_share_is_told_as_a_value_a_change_or_a_factor(wish, rate):
    job = small_house().with_site(discount_rate=0.03)
    assert job.what_if(rate=wish).site.discount_rate == pytest.approx(rate)


def test_per_cent_are_of_the_value_as_it_stands():
    job = small_house()
    price, tariff = job.catalog.batteries[0].price, job.site.tariff
    family = job.catalog.batteries[0].family
    made = job.what_if({f"price:{family}": "-20%"}, tariff="+50%", outages="x2")
    assert made.catalog.batteries[0].price == pytest.approx(0.8 * price)
    assert made.site.tariff == pytest.approx(1.5 * tariff)
    assert made.outages.times_a_year == pytest.approx(2 * job.outages.times_a_year)
    assert {one.price for one in job.catalog.batteries if one.family == family} != {
        one.price for one in made.catalog.batteries if one.family == family
    }


def test_each_what_if_is_a_warning_of_its_own():
    job = small_house()
    made = job.what_if(study_period=12, room="+2")
    added = made.warnings[len(job.warnings) :]
    assert [one.kind for one in added] == [WarningKind.WHAT_IF] * 2
    study, room = (job_warning(Writer("EUR"), one) for one in added)
    assert "12 years" in study
    assert f"{job.site.mean_degc:g} °C" in room


@pytest.mark.parametrize(
    ("name", "wish", "kind"),
    [
        ("outage", "x2", FaultKind.UNKNOWN),
        ("rate", 0.9, FaultKind.VALUE),
        ("rate", "high", FaultKind.VALUE),
        ("rate", "x2%", FaultKind.VALUE),
        ("rate", float("nan"), FaultKind.VALUE),
        ("room", "x2", FaultKind.VALUE),
        ("study-period", 9.5, FaultKind.VALUE),
    ],
)
def test_what_cannot_be_supposed_says_what_could(name, wish, kind):
    job = small_house()
    with pytest.raises(InputError) as caught:
        job.what_if({name: wish})
    (fault,) = caught.value.faults
    assert (fault.column, fault.kind) == (name, kind)
    if kind is FaultKind.VALUE:
        known = {one.key: one for one in sensitivity_parameters_of(job)}
        assert f"{known[name].high:g}" in fault.wanted


def test_a_change_of_a_temperature_is_told_as_an_example():
    with pytest.raises(InputError, match=r"from .* to .* °C, or a change of \S+ °C such as \+1 or"):
        small_house().what_if({"room": "+90"})


def test_a_number_is_supposed_once():
    with pytest.raises(InputError) as caught:
        changes_of(["rate=1%", "rate=2%", "outages"])
    assert [one.kind for one in caught.value.faults] == [FaultKind.TWICE, FaultKind.VALUE]
    with pytest.raises(InputError, match="each once"):
        small_house().what_if({"price:lead": 1.1}, price_lead=1.2)
