"""Every message about a design file, once: place, what was found, what would be right."""

from __future__ import annotations

import pytest

from optimizer import assess, load, load_design
from optimizer.errors import InputError
from optimizer.model.warning import WarningKind
from tests.site_files import CHEMISTRIES_HEAD, write_site

VALID = """\
inverter = "Tide 24"
units = 1
battery = "Wharf 6"
strings = 2
voltage = 24
age_years = 1.5
paid = 900
"""

# As VALID, with the bank's values typed in.
TYPED = """\
inverter = "Tide 24"
units = 1
strings = 2
voltage = 24

[battery]
battery = "Reed"
chemistry = "agm"
voltage_v = 12
capacity_ah = 80
rate_h = 20
price = 150
mass_kg = 25
"""

INVERTER = """\
units = 1
battery = "Wharf 6"
strings = 2
voltage = 12

[inverter]
system_v = 12
power_w = 900
surge_w = 1800
efficiency = 0.9
no_load_w = 6
standby_w = 4
charger_a = 20
transfer_ms = 20
mass_kg = 7
max_units = 1
life_years = 8
price = 310
"""

FILE = "bank.toml"

# (what, text, (old, new), [(row, column, piece of found, piece of wanted), …])
CASES = [
    ("unknown key", VALID, ("paid", "payed"), [(7, "payed", "unknown key", "nearest known: paid")]),
    ("no units", VALID, ("units = 1\n", ""), [(None, "units", "no such key", "a whole number")]),
    ("half a unit", VALID, ("units = 1", "units = 0.5"), [(2, "units", "0.5", "whole number")]),
    ("strings", VALID, ("= 2\n", "= 0\n"), [(4, "strings", "0", "from 1 to 40")]),
    ("no voltage", VALID, ("= 24", "= 36"), [(5, "voltage", "36", "12, 24 or 48 V")]),
    ("age", VALID, ("1.5", "-1"), [(6, "age_years", "-1", "from 0 to 200 years")]),
    (
        "a battery not in the list",
        VALID,
        ("Wharf 6", "Warf 6"),
        [(3, "battery", "'Warf 6'", "nearest known: Wharf 6")],
    ),
    (
        "no inverter",
        VALID,
        ('inverter = "Tide 24"\n', ""),
        [(None, "inverter", "no such key", "a table [inverter]")],
    ),
    (
        "an inverter of another voltage",
        VALID,
        ("Tide 24", "Tide 12"),
        [(5, "voltage", "24", "12, the voltage of Tide 12")],
    ),
    (
        "units that make no string",
        TYPED,
        ("voltage_v = 12", "voltage_v = 48"),
        [(4, "voltage", "24", "(48 V class) make in series: 48 V")],
    ),
    (
        "a voltage of no class",
        TYPED,
        ("voltage_v = 12", "voltage_v = 128"),
        [(9, "battery.voltage_v", "128", "a misplaced decimal? 12.8 V")],
    ),
    (
        "unknown key of the battery",
        TYPED,
        ("capacity_ah", "capacity"),
        [
            (6, "battery.capacity_ah", "no such key", "Ah"),
            (10, "battery.capacity", "an unknown key", "nearest known: capacity_ah"),
        ],
    ),
    (
        "a key of the design below the table",
        TYPED,
        ("mass_kg = 25", "mass_kg = 25\nage_years = 2"),
        [(14, "battery.age_years", "an unknown key", "above the first [table]")],
    ),
    (
        "unknown chemistry",
        TYPED,
        ('"agm"', '"amg"'),
        [(8, "battery.chemistry", "'amg'", "nearest known: agm")],
    ),
    (
        "no number",
        TYPED,
        ("capacity_ah = 80", 'capacity_ah = "much"'),
        [(10, "battery.capacity_ah", "'much'", "Ah")],
    ),
    (
        "a price in no currency",
        TYPED,
        ("price = 150", "price = -1"),
        [(12, "battery.price", "-1", "from 0 to 1e12")],
    ),
    (
        "a share in percent",
        INVERTER,
        ("efficiency = 0.9", "efficiency = 90"),
        [(10, "inverter.efficiency", "90", "0.9 if 90 % was meant")],
    ),
    (
        "a generator where the site has no rules for one",
        VALID,
        ("paid = 900", 'generator = "Puffer"'),
        [(7, "generator", "a generator", "a site with a [generator] section")],
    ),
    (
        "a contract where the site offers none",
        VALID,
        ("paid = 900", "contract_w = 4600"),
        [(7, "contract_w", "4600", "the site offers no supply contracts")],
    ),
    (
        "no TOML",
        VALID,
        ("units = 1", "units: 1"),
        [(2, None, "'units: 1'", 'lines such as inverter = "name"')],
    ),
]


def read(tmp_path, text, changes=None):
    site = write_site(tmp_path, changes)
    (tmp_path / FILE).write_text(text, encoding="utf-8")
    return load_design(tmp_path / FILE, site)


