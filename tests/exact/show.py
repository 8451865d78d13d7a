"""Print what the exhaustive search worked out on the way to a design, to compare against.

``python -m tests.exact.show FOLDER --hours 24 [--family lead] [--exactly] [--banks]``
"""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import TYPE_CHECKING

from .candidate import refills
from .case import read_folder
from .oracle import Search, least

if TYPE_CHECKING:
    from .banks import Bank, Spans
    from .candidate import Answer, Candidate


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--hours", type=int, required=True)
    parser.add_argument("--family")
    parser.add_argument("--exactly", action="store_true", help="conditions at these hours alone")
    parser.add_argument("--banks", action="store_true", help="all banks that fit, not the chosen")
    asked = parser.parse_args()
    search = Search(read_folder(asked.folder))
    optima = search.optima(asked.family)
    answer = optima.get(asked.hours) if asked.exactly else least(optima, asked.hours)
    if answer is None:
        print("no design")
        return
    candidate = search.candidate_of(answer)
    show_demand(search)
    show_set(candidate, answer)
    chosen = {(period.battery, period.strings, period.max_dod) for period in answer.banks}
    for bank, spans in candidate.banks:
        if asked.banks or (bank.battery.battery, bank.strings, bank.max_dod) in chosen:
            show_bank(candidate, bank, spans, answer.hours)
    show_answer(candidate, answer)


def line(name: str, *values: float | str | None) -> None:
    shown = (f"{v:.6f}" if isinstance(v, float) else str(v) for v in values)
    print(f"  {name:<34}", *shown)


def show_demand(search: Search) -> None:
    demand = search.demand
    print("demand")
    line("peak W, peak VA, surge W", demand.peak_w, demand.peak_va, demand.surge_w)
    for tier in demand.tiers:
        line(f"mean W of {tier}", float(demand.mean_w(tier)))
    line("largest year over year 0", demand.largest)


def show_set(candidate: Candidate, answer: Answer) -> None:
    one, setting, at = candidate.one, candidate.setting, answer.hours - 1
    bank_hours = int(setting.bank_hours[at])
    print(f"set {one.units} × {one.inverter.inverter}, contract {answer.contract_w}, ", end="")
    print(f"generator {answer.generator}, conditions at {answer.hours} h")
    line("hours on the bank", bank_hours)
    line("E_ac of year 0", float(setting.windows(bank_hours).sum(axis=1).max()))
    line("E_dc of each year", *(float(wh) for wh in candidate.needed_wh(bank_hours)))
    line("derated W, VA", one.power_w, one.power_va)
    line("I_peak, I_start", one.peak_a(setting), one.start_a)
    line("cable and fuse of one unit", one.wiring)
    line("set: upfront, present value", one.upfront(), one.cost())
    for excess in setting.excesses:
        line("peak beyond the contract (W, h, /y)", *excess)
    if candidate.fuel:
        fuel, litres = candidate.fuel, candidate.fuel.litres()
        line("night: DC Wh, largest year", fuel.night_dc_wh)
        line("litres", float(litres[at]))
        line(
            "generator, fuel: present value", fuel.machine_cost(), float(fuel.fuel_cost(litres)[at])
        )
    line("all but banks: upfront, present", candidate.upfront[at], candidate.fixed[at])


def show_bank(candidate: Candidate, bank: Bank, spans: Spans, hours: int) -> None:
    setting = candidate.setting
    bank_hours = int(setting.bank_hours[hours - 1])
    print(f"bank {bank.strings} × {bank.series} × {bank.battery.battery}, max_dod {bank.max_dod}")
    line("φ", float(setting.uneven(bank_hours, bank.battery.peukert)))
    line("c", bank.cold)
    line("U", float(bank.usable_wh(setting, bank_hours)))
    line("float life", bank.float_life())
    for event, depth in zip(setting.events, bank.depths, strict=True):
        line("event h, Wh, times: depth", event.hours, float(event.energy_wh), event.times, depth)
    line("service life", bank.life)
    line("standing Wh, yearly cost", bank.standing_wh(), bank.yearly_cost)
    line("health at the end of each year", *(float(share) for share in spans.health))
    efficiency = candidate.one.inverter.efficiency
    if setting.excesses:
        line("D of each year", *map(float, bank.peak_depth(setting, efficiency, spans.health)))
    for season, start_h, needed_ah, offered_ah in refills(candidate.one, bank):
        line(f"cut {season} {start_h:.2f} h: Ah back, offered", float(needed_ah), offered_ah)


def show_answer(candidate: Candidate, answer: Answer) -> None:
    print("design")
    for period in answer.banks:
        which = candidate.place(period)
        cost = candidate.cost[which, period.start, period.end - period.start - 1]
        line(f"years {period.start} to {period.end}", f"{period.bought} × {period.battery}")
        line("  present value, first purchase", cost, candidate.first_paid[which])
    line("upfront, life-cycle cost", answer.upfront_cost, answer.life_cycle_cost)


if __name__ == "__main__":
    main()
