"""Curves of many sites: kept as they come, shared with workers, and no site stops another."""

from __future__ import annotations

import os
import signal
import sqlite3
import subprocess
import sys
import time
from contextlib import closing
from dataclasses import replace

import pytest

from optimizer.answers.choice import choose
from optimizer.comparison.first_purchases import first_purchase
from optimizer.engine.curve import Search
from optimizer.errors import InputError
from optimizer.inputs.load import load
from optimizer.model.programme import PlannedSite
from optimizer.programme import survey
from optimizer.programme.allotment import allot
from optimizer.programme.cluster import finished_on
from optimizer.programme.curves import Asked, site_curve
from optimizer.programme.store import Store, fingerprint
from optimizer.programme.survey import FailureKind, site_curves

from .programmes import write_programme

HOME = load("house").with_site(max_hours=3, target_hours=2, generator=None)
ROWS = "".join(f"home {n},home,,1,,{1 + n / 10}\n" for n in range(5))
#: Works out two sites of a table, says so and waits to be ended.
TWO = """
import sys, time
from optimizer.programme import survey
work, left = survey._one, [1, 2]
def one(task):
    if not left:
        print("two", flush=True)
        time.sleep(600)
    left.pop()
    return work(task)
survey._one = one
survey.site_curves(sys.argv[1], store=sys.argv[2], processes=1)
"""


def kept(store):
    with closing(sqlite3.connect(store)) as base:
        return base.execute("SELECT count(*) FROM curves").fetchone()[0]


def counted(monkeypatch):
    """Every job that is worked out from here on, one by one in this process."""
    asked, work = [], survey._one

    def one(task):
        asked.append(task[0].site.name)
        return work(task)

    monkeypatch.setattr(survey, "_one", one)
    return asked


@pytest.mark.slow
def test_a_killed_run_goes_on_where_it_was(tmp_path, monkeypatch):
    table, store = write_programme(tmp_path, ROWS), tmp_path / "curves.sqlite"
    words = [sys.executable, "-c", TWO, str(table), str(store)]
    with subprocess.Popen(words, stdout=subprocess.PIPE, text=True) as run:
        assert run.stdout.readline() == "two\n"
        run.kill()
    assert kept(store) == 2
    asked = counted(monkeypatch)
    found = site_curves(table, store=store, processes=1)
    assert (len(asked), len(found.candidates), kept(store)) == (3, 5, 5)
    fresh = site_curves(table, processes=1)
    assert [one.curve for one in found.candidates] == [one.curve for one in fresh.candidates]


def test_equal_sites_are_worked_out_once_and_names_change_nothing(tmp_path, monkeypatch):
    asked = counted(monkeypatch)
    sites = [PlannedSite(name=name, job=HOME.with_site(name=name)) for name in "abc"]
    found = site_curves(sites, processes=1, store=tmp_path / "curves.sqlite")
    assert (len(asked), len(found.candidates)) == (1, 3)
    raw = (tmp_path / "curves.sqlite").read_bytes()
    assert not any(name in raw for name in (b"Gull Row", b"Varrowmouth"))


def test_another_question_is_another_curve():
    plain = fingerprint(HOME, Asked())
    others = [
        fingerprint(HOME, Asked(scenarios=True)),
        fingerprint(HOME.with_site(tariff=0.5), Asked()),
        fingerprint(replace(HOME, loads=HOME.loads[1:]), Asked()),
    ]
    assert len({plain, *others}) == 4
    assert fingerprint(HOME.with_site(name="elsewhere"), Asked()) == plain


def test_a_curve_comes_back_from_the_store_as_it_went_in(tmp_path):
    store, curve = Store(tmp_path / "s.sqlite"), site_curve(HOME, Asked(scenarios=True))
    store["key"] = curve
    assert store.get("key") == curve
    with closing(sqlite3.connect(tmp_path / "s.sqlite")) as base, base:
        base.execute("UPDATE curves SET curve = '{}'")
    assert store.get("key") is None  # damaged: worked out again


