"""The second opinion, a run of outages and the ledger as plain data for programs."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from optimizer import simulate

if TYPE_CHECKING:
    from collections.abc import Sequence

    from optimizer.answers.independent_simulation import IndependentSimulation
    from optimizer.answers.ledger import Assumption
    from optimizer.answers.outage_run import OutageRun
    from optimizer.model.design import Design
    from optimizer.model.job import Job
    from optimizer.simulate import DailyBalance, Replay, SimulatedYears, Verdict


def verdict_data(verdict: Verdict) -> dict[str, Any]:
    """Return a verdict; years count from 0."""
    return {"verdict": verdict.word, **asdict(verdict)}


def simulated_data(job: Job, design: Design) -> dict[str, Any]:
    """Return what the simulation says of a design in short; years count from 0."""
    verdict = simulate.verdict(job, design)
    return {
        "verdict": verdict.word,
        "hours": verdict.hours,
        "year": verdict.year,
        "season": verdict.season,
        "start_hour": verdict.start_hour,
        "first_year_hours": verdict.first_year_hours,
        "last_year_hours": verdict.last_year_hours,
        "mean_hours": verdict.mean_hours,
    }


def opinion_data(opinion: IndependentSimulation) -> dict[str, Any]:
    """Return the second opinion; years count from 0."""
    return {
        **verdict_data(opinion.verdict),
        "ages": [asdict(age) for age in opinion.ages],
        "tiers": [{**asdict(one), "cost_hours": one.cost_hours} for one in opinion.tiers],
        "larger_loads": [asdict(one) for one in opinion.stressed],
        "bursts_hours": opinion.burst_hours,
        "log": None if opinion.replay is None else replay_data(opinion.replay),
        "simulated_years": drawn_data(opinion.simulated_years),
        "scheduled_cuts": None if opinion.balance is None else balance_data(opinion.balance),
    }


def replay_data(replay: Replay) -> dict[str, Any]:
    """Return the site's log with the design in place."""
    return {
        "year": replay.year,
        "log_years": replay.log_years,
        "outages": len(replay.outages),
        "carried": replay.carried,
        "hours_unserved_a_year": replay.hours_unserved_a_year,
        "kwh_unserved_a_year": replay.kwh_unserved_a_year,
        "longest_carried_hours": replay.longest_carried_hours,
        "each": [
            {**asdict(outage), "start": outage.start.isoformat(), "carried": outage.carried}
            for outage in replay.outages
        ],
    }


def drawn_data(drawn: SimulatedYears) -> dict[str, Any]:
    """Return simulated years with their intervals."""
    return asdict(drawn)


def balance_data(balance: DailyBalance) -> dict[str, Any]:
    """Return the hardest day of scheduled cuts."""
    return {**asdict(balance), "closes": balance.closes}


def outages_data(run: OutageRun) -> dict[str, Any]:
    """Return what a design carries of the site's log and of drawn years."""
    return {
        "durations": run.durations,
        "log": None if run.replay is None else replay_data(run.replay),
        "simulated_years": drawn_data(run.simulated_years),
        "scheduled_cuts": None if run.balance is None else balance_data(run.balance),
    }


def assumptions_data(ledger: Sequence[Assumption]) -> list[dict[str, Any]]:
    """Return the ledger, one object a number."""
    return [asdict(one) for one in ledger]
