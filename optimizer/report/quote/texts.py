"""What a quote says in words; every number written as the locale writes it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from optimizer.formulas.rounding import ROUNDING_RULE, exact
from optimizer.quote.handover import years_after
from optimizer.report.words import plain
from optimizer.report.words.writer import Writer

if TYPE_CHECKING:
    from optimizer.quote import PricedOption, Quote
    from optimizer.quote.figures import Figure, Given
    from optimizer.quote.handover import Handover, YearlyTest
    from optimizer.simulate import Verdict


#: Chemistries that are abbreviations.
_ABBREVIATIONS = frozenset({"agm", "lfp", "lto", "nmc", "nca"})


def writer_for(quote: Quote) -> Writer:
    """Return the writer of a quote's currency and locale."""
    return Writer(quote.job.site.currency, quote.company.locale)


def title(quote: Quote) -> str:
    """Return the quote's title, with its number where it has one."""
    return f"Quote {plain(quote.company.number)}" if quote.company.number else "Quote"


def bank(option: PricedOption) -> str:
    """Return the bank that is put in place: strings, units, model."""
    first = option.option.design.banks[0]
    name = plain(first.battery.battery)
    if first.units == 1:
        return f"one {name}"
    if first.strings == 1:
        return f"{first.units} × {name} in series"
    if first.series == 1:
        return f"{first.units} × {name} in parallel"
    return f"{first.units} × {name}, {first.series} in series, {first.strings} strings"


def chemistry(name: str) -> str:
    """Return a chemistry as people write it: abbreviations in capitals.

    >>> chemistry("lfp"), chemistry("gel")
    ('LFP', 'gel')
    """
    return name.upper() if name in _ABBREVIATIONS else plain(name)


def inverter_set(option: PricedOption) -> str:
    """Return the inverter set that is put in place."""
    design = option.option.design
    name = plain(design.inverter.inverter)
    return name if design.inverter_units == 1 else f"{design.inverter_units} × {name}"


def summary(quote: Quote, option: PricedOption, write: Writer) -> str:
    """Return one option in two sentences."""
    design, site = option.option.design, quote.job.site
    battery = design.banks[0].battery
    over = _over(site.horizon_years)
    total = write.money(option.pricing.total)
    cost = write.money(exact(design.life_cycle_cost), whole=True)
    hours = "hour" if design.hours == 1 else "hours"
    return (
        f"{design.hours} {hours} without the grid for {total}; {cost} {over}, with running costs "
        f"and later purchases added and the residual value at the end taken off. "
        f"{_capital(bank(option))} ({chemistry(battery.chemistry)}) at {design.voltage_v} V behind "
        f"{inverter_set(option)}."
    )


def _over(years: int) -> str:
    return "over one year" if years == 1 else f"over {years} years"


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def second_opinion(verdict: Verdict, write: Writer) -> str:
    """Return what the hour-by-hour simulation says."""
    hours = hours_floor(verdict.hours, write)
    most = "at least " if verdict.hours >= verdict.horizon_hours else ""
    where = f"from {verdict.start_hour}:00 in {plain(verdict.season)}, year {verdict.year + 1}"
    first = hours_floor(verdict.first_year_hours, write)
    return (
        f"{_capital(verdict.word)}: simulated hour by hour, {most}{hours} h from the worst start "
        f"({where}); {first} h in the first year."
    )


def hours_floor(hours: float, write: Writer) -> str:
    """Return hours cut to a tenth downwards: nothing is promised that is not there."""
    return write.plain(_floor(hours), 1)


def _floor(hours: float) -> float:
    return int(hours * 10 + 1e-6) / 10


def hours_short(hours: float, write: Writer) -> str:
    """Return hours of a table, cut to a tenth downwards below ten and to whole hours above."""
    if hours >= 10:  # noqa: PLR2004
        return write.number(int(hours + 1e-6), 0)
    return write.number(_floor(hours), 1)


