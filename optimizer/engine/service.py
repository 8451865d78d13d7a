"""How long banks serve under a variant, and their money over every period of years."""

from typing import NamedTuple

import numpy as np

from optimizer.engine.banks import Banks
from optimizer.engine.events import Events
from optimizer.engine.works import bank_works, gross
from optimizer.formulas.ageing import SHORTEST_LIFE_YEARS, service_life_years, wear_per_year
from optimizer.formulas.charging import float_wh_per_year
from optimizer.formulas.rate import depth_taken
from optimizer.formulas.renewals import banks_in_turn, sum_of_powers
from optimizer.formulas.temperature import float_life_years
from optimizer.formulas.tolerance import RELATIVE_TOLERANCE, at_least
from optimizer.model.arrays import Floats
from optimizer.model.job import Job


class Service(NamedTuple):
    """Of each bank under a variant: its life [a] and the energy bought for it a year [Wh]."""

    life_years: Floats
    bought_wh: Floats


def service_of(job: Job, banks: Banks, events: Events) -> Service:
    """Return service life and energy of every bank.

    Banks with as many units of one model wear alike, whatever their voltage: each is worked out
    once.
    """
    site, (kinds, which) = job.site, banks.kinds

    def column(name: str) -> Floats:
        return banks.column(name)[kinds]

    drawn_wh = events.energy_wh / site.reference_efficiency
    share = drawn_wh / (banks.stored_wh * banks.cold)[kinds, None]
    depth = depth_taken(share, events.hours, column("rate_h")[:, None], column("peukert")[:, None])
    deepest = column("max_dod")[:, None]
    served = np.where(depth > deepest, deepest / np.where(depth > 0, depth, 1.0), 1.0)
    depth = np.minimum(depth, deepest)
    wear = np.zeros(len(kinds))
    curves = [one.cycle_points for one in banks.models]
    numbers = {curve: number for number, curve in enumerate(dict.fromkeys(curves))}
    curve_of = np.array([numbers[curve] for curve in curves], dtype=np.int64)[banks.model[kinds]]
    for curve, number in numbers.items():
        rows = curve_of == number
        wear[rows] = wear_per_year(depth[rows], events.times_a_year, curve)
    calendar = np.array(
        [
            float_life_years(
                one.float_life_years, one.halving_degc, site.room_degc, one.float_life_degc
            )
            for one in banks.models
        ],
        dtype=float,
    )[banks.model[kinds]]
    by_loads_wh = (served * drawn_wh * events.times_a_year * ~events.is_peak).sum(axis=1)
    # a peak would have been bought from the supply anyway: only what is lost on the way counts
    peaks_wh = (events.energy_wh * events.times_a_year * events.is_peak).sum()
    round_trip = column("round_trip")
    lost_at_peaks_wh = peaks_wh * (1 / (site.reference_efficiency * round_trip) - 1)
    bought_wh = by_loads_wh / round_trip + lost_at_peaks_wh
    life = np.asarray(service_life_years(calendar, wear))
    return Service(life[which], bought_wh[which] + standing_wh(banks))


def standing_wh(banks: Banks) -> Floats:
    """Return what holds each bank full for a year: float current, or self-discharge [Wh]."""
    on_float = float_wh_per_year(
        banks.capacity_ah,
        banks.column("float_ma_ah"),  # not a number where it is not given
        banks.series * banks.column("floating_v"),
    )
    self_discharge = 12 * banks.column("self_discharge_month") * banks.stored_wh
    return np.where(np.isnan(on_float), self_discharge / banks.column("round_trip"), on_float)


def period_money(job: Job, banks: Banks, service: Service) -> tuple[Floats, Floats]:
    """Return the present value of every bank over every period, and what it costs at the start.

    Periods come by their start, the shortest first. The value is infinite where the bank may not
    serve so: a good bank is not scrapped, and none is bought for a last year because the value
    left makes it look cheap.
    """
    site, factor = job.site, gross(job)
    horizon, units, life = site.horizon_years, banks.units, service.life_years
    length = np.arange(1.0, horizon + 1)[:, None]
    in_turn = banks_in_turn(length, life)  # (length of the period, banks)
    last_age = length - (in_turn - 1) * life
    delay = -np.log1p(site.discount_rate)  # of a year, on money
    drift = np.log1p(banks.column("price_drift"))
    price = units * banks.column("price") * factor
    first, swap = (bank_works(job, banks, first=one) * factor for one in (True, False))
    equipment = price * sum_of_powers((drift + delay) * life, in_turn)
    dearer = np.exp((drift + delay) * np.arange(horizon)[:, None])  # (start, banks)
    bought = sum_of_powers(delay * life, in_turn)
    scrap = units * banks.column("scrap_value")
    works_less_scrap = swap * bought - scrap * (bought - 1)
    yearly = units * banks.column("upkeep_year") + service.bought_wh / 1000 * site.tariff

    worth = np.exp(delay * np.arange(horizon + 1.0))[:, None]
    annuity = np.concatenate([[0.0], np.cumsum(worth[1:])])[:, None]
    # of the last bank before the horizon
    last_price = price * np.exp(drift * (horizon - last_age))
    left = np.maximum(0.0, last_price - scrap) * (1 - last_age / life)
    least = site.min_service_share * life
    young = np.where(
        in_turn == 1,
        ~at_least(length, np.minimum(least, np.floor(life * (1 + RELATIVE_TOLERANCE)))),
        ~at_least(last_age, least),
    )
    cost = np.empty((horizon * (horizon + 1) // 2, len(banks)))
    begin = 0
    for start in range(horizon):  # start by start: what is worked on at once stays small
        most = horizon - start
        part = cost[begin : begin + most]
        np.multiply(equipment[:most], dearer[start], out=part)
        part += works_less_scrap[:most] * worth[start]
        part += yearly * (annuity[start + 1 :] - annuity[start])
        part -= scrap * worth[start + 1 :]
        if start == 0:
            part += first - swap
        part[-1] -= site.residual_share * left[most - 1] * worth[horizon]
        barred = young[:most].copy()
        # later banks may serve short at the end, and one may serve it all
        barred[-1] &= (in_turn[most - 1] == 1) & (start > 0)
        part[barred] = np.inf
        begin += most
    cost[:, life <= SHORTEST_LIFE_YEARS] = np.inf
    return cost.T, price + first