def test_a_file_that_is_no_store_is_refused(tmp_path):
    (tmp_path / "notes.txt").write_text("no database at all, but long enough to be read as one")
    with pytest.raises(InputError, match="a file of curves that keeplit wrote"):
        Store(tmp_path / "notes.txt")


def test_a_site_that_fails_stops_no_other(monkeypatch):
    def fails(job, asked):
        if job.site.name == "bad":
            raise ZeroDivisionError("division by zero")
        return site_curve(job, asked)

    monkeypatch.setattr(survey, "site_curve", fails)
    nothing_fits = replace(HOME, catalog=replace(HOME.catalog, batteries=()))
    sites = [
        PlannedSite(name="good", job=HOME),
        PlannedSite(name="bad", job=HOME.with_site(name="bad", tariff=0.4)),
        PlannedSite(name="bare", job=nothing_fits),
    ]
    found = site_curves(sites, processes=1)
    assert [one.site.name for one in found.candidates] == ["good"]
    assert {one.site: one.kind for one in found.failures} == {
        "bad": FailureKind.PROGRAM,
        "bare": FailureKind.NOTHING_FITS,
    }


@pytest.mark.slow
def test_every_point_leads_back_to_its_design():
    curve = site_curve(HOME, Asked(later=True))
    for point in curve.points:
        within = HOME.with_site(budget=point.upfront_cost)
        either = (within, within.with_site(later_limit=0.0))
        found = [one for one in (Search(job).cheapest(point.hours) for job in either) if one]
        assert (point.life_cycle_cost, point.bought.battery) in [
            (pytest.approx(one.life_cycle_cost), one.banks[0].battery.battery) for one in found
        ]


@pytest.mark.slow
@pytest.mark.parametrize("later_limit", [None, 0.0, 4000.0])
def test_every_line_leads_back_to_its_design(later_limit):
    site = PlannedSite(name="clinic", job=load("clinic").with_site(max_hours=12, generator=None))
    sites = site_curves([site], later=later_limit is not None, processes=1)
    found = allot(sites, 20_000, floor_hours=12, later_limit=later_limit)
    (line,) = found.lines
    design = choose(found.job_of(line), hours=12).design
    assert first_purchase(design) == line.point.bought
    assert design.life_cycle_cost == pytest.approx(line.point.life_cycle_cost)
    later = tuple((one.year, pytest.approx(one.amount)) for one in design.purchases if one.year)
    assert line.point.bought_later == later


def worked_out(task):
    """What a worker of the cluster does; one task ends its worker, none is done by one alone."""
    number, folder = task
    mark = folder / "worker-was-killed"
    if number == 3 and not mark.exists():
        mark.write_text(str(os.getpid()))
        os.kill(os.getpid(), signal.SIGKILL)
    (folder / f"{os.getpid()}-worked").touch()
    until = time.monotonic() + 60
    while len(list(folder.glob("*-worked"))) < 2 and time.monotonic() < until:
        time.sleep(0.02)
    curve = site_curve(HOME.with_site(tariff=0.3 + number / 10), Asked())
    return number, len(curve.points)


@pytest.mark.slow
@pytest.mark.filterwarnings("ignore::DeprecationWarning", "ignore::ResourceWarning")
@pytest.mark.filterwarnings("ignore::pytest.PytestUnraisableExceptionWarning")
def test_a_cluster_loses_a_worker_and_no_site(tmp_path):
    distributed = pytest.importorskip("distributed")
    sites = [PlannedSite(name=str(n), job=HOME.with_site(tariff=0.3 + n / 10)) for n in range(2)]
    with distributed.LocalCluster(
        n_workers=2, threads_per_worker=1, processes=True, dashboard_address=":0", silence_logs=50
    ) as cluster:
        tasks = [(number, tmp_path) for number in range(8)]
        found = dict(finished_on(cluster.scheduler_address, worked_out, tasks))
        shared = site_curves(sites, scheduler=cluster.scheduler_address)
    assert shared == site_curves(sites, processes=1)
    assert (tmp_path / "worker-was-killed").is_file()
    assert len(list(tmp_path.glob("*-worked"))) >= 2
    assert found == {number: worked_out((number, tmp_path)) for number in range(8)}