def rounding(option: PricedOption, write: Writer) -> str:
    """Return the rounding rule and what it does to this total."""
    pricing = option.pricing
    difference = write.number(pricing.difference, 5)
    unrounded = write.number(exact(pricing.model_total), 5)
    return (
        f"{ROUNDING_RULE} Unrounded, the total would be {unrounded}: a difference of {difference}."
    )


def old_price(item: str, day: str) -> str:
    """Return the warning for a price that is more than a year old."""
    return f"The price of {plain(item)} is of {day}, more than a year ago; it may have changed."


def replacement_year(quote: Quote, year: int, write: Writer) -> str:
    """Return when something is bought again, years counted from 1."""
    return f"start of year {year + 1} ({write.day(years_after(quote.day, year))})"


def value(figure: Figure, write: Writer) -> str:
    """Return a figure's value without its unit."""
    if isinstance(figure.value, tuple):
        low, high = figure.value
        return f"{write.plain(low, 2)} – {write.plain(high, 2)}"
    if isinstance(figure.value, str):
        return plain(figure.value)
    return write.figure(figure.value)


def inputs(figure: Figure, write: Writer) -> str:
    """Return a figure's inputs, each with its unit."""
    return "; ".join(given(one, write) for one in figure.inputs)


def given(one: Given, write: Writer) -> str:
    """Return one input: symbol, value, unit."""
    number = plain(one.value) if isinstance(one.value, str) else write.figure(one.value, 4)
    return f"{one.symbol} = {number} {one.unit}".rstrip()


def verdict_word(figure: Figure) -> str:
    """Return whether a figure keeps its limit, in words; nothing where there is none."""
    return {True: "Within the limit.", False: "Beyond the limit.", None: ""}[figure.meets]


def switch_off(handover: Handover, write: Writer) -> str:
    """Return the fewest loads to switch off to double the hours, also with the first tier on."""
    found, spared = handover.switch_off, handover.switch_off_spared
    now = hours_short(found.hours_now, write)
    tier = f"“{plain(handover.first_tier)}”"
    if not found.loads:
        if found.proven:
            return f"No choice of loads doubles the {now} hours of the first year."
        return "To make the charge last longer, switch off the largest loads first."
    then = hours_short(found.hours_then, write)
    text = (
        f"Fewest to switch off to double the hours ({now} become {then} in the first year, from "
        f"the worst start): {_listed(found.loads)}. "
    )
    if spared.loads and spared.loads != found.loads:
        text += f"With everything {tier} left on: {_listed(spared.loads)}. "
    elif not spared.loads and spared.proven:
        text += f"With everything {tier} left on, no choice doubles them. "
    return text + "What somebody's health depends on stays on, whatever the hours."


def _listed(names: tuple[str, ...]) -> str:
    shown = [plain(name) for name in names]
    return shown[0] if len(shown) == 1 else f"{', '.join(shown[:-1])} and {shown[-1]}"


def test_steps(test: YearlyTest, last_year: int, write: Writer) -> list[str]:
    """Return the steps of the yearly test."""
    length = "an hour" if test.hours == 1 else f"{test.hours} hours"
    steps = [
        "Between 8 and 16 o'clock on a day when an outage does no harm, with the bank full: note "
        "the charge shown in per cent and the reading of the energy meter behind the inverter.",
        "Switch off the main supply switch. Lights may blink once; everything on the list above "
        "stays on. If something on it goes out, call the installer.",
        f"Leave it off for {length}. Bank, cable lugs and inverter may be warm, not hot.",
        f"For each kWh on the meter the charge may fall by {write.plain(test.fall_new * 100, 1)} "
        f"points while new, by {write.plain(test.fall_last * 100, 1)} in year {last_year}. If it "
        "falls faster, call the installer.",
        "Press the test button of the 30 mA device: it must trip. Set it again.",
        "Switch the supply back on and press the test button once more. Charging starts within "
        f"minutes; from empty it takes up to {write.plain(test.recharge_hours, 1)} hours.",
    ]
    if test.top_up:
        steps.append("Look at the acid level of every cell; top up with distilled water only.")
    steps.append("Enter the result in the log.")
    return steps
