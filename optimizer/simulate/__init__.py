"""The second opinion: a design run hour by hour, sharing no code with the program that chose it."""

from optimizer.simulate.daily import DailyBalance, daily_balance
from optimizer.simulate.drawn import DEFAULT_SEED, Estimate, YearsResult, draw_years
from optimizer.simulate.durations import Durations, Exponential, Known, Lognormal, Weibull
from optimizer.simulate.outages import Replay, Replayed, replay_log
from optimizer.simulate.profile import Profile, hourly, minutely
from optimizer.simulate.ride import (
    LifeStage,
    Place,
    RideThrough,
    at_health,
    bursts,
    horizon_hours,
    life_table,
    ride_through,
    stressed,
)
from optimizer.simulate.views import TierHours, Trace, Verdict, tier_hours, trace, verdict

__all__ = [
    "DEFAULT_SEED",
    "DailyBalance",
    "Durations",
    "Estimate",
    "Exponential",
    "Known",
    "LifeStage",
    "Lognormal",
    "Place",
    "Profile",
    "Replay",
    "Replayed",
    "RideThrough",
    "TierHours",
    "Trace",
    "Verdict",
    "Weibull",
    "YearsResult",
    "at_health",
    "bursts",
    "daily_balance",
    "draw_years",
    "horizon_hours",
    "hourly",
    "life_table",
    "minutely",
    "replay_log",
    "ride_through",
    "stressed",
    "tier_hours",
    "trace",
    "verdict",
]
