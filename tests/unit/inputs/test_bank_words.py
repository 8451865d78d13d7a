"""A bank told in a few words: what is read, what is assumed, what is refused."""

import pytest

from optimizer import InputError, assess, assess_told, load
from optimizer.inputs.bank_words import Taken, told_bank


@pytest.mark.parametrize(
    ("text", "unit", "system_v", "series", "strings"),
    [
        ("12 V 95 Ah agm", (12, 95, "agm"), 12, 1, 1),
        ("2 x 12V 100Ah gel", (12, 100, "gel"), 12, 1, 2),
        ("4 × 6 V, 225 Ah, lead-acid", (6, 225, "flooded"), 12, 2, 2),
        ("51,2 V 5 kWh LiFePO4", (51.2, 97.65625, "lfp"), 48, 1, 1),
    ],
)
def test_words_are_read(text, unit, system_v, series, strings):
    told = told_bank(text, load_w=100)
    battery = told.existing.battery
    assert (battery.voltage_v, battery.capacity_ah, battery.chemistry) == unit
    assert (told.existing.voltage_v, told.existing.series) == (system_v, series)
    assert told.existing.strings == strings


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("95 Ah", "voltage, capacity and chemistry"),
        ("12 V 95 Ah", "voltage, capacity and chemistry"),
        ("12 V 95 Ah agmm", "nearest: agm"),
        ("12 V 95 Ah agm gel", "voltage, capacity and chemistry"),
        ("12 V 95 Ah agm ?", "voltage, capacity and chemistry"),
        ("1.2.3 V 95 Ah agm", "voltage, capacity and chemistry"),
        ("9" * 5000 + " x 12 V 95 Ah agm", "a few words"),
        ("3 x 6 V 100 Ah agm", "12, 24 or 48 V in series"),
        ("100 V 100 Ah agm", "12, 24 or 48 V in series"),
    ],
)
def test_other_words_are_refused(text, wanted):
    with pytest.raises(InputError, match=wanted):
        told_bank(text, load_w=100)


@pytest.mark.parametrize(
    ("given", "column"),
    [({}, "--load"), ({"load_w": 0}, "--load"), ({"load_w": 9, "age_years": -1}, "--age")],
)
def test_numbers_out_of_range_are_refused(given, column):
    with pytest.raises(InputError) as caught:
        told_bank("12 V 95 Ah agm", **given)
    assert [fault.column for fault in caught.value.faults] == [column]


def test_load_and_age_have_the_ranges_of_their_fields():
    """What the page's fields take is not refused behind them."""
    told = told_bank("12 V 95 Ah agm", load("house"), load_w=1e6, age_years=200)
    assert (told.job.loads[0].running_w, told.existing.age_years) == (1e6, 200)
    with pytest.raises(InputError) as caught:
        told_bank("12 V 95 Ah agm", load_w=1e6 + 1, age_years=201)
    assert [str(fault.wanted) for fault in caught.value.faults] == [
        "a number above 0 and at most 1000000 W",
        "a number from 0 to 200 years",
    ]


@pytest.mark.slow
def test_hours_are_those_of_the_same_bank_from_a_file(tmp_path):
    """What is assumed, written into a design file, gives the same hours."""
    found, assumed = assess_told("12 V 95 Ah agm", load("house"), load_w=300, age_years=3)
    taken = {one.what: one.value for one in assumed}
    told = told_bank("12 V 95 Ah agm", load("house"), load_w=300, age_years=3)
    assert taken[Taken.INVERTER] == told.existing.inverter.inverter
    same = assess(told.job, told.existing, hours=1)
    for one, other in zip(found.hours, same.hours, strict=True):
        assert one.shortest_hours == other.shortest_hours
    assert found.hours[0].shortest_hours > found.hours[1].shortest_hours
    assert found.life.age_years == 3


@pytest.mark.slow
def test_hours_of_a_plain_load_are_its_energy_over_its_power():
    """By hand: 12 V, 100 Ah at 5 h, lithium; 90 % usable, drawn at C/10 or so."""
    found, _ = assess_told("12 V 100 Ah lfp", load_w=100)
    inverter = found.existing.inverter
    drawn_w = 100 / inverter.efficiency + inverter.no_load_w
    usable_wh = 12 * 100 * found.existing.battery.max_dod
    hours = found.hours[0].shortest_hours
    # drawn more slowly than it is rated at, the bank gives a few per cent more; cold takes some
    assert hours == pytest.approx(usable_wh / drawn_w, rel=0.08)


@pytest.mark.slow
def test_everything_not_said_is_told():
    _, alone = assess_told("12 V 95 Ah agm", load_w=300)
    assert {one.what for one in alone} == set(Taken)
    _, at_home = assess_told("12 V 95 Ah agm", load("house"))
    assert {one.what for one in at_home} == set(Taken) - {
        Taken.PLACE,
        Taken.OUTAGES,
        Taken.LOAD,
    }
