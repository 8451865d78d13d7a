"""A design through the outages as they come, as tables."""

from collections.abc import Sequence

from optimizer.answers.outage_run import OutageRun
from optimizer.model.outages import LoggedOutage
from optimizer.report.grids.grid import Cell, Column, Grid, Kind, Row, quantities
from optimizer.report.words import simulation as words
from optimizer.report.words.writer import Writer
from optimizer.simulate import Replay, Trace


def log(write: Writer, replay: Replay) -> Grid:
    """Return the site's log, outage by outage."""
    columns = [
        Column("start", write.say("Start"), is_short=True),
        Column("hours", write.say("Lasted"), Kind.NUMBER, 1, "h"),
        Column("hours_carried", write.say("Carried"), Kind.HOURS, 1, "h"),
        Column("kwh_asked", write.say("Demand"), Kind.NUMBER, 2, "kWh", is_detail=True),
        Column("kwh_unserved", write.say("Unserved"), Kind.NUMBER, 2, "kWh"),
        Column("charge_before", write.say("Charge before"), Kind.SHARE, 0, is_detail=True),
        Column("charge_after", write.say("Charge after"), Kind.SHARE, 0, is_detail=True),
        Column("carried", "", is_short=True),
    ]
    rows: list[Row] = [
        [
            f"{outage.start:%Y-%m-%d %H:%M}",
            outage.hours,
            Cell(outage.hours, Kind.NUMBER, 1) if outage.carried else outage.hours_carried,
            outage.kwh_asked,
            outage.kwh_unserved or None,
            1 - outage.depth_before,
            1 - outage.depth_after,
            "" if outage.carried else write.say("not carried"),
        ]
        for outage in replay.outages
    ]
    every = replay.outages
    total: Row = [
        write.say("Total"),
        sum(outage.hours for outage in every),
        sum(min(outage.hours, outage.hours_carried) for outage in every),
        sum(outage.kwh_asked for outage in every),
        sum(outage.kwh_unserved for outage in every),
        *(None, None, None),
    ]
    title = write.say(
        "The site's own log, with the bank as it is in year {year}: {carried} of {n} carried",
        year=replay.year + 1,
        carried=replay.carried,
        n=len(every),
    )
    return Grid("log", title, columns, [*rows, total], has_total=True)


def simulated_years(write: Writer, run: OutageRun) -> Grid:
    """Return what many simulated years come to."""
    found = run.simulated_years
    columns = quantities(Kind.NUMBER, 1)
    laws = {
        "log": write.say("the site's log"),
        "typed": write.say("the site's rows"),
        "daily": write.say("the site's schedule"),
    }
    title = write.say(
        "{n:number} simulated years, durations from {law}",
        n=found.years,
        law=laws.get(run.durations, run.durations),
    )
    if found.share_carried is None:
        none = write.say("none")
        return Grid("simulated_years", title, columns, [[write.say("Outages a year"), none, ""]])
    unserved, energy = found.hours_unserved, found.kwh_unserved
    whole = Cell(found.share_of_years_whole, Kind.SHARE, 1)
    rows: list[Row] = [
        [write.say("Outages a year"), found.outages_a_year, ""],
        [write.say("Share carried to the end"), words.share(write, found.share_carried), ""],
        [write.say("Unserved hours a year"), words.estimate(write, unserved), "h"],
        [write.say("Unserved energy a year"), words.estimate(write, energy), "kWh"],
        [
            write.say("Unserved energy a year with nothing in place"),
            run.nothing_done.unserved_kwh_per_year,
            "kWh",
        ],
        [write.say("Years in which every outage is carried"), whole, ""],
        [write.say("Longest outage carried"), found.longest_carried_hours, "h"],
        [write.say("Longest outage simulated"), found.longest_hours, "h"],
    ]
    return Grid("simulated_years", title, columns, rows)


def logged(write: Writer, outages: Sequence[LoggedOutage]) -> Grid:
    """Return a log of outages as it was read."""
    columns = [
        Column("start", write.say("Start"), is_short=True),
        Column("end", write.say("End"), is_short=True),
        Column("hours", write.say("Lasted"), Kind.NUMBER, 1, "h"),
    ]
    rows: list[Row] = [
        [f"{one.start:%Y-%m-%d %H:%M}", f"{one.end:%Y-%m-%d %H:%M}", one.hours] for one in outages
    ]
    return Grid("outages", write.say("Outage log"), columns, rows)


def hour_by_hour(write: Writer, trace: Trace) -> Grid:
    """Return one outage: state of charge, and what each tier takes until the next row."""
    columns = [
        Column("hours", write.say("Since the grid failed"), Kind.HOURS, 1, "h"),
        Column("clock", write.say("Time of day"), is_short=True),
        Column("state_of_charge", write.say("State of charge"), Kind.SHARE, 0),
        *(Column(tier, tier, Kind.NUMBER, unit="W") for tier in trace.loads_w),
    ]
    rows: list[Row] = []
    for place, hours in enumerate(trace.hours.tolist()):
        clock = write.say("{hour:clock}", hour=(trace.start_hour + hours) % 24)
        watts = [float(one[place]) if place < len(one) else None for one in trace.loads_w.values()]
        rows.append([hours, clock, float(trace.state_of_charge[place]), *watts])
    return Grid("outage", write.say("The outage hour by hour"), columns, rows)
