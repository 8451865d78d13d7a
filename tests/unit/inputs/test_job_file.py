"""Job files: the same job to the cent, older versions, newer and broken ones."""

import json

import pytest

from optimizer import InputError, frontier
from optimizer.inputs.demo import demo_names, site_file
from optimizer.inputs.draft import draft_from_files
from optimizer.inputs.job_file import VERSION, Kept, open_job, save_job

KEPT = Kept(24, 4913.5, 5469.1, "EUR", "lithium", "Tray, 1 × 2, 24 V", "Galley", "none", "ab12")


def house() -> dict:
    return json.loads(save_job(draft_from_files(site_file("house")), [KEPT]))


def packed(data: object) -> bytes:
    return json.dumps(data).encode()


@pytest.mark.slow
@pytest.mark.parametrize("site", demo_names())
def test_saved_job_opens_to_the_same_curve(site):
    draft = draft_from_files(site_file(site))
    held = open_job(save_job(draft, [KEPT]))
    assert held.draft == draft
    assert held.kept == (KEPT,)
    assert frontier(held.draft.job()).points == frontier(draft.job()).points


def test_same_job_same_bytes():
    draft = draft_from_files(site_file("house"))
    raw = save_job(draft, [KEPT])
    assert save_job(draft, [KEPT]) == raw
    held = open_job(raw)
    assert save_job(held.draft, held.kept) == raw


def test_version_stands_inside():
    assert house()["keeplit_job"] == VERSION


def test_first_version_opens():
    """Version 1 had no designs kept beside."""
    old = house()
    old["keeplit_job"] = 1
    del old["kept"]
    held = open_job(packed(old))
    assert held.kept == ()
    assert held.draft == draft_from_files(site_file("house"))


def test_newer_version_is_refused_by_its_number():
    new = {"keeplit_job": VERSION + 1, "anything": "else"}
    with pytest.raises(InputError, match=f"found version {VERSION + 1}; wanted a version up to"):
        open_job(packed(new), "tomorrow.json")


@pytest.mark.parametrize(
    ("raw", "said"),
    [
        (b"", "text that is no JSON"),
        (b"\xff\xfe\x00", "text that is no JSON"),
        (b"[1, 2", "text that is no JSON"),
        (b'{"keeplit_job": NaN}', "text that is no JSON"),
        (b"[" * 5000 + b"]" * 5000, "wanted a job saved by keeplit"),
        (b"[]", "no such key"),
        (b"{}", "no such key"),
        (b'{"keeplit_job": "2"}', "wanted a version from 1"),
        (b'{"keeplit_job": true}', "wanted a version from 1"),
        (b'{"keeplit_job": 2}', "wanted the sections of a site file"),
        (b'{"keeplit_job": 2, "site": {}}', "wanted the tables of the job"),
    ],
)
def test_broken_file_says_what_it_is_not(raw, said):
    with pytest.raises(InputError, match=said):
        open_job(raw, "x.json")


def test_table_of_something_else_is_refused():
    for table in ("text", {"file": 1, "rows": []}, {"file": "a", "rows": [[1]]}, {"file": "a"}):
        data = house()
        data["tables"]["loads"] = table
        with pytest.raises(InputError, match=r"tables\.loads"):
            open_job(packed(data))
    data = house()
    data["tables"]["../secret"] = {"file": "a", "rows": []}
    with pytest.raises(InputError, match="an unknown table"):
        open_job(packed(data))


def test_paths_have_no_place_in_a_job_file():
    data = house()
    data["site"]["outages"]["log"] = "/etc/passwd"
    with pytest.raises(InputError, match=r"outages\.log: found a path"):
        open_job(packed(data))


def test_kept_designs_are_checked():
    for kept in (
        "x",
        [{"hours": 1}],
        [house()["kept"][0]] * 5,
        [{**house()["kept"][0], "hours": "24"}],
        [{**house()["kept"][0], "upfront_cost": True}],
    ):
        data = house()
        data["kept"] = kept
        with pytest.raises(InputError, match="kept"):
            open_job(packed(data))


def test_faults_of_the_job_come_with_their_rows():
    data = house()
    data["tables"]["loads"]["rows"][1][3] = "-80"
    data["site"]["economics"]["tariff"] = "cheap"
    with pytest.raises(InputError) as caught:
        open_job(packed(data))
    assert [(fault.row, fault.column) for fault in caught.value.faults] == [
        (None, "economics.tariff"),
        (2, "running_w"),
    ]


def test_a_key_without_a_value_is_at_fault():
    """JSON can say null: no key has it, required or not."""
    data = house()
    data["site"]["outages"]["log_years"] = None
    data["site"]["economics"]["tariff"] = None
    data["site"]["limits"] = {"budget": None}
    with pytest.raises(InputError) as caught:
        open_job(packed(data))
    assert [(fault.column, str(fault.found)) for fault in caught.value.faults] == [
        ("outages.log_years", "None"),
        ("economics.tariff", "None"),
        ("limits.budget", "None"),
    ]
