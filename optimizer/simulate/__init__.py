"""The independent simulation: a design run hour by hour, sharing no code with what chose it."""

from optimizer.simulate.daily import DailyBalance, daily_balance
from optimizer.simulate.days_of_cuts import CutDays, cut_days
from optimizer.simulate.durations import Durations, Exponential, Lognormal, Weibull
from optimizer.simulate.intervals import Estimate, Interval, share_interval
from optimizer.simulate.load_days import LoadDay, load_day
from optimizer.simulate.replay import Replay, Replayed, replay_log
from optimizer.simulate.ride import (
    HardestCase,
    RideThrough,
    TierHours,
    at_health,
    horizon_hours,
    ride_through,
    tier_hours,
)
from optimizer.simulate.store import DEPTH_TOLERANCE
from optimizer.simulate.traces import Trace, trace
from optimizer.simulate.verdicts import GeneratorUse, Shortfall, Verdict, verdict
from optimizer.simulate.years import DEFAULT_SEED, SimulatedYears, simulate_years

__all__ = [
    "DEFAULT_SEED",
    "DEPTH_TOLERANCE",
    "CutDays",
    "DailyBalance",
    "Durations",
    "Estimate",
    "Exponential",
    "GeneratorUse",
    "HardestCase",
    "Interval",
    "LoadDay",
    "Lognormal",
    "Replay",
    "Replayed",
    "RideThrough",
    "Shortfall",
    "SimulatedYears",
    "TierHours",
    "Trace",
    "Verdict",
    "Weibull",
    "at_health",
    "cut_days",
    "daily_balance",
    "horizon_hours",
    "load_day",
    "replay_log",
    "ride_through",
    "share_interval",
    "simulate_years",
    "tier_hours",
    "trace",
    "verdict",
]
