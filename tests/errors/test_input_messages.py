"""Bad files as a whole: every fault of every file together, and paths that lead nowhere."""

from __future__ import annotations

import pytest

from optimizer.errors import InputError
from optimizer.inputs.load import load_job
from tests.site_files import write_site

SITE, LOADS, LOG = "site.toml", "loads.csv", "outages.csv"
BATTERIES, INVERTERS, CHEMISTRIES = "batteries.csv", "inverters.csv", "chemistries.csv"


def test_faults_of_all_files_come_together(tmp_path):
    changes = {
        SITE: ("horizon_years = 10", "horizon_years = 60"),
        LOADS: ("0.4,", "40,"),
        LOG: ("2024-01-10T20:10", "2024-01-10T17:10"),
        BATTERIES: ("12.8", "128"),
        INVERTERS: ("0.91", "1.91"),
        "works.csv": ("150", "-150"),
        "cables.csv": ("0.554", "0"),
        "fuses.csv": ("100", "x"),
        CHEMISTRIES: "chemistry,max_dod\nagm,2\n",
    }
    with pytest.raises(InputError) as caught:
        load_job(write_site(tmp_path, changes))
    assert [fault.file for fault in caught.value.faults] == [
        SITE,
        LOADS,
        LOG,
        CHEMISTRIES,
        BATTERIES,
        INVERTERS,
        "works.csv",
        "cables.csv",
        "fuses.csv",
    ]


def test_the_whole_message_reads_well(tmp_path):
    with pytest.raises(InputError) as caught:
        load_job(write_site(tmp_path, {LOADS: ("0.4,", "40,")}))
    assert str(caught.value) == (
        "loads.csv, row 2, duty: found '40'; wanted a share of 0…1, above 0 and at most 1, "
        "e.g. 0.4 for 40 %; 0.4 if 40 % was meant"
    )
    assert caught.value.exit_status == 2


def test_long_cells_are_cut(tmp_path):
    with pytest.raises(InputError) as caught:
        load_job(write_site(tmp_path, {LOADS: ("0:00-24:00", "6" * 5000)}))
    assert len(caught.value.faults[0].found) == 60


def test_site_that_is_not_there(tmp_path):
    with pytest.raises(InputError, match=r"nowhere\.toml: found no such file"):
        load_job(tmp_path / "nowhere.toml")


def test_site_that_is_a_folder(tmp_path):
    with pytest.raises(InputError, match="found a folder; wanted a site file"):
        load_job(tmp_path)


def test_catalog_argument_that_is_a_file(tmp_path):
    site = write_site(tmp_path)
    with pytest.raises(InputError) as caught:
        load_job(site, tmp_path / "batteries.csv")
    (fault,) = caught.value.faults
    assert fault.file == str(tmp_path / "batteries.csv")
    assert (fault.row, fault.column, fault.found) == (None, None, "a file")


def test_catalog_is_read_even_where_the_site_is_not(tmp_path):
    write_site(tmp_path, {BATTERIES: ("12.8", "128")})
    with pytest.raises(InputError) as caught:
        load_job(tmp_path / "nowhere.toml", tmp_path)
    assert [fault.column for fault in caught.value.faults] == [None, "voltage_v"]


def test_faults_of_one_file_stand_together(tmp_path):
    changes = {
        SITE: [('["must"]', '["musk"]'), ('["gel"]', '["gal"]'), ("tariff = 0.3", "tariff = -1")],
        LOADS: ("0.4,", "40,"),
    }
    with pytest.raises(InputError) as caught:
        load_job(write_site(tmp_path, changes))
    assert [fault.file for fault in caught.value.faults] == [SITE] * 3 + [LOADS]


def test_a_log_that_is_not_there(tmp_path):
    with pytest.raises(InputError) as caught:
        load_job(write_site(tmp_path, {LOG: None}))
    (fault,) = caught.value.faults
    assert (fault.file, fault.found) == (str(tmp_path / LOG), "no such file")


def test_a_catalog_path_that_no_system_takes(tmp_path):
    with pytest.raises(InputError, match="wanted the folder that holds batteries"):
        load_job(write_site(tmp_path), "x" * 5000)