@pytest.mark.parametrize(
    ("text", "change", "expected"), [pytest.param(*case, id=what) for what, *case in CASES]
)
def test_message(tmp_path, text, change, expected):
    assert change[0] in text
    with pytest.raises(InputError) as caught:
        read(tmp_path, text.replace(*change, 1))
    faults = caught.value.faults
    assert [(fault.row, fault.column) for fault in faults] == [case[:2] for case in expected]
    for fault, (*_, found, wanted) in zip(faults, expected, strict=True):
        assert fault.file == FILE
        assert found in fault.found
        assert wanted in fault.wanted


def test_no_such_file(tmp_path):
    with pytest.raises(InputError, match="no such file; wanted a design file"):
        load_design(tmp_path / "none.toml", write_site(tmp_path))


def test_no_text(tmp_path):
    (tmp_path / FILE).write_bytes(b"\x89PNG\x00\x00")
    with pytest.raises(InputError, match="bytes that are no text"):
        load_design(tmp_path / FILE, write_site(tmp_path))


def test_a_valid_file(tmp_path):
    found = read(tmp_path, VALID)
    assert (found.inverter.inverter, found.battery.battery) == ("Tide 24", "Wharf 6")
    assert (found.units, found.strings, found.series, found.voltage_v) == (1, 2, 4, 24)
    assert (found.age_years, found.paid) == (1.5, 900.0)


def test_a_bank_typed_in_takes_from_its_chemistry_what_it_leaves_open(tmp_path):
    found = read(tmp_path, TYPED + "max_dod = 0.6\n")
    assert (found.battery.battery, found.battery.max_dod) == ("Reed", 0.6)
    assert found.battery.peukert == 1.10
    assert found.battery.sources["peukert"].startswith("chemistry agm shipped")
    assert "max_dod" not in found.battery.sources
    assert (found.age_years, found.paid) == (0.0, None)


def test_the_price_list_own_chemistries_go_first(tmp_path):
    row = "agm,lead,valve_regulated,1.3,,,,,,,,,,,,,,,,,,\n"
    found = read(tmp_path, TYPED)
    assert found.battery.peukert == 1.10
    (tmp_path / "chemistries.csv").write_text(CHEMISTRIES_HEAD + row, encoding="utf-8")
    site = tmp_path / "site.toml"
    assert load_design(tmp_path / FILE, site).battery.peukert == 1.3
    assert load_design(tmp_path / FILE, site, tmp_path).battery.peukert == 1.3


def test_an_inverter_typed_in(tmp_path):
    found = read(tmp_path, INVERTER).inverter
    assert (found.inverter, found.power_w_40c, found.power_va) == (
        "inverter of bank.toml",
        900.0,
        900.0,
    )


#: A design file for the demo house, which has contracts and rules for a generator.
BESIDE = """\
inverter = "Bosunwick Galley 24"
units = 1
battery = "Ostley Hearth"
strings = 2
voltage = 24
contract_w = 6900
generator = "Rookpike Nineteen"
fuel_l = 8.5
"""


def read_beside(tmp_path, text):
    (tmp_path / FILE).write_text(text, encoding="utf-8")
    return load_design(tmp_path / FILE, "house")


def test_a_contract_and_a_generator_of_the_price_list(tmp_path):
    found = read_beside(tmp_path, BESIDE)
    assert (found.contract.power_w, found.generator.generator) == (6900.0, "Rookpike Nineteen")
    assert found.fuel_l == 8.5
    bare = read_beside(tmp_path, BESIDE.replace("fuel_l = 8.5\n", ""))
    assert bare.fuel_l is None


@pytest.mark.parametrize(
    ("change", "row", "column", "wanted"),
    [
        (("6900", "5000"), 6, "contract_w", "one of 4600, 6900 W"),
        (("Rookpike Nineteen", "Rookpike Ninety"), 7, "generator", "known: Rookpike Nineteen"),
        (
            ('generator = "Rookpike Nineteen"\nfuel_l = 8.5', "[generator]\npower_w = 900"),
            7,
            "generator.litres_h_full",
            "l per hour",
        ),
        (
            ('generator = "Rookpike Nineteen"\nfuel_l = 8.5', "[generator]\npower_w = [900]"),
            8,
            "generator.power_w",
            "one number or one text",
        ),
    ],
)
def test_messages_about_what_stands_beside(tmp_path, change, row, column, wanted):
    text = BESIDE.replace(*change)
    with pytest.raises(InputError) as caught:
        read_beside(tmp_path, text)
    fault = caught.value.faults[0]
    assert (fault.row, fault.column) == (row, column)
    assert wanted in fault.wanted


def test_durations_in_minutes_are_asked_about(tmp_path):
    long = "start,end\n2024-01-10T17:40,2024-01-19T20:10\n2024-03-01T00:00,2024-03-11T00:00\n"
    warnings = load(write_site(tmp_path, {"outages.csv": long})).warnings
    assert WarningKind.LONG_OUTAGES in {one.kind for one in warnings}


def test_a_log_of_one_outage_is_read(tmp_path):
    one = "start,end\n2024-01-10T17:40,2024-01-10T20:10\n"
    job = load(write_site(tmp_path, {"outages.csv": one}))
    assert job.outages.yearly == ((2.5, 0.5),)
    assert assess(job, read(tmp_path, VALID, {"outages.csv": one})).simulation.replay.carried == 1
