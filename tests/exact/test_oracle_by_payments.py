"""The search's arrays against banks followed one purchase at a time, chain by chain.

Every chain of a short horizon is written out as payments at their dates, discounted one by one.
"""

from __future__ import annotations

from math import floor

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from .money import gross, works_price
from .oracle import Search
from .sites import falling_files, site_files

TOLERANCE = 1e-9


@st.composite
def short_files(draw):
    """Four years, two strings: few enough chains to follow one by one."""
    files = draw(site_files() | falling_files())
    files.document["economics"] |= {"horizon_years": draw(st.integers(1, 4))}
    files.document["limits"] |= {"max_parallel": 2}
    return files


def bank_works(case, bank, when):
    price = {
        basis: works_price(case, basis, when)
        for basis in ("battery_unit", "string", "parallel_string", "kg")
    }
    works = price["battery_unit"] * bank.units + price["kg"] * bank.mass_kg
    works += price["string"] * bank.strings
    return works + (price["parallel_string"] * bank.strings if bank.strings > 1 else 0.0)


def banks_in_turn(bank, start, end):
    """(bought, retired) of the banks that follow one another."""
    found, at = [], float(start)
    while at < end * (1 - TOLERANCE):
        retired = at + bank.life
        if retired >= end * (1 - TOLERANCE):
            retired = end
        found.append((at, retired))
        at = retired
    return found


def may_serve(case, bank, start, end):
    site, in_turn = case.site, banks_in_turn(bank, start, end)
    age = in_turn[-1][1] - in_turn[-1][0]
    if len(in_turn) == 1:
        if (start, end) == (0, site.horizon_years):
            return True
        least = min(site.min_service_share * bank.life, floor(bank.life * (1 + TOLERANCE)))
    elif end == site.horizon_years:
        return True
    else:
        least = site.min_service_share * bank.life
    return age >= least * (1 - TOLERANCE)


def least_health(bank, start, end, year):
    """Of the banks in service in a year, each at its end or at its retirement."""
    found = []
    for bought, retired in banks_in_turn(bank, start, end):
        if retired > year * (1 + TOLERANCE) and bought < (year + 1) * (1 - TOLERANCE):
            age = min(retired, year + 1) - bought
            found.append(1 - (1 - bank.battery.end_of_life_soh) * age / bank.life)
    return min(found)


def purchases(case, bank, start, end):
    """(date, paid) of each bank bought in a span."""
    return [
        (bought, paid_for(case, bank, bought)[1]) for bought, _ in banks_in_turn(bank, start, end)
    ]


def paid_for(case, bank, bought):
    """Price of the units, and all that is paid, at a date."""
    drift = (1 + bank.battery.price_drift) ** bought
    price = bank.units * bank.battery.price * drift * gross(case)
    works = bank_works(case, bank, "first" if bought == 0 else "swap") * gross(case)
    return price, price + works


def payments(case, bank, start, end):
    """(date, amount) of everything a bank costs in a span; what comes back is negative."""
    site, found = case.site, []
    for bought, retired in banks_in_turn(bank, start, end):
        price, paid = paid_for(case, bank, bought)
        scrap = bank.units * bank.battery.scrap_value
        found += [(bought, paid), (retired, -scrap)]
        if retired == site.horizon_years:
            unused = 1 - (retired - bought) / bank.life
            found.append((retired, -site.residual_share * max(0.0, price - scrap) * unused))
    return found + [(year + 1, bank.yearly_cost) for year in range(start, end)]


def carries(candidate, bank, hours, start, end):
    """U(T) · health · (1 − D / max_dod) ≥ E_dc in every year of a span."""
    bank_hours = int(candidate.setting.bank_hours[hours - 1])
    needed_wh = candidate.needed_wh(bank_hours)
    for year in range(start, end):
        health = least_health(bank, start, end, year)
        left_wh = bank.usable_wh(candidate.setting, bank_hours) * health
        for watts, peak_h, _ in candidate.setting.excesses:
            amps = watts / candidate.one.inverter.efficiency / bank.string_v
            held_ah = bank.capacity_ah * bank.cold * health
            steep = max(1.0, (amps * bank.battery.rate_h / held_ah) ** (bank.battery.peukert - 1))
            kept = 1 - amps * peak_h / held_ah * steep / bank.max_dod
            left_wh = min(left_wh, bank.usable_wh(candidate.setting, bank_hours) * health * kept)
        if left_wh < needed_wh[year] * (1 - TOLERANCE):
            return False
    return True


def later_sums(case, candidate, hours, chain):
    """What is bought in each later year."""
    sums = candidate.other_paid[hours - 1].copy()
    for bank, start, end in chain:
        for date, paid in purchases(case, bank, start, end):
            sums[floor(date * (1 + TOLERANCE))] += paid
    return sums[1:]


def cheapest_by_hand(case, candidate, hours, limits):
    """Least cost of all chains of a variant and set, each followed to its end."""
    horizon, rate = case.site.horizon_years, 1 + case.site.discount_rate
    if not candidate.offered[hours - 1]:
        return None
    spans = [
        (bank, start, end)
        for bank, _ in candidate.banks
        for start in range(horizon)
        for end in range(start + 1, horizon + 1)
        if may_serve(case, bank, start, end) and carries(candidate, bank, hours, start, end)
    ]
    best, unfinished = None, [()]
    while unfinished:
        chain = unfinished.pop()
        year = chain[-1][2] if chain else 0
        if year < horizon:
            unfinished += [(*chain, span) for span in spans if span[1] == year]
            continue
        works = candidate.gas_works if any(bank.vented for bank, *_ in chain) else 0.0
        paid = [one for span in chain for one in payments(case, *span)]
        upfront = candidate.upfront[hours - 1] + works
        upfront += sum(amount for date, amount in paid if date == 0)
        if limits.budget is not None and upfront > limits.budget * (1 + TOLERANCE):
            continue
        later = later_sums(case, candidate, hours, chain)
        if limits.later_limit is not None and (later > limits.later_limit * (1 + TOLERANCE)).any():
            continue
        cost = candidate.fixed[hours - 1] + works
        cost += sum(amount / rate**date for date, amount in paid)
        best = cost if best is None else min(best, cost)
    if limits.lifetime_budget is not None and best is not None and best > limits.lifetime_budget:
        return None
    return best


@settings(max_examples=60)
@given(files=short_files(), data=st.data())
def test_chains_followed_one_by_one(files, data):
    case = files.case()
    search = Search(case)
    hours = data.draw(st.integers(1, case.site.max_hours), "hours")
    costs = [
        cost
        for candidate in search.candidates
        if len(candidate.banks) <= 14
        and (cost := cheapest_by_hand(case, candidate, hours, search.limits)) is not None
    ]
    search.candidates = [one for one in search.candidates if len(one.banks) <= 14]
    found = search.optima().get(hours)
    if found is None:
        assert not costs
    else:
        assert found.life_cycle_cost == pytest.approx(min(costs), abs=1e-6)
