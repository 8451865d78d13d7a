"""Lead-acid or lithium, as tables for the terminal."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from optimizer.report.rivals_words import (
    cause_in_words,
    design_in_words,
    first_in_words,
    later_in_words,
    purchases_in_words,
    range_in_words,
    regions_in_words,
    value_in_words,
    winner_in_words,
)
from optimizer.report.tables import new_table
from optimizer.report.words import bank_in_words, money, plain, set_in_words

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from rich.table import Table

    from optimizer.comparison.break_even_line import BreakEvenLine
    from optimizer.comparison.budgets import Bought, Staircase
    from optimizer.comparison.regrets import Regret
    from optimizer.comparison.sensitivities import Sensitivities, Setting
    from optimizer.comparison.side_by_side import Alternative, Comparison
    from optimizer.comparison.switch_points import SwitchPoints
    from optimizer.comparison.tier_costs import Tiers
    from optimizer.model.job import Job


def sides_table(comparison: Comparison) -> Table:
    """Return the families side by side, one column each, the cheapest first."""
    site = comparison.job.site
    table = new_table(
        f"Side by side, {site.currency}",
        ("", False),
        *((plain(one.name), False) for one in comparison.families),
    )

    def row(name: str, cell: Callable[[Alternative], str]) -> None:
        table.add_row(name, *(cell(one) for one in comparison.families))

    row("Bank; inverter set", design_in_words)
    row(f"Over {site.horizon_in_words}", lambda one: money(one.design.life_cycle_cost))
    row("At the start", lambda one: money(one.design.upfront_cost))
    row("Bought later", later_in_words)
    row("Left at the end, money of today", lambda one: money(one.residual_value))
    row("A month pays for all of it", lambda one: money(one.monthly_sum, decimals=2))
    row(
        "An hour; a usable kWh",
        lambda one: f"{money(one.cost_per_hour)}; {money(one.cost_per_kwh)}",
    )
    row(
        "Carries; holds when new",
        lambda one: f"{one.design.hours} h; {one.usable_kwh:,.1f} kWh",
    )
    row("Mass; floor", lambda one: f"{one.mass_kg:,.0f} kg; {_floor(one.floor_m2)}")
    return table


def _floor(floor_m2: float | None) -> str:
    return "unknown" if floor_m2 is None else f"{floor_m2:,.2f} m²"


def chemistries_table(comparison: Comparison) -> Table:
    """Return the best design of each chemistry, the cheapest first."""
    site = comparison.job.site
    table = new_table(
        f"Each chemistry, {site.currency}",
        ("Chemistry", False),
        (f"Over {site.horizon_in_words}", True),
        ("At the start", True),
        ("Left at the end", True),
        ("Hours", True),
        ("Mass, kg", True),
        ("Bank", False),
        ("Bought later", False),
    )
    for one in comparison.chemistries:
        table.add_row(
            plain(one.name),
            money(one.design.life_cycle_cost),
            money(one.design.upfront_cost),
            money(one.residual_value),
            str(one.design.hours),
            f"{one.mass_kg:,.0f}",
            plain(bank_in_words(one.design.banks[0], one.design.voltage_v)),
            later_in_words(one),
        )
    return table


def balances_table(comparison: Comparison) -> Table:
    """Return what has been paid by each year, in money of today, nominal and discounted."""
    site = comparison.job.site
    table = new_table(
        f"Paid by then, {site.currency}, without the residual value at the end "
        f"(nominal: {site.inflation:.1%} inflation; present: {site.discount_rate:.1%} real)",
        ("", False),
        *(
            (f"{plain(one.name)}, {kind}", True)
            for one in comparison.families
            for kind in ("today's money", "nominal", "present")
        ),
        ("Bought", False),
    )
    for year in range(site.horizon_years + 1):
        cells: list[str] = []
        bought: list[str] = []
        for one in comparison.families:
            balance = one.balances[year]
            cells += [money(balance.real), money(balance.nominal), money(balance.present)]
            if balance.bought and year:
                bought.append(f"{plain(one.name)}: {plain(', '.join(balance.bought))}")
        table.add_row("start" if year == 0 else f"after year {year}", *cells, "; ".join(bought))
    left: list[str] = []
    for one in comparison.families:
        nominal = one.residual_value * (1 + site.inflation) ** site.horizon_years
        present = one.residual_value / (1 + site.discount_rate) ** site.horizon_years
        left += [money(-one.residual_value), money(-nominal), money(-present)]
    table.add_row("residual value", *left, "")
    return table


def switch_points_table(all_found: Sequence[SwitchPoints]) -> Table:
    """Return who wins where along each number, one row each."""
    table = new_table(
        "Who wins where, all else equal",
        ("", False),
        ("Now", True),
        ("Looked through", False),
        ("Who wins", False),
    )
    for found in all_found:
        parameter = found.parameter
        doubt = "" if not found.unproven else f" ({len(found.unproven)} pieces unproven)"
        table.add_row(
            plain(parameter.name),
            value_in_words(parameter, parameter.base),
            range_in_words(parameter),
            regions_in_words(found) + doubt,
        )
    return table


def brackets_table(all_found: Sequence[SwitchPoints], currency: str) -> Table:
    """Return every switch point with its two neighbours, both solved again."""
    table = new_table(
        f"Every switch point between its neighbours, costs in {currency}",
        ("", False),
        ("From", True),
        ("To", True),
        ("Winner", False),
        ("Costs below", False),
        ("Costs above", False),
        ("Kind", False),
    )
    for found in all_found:
        for switch_point in found.switch_points:
            kind = (
                f"{switch_point.kind}: {plain(switch_point.cause)}"
                if switch_point.cause
                else switch_point.kind
            )
            table.add_row(
                plain(found.parameter.name),
                f"{switch_point.below.value:.9g}",
                f"{switch_point.above.value:.9g}",
                f"{winner_in_words(switch_point.below.winner)} → "
                f"{winner_in_words(switch_point.above.winner)}",
                _costs(switch_point.below.costs),
                _costs(switch_point.above.costs),
                kind,
            )
    return table


def _costs(costs: dict[str, float]) -> str:
    return ", ".join(
        f"{plain(family)} {money(cost, decimals=2) if math.isfinite(cost) else 'none'}"
        for family, cost in costs.items()
    )


def break_even_line_table(break_even_line: BreakEvenLine) -> Table:
    """Return the break-even line point by point."""
    table = new_table(
        f"Where {plain(break_even_line.priced)} and {plain(break_even_line.other)} cost the same",
        (plain(break_even_line.across.name), True),
        (f"price of {plain(break_even_line.priced)} batteries", False),
    )
    for point in break_even_line.points:
        price = (
            f"{winner_in_words(point.always)} at any price tried"
            if point.factor is None
            else value_in_words(break_even_line.price, point.factor)
        )
        table.add_row(value_in_words(break_even_line.across, point.value), price)
    return table


def sensitivities_table(found: Sensitivities) -> Table:
    """Return every sensitivity, the widest in cost first."""
    site = found.job.site
    table = new_table(
        f"One at a time: cost of {found.hours} h over {site.horizon_in_words}, and hours for "
        f"{money(found.budget, site.currency)} at the start",
        ("", False),
        ("Low", True),
        ("Now", True),
        ("High", True),
        ("Cost low", True),
        ("now", True),
        ("high", True),
        ("Hours low", True),
        ("now", True),
        ("high", True),
        ("Winner low, now, high", False),
    )
    for sensitivity in found.sensitivities:
        settings = (sensitivity.low, sensitivity.base, sensitivity.high)
        winners = [winner_in_words(one.winner) for one in settings]
        same = len(set(winners)) == 1
        table.add_row(
            plain(sensitivity.parameter.name),
            *(value_in_words(sensitivity.parameter, one.value) for one in settings),
            *(_cost(one) for one in settings),
            *(str(one.hours) for one in settings),
            winners[0] if same else ", ".join(winners),
        )
    return table


def _cost(setting: Setting) -> str:
    return money(setting.cost) if math.isfinite(setting.cost) else "none"


def regret_table(found: Regret) -> Table:
    """Return how each first purchase fares, the smallest largest regret first."""
    table = new_table(
        f"All at once: {found.scenarios} drawn futures (seed {found.seed}), "
        f"{found.job.site.currency} more than the best of each",
        ("First purchase", False),
        ("Family", False),
        ("Cheapest in", True),
        ("Largest regret", True),
        ("Mean regret", True),
        ("Mean cost", True),
        ("", False),
    )
    for record in found.records:
        marks = []
        if record is found.safest:
            marks.append("safest")
        if record.first == found.cheapest_today:
            marks.append("cheapest today")
        largest = record.largest_regret
        table.add_row(
            first_in_words(record.first),
            plain(record.first.family),
            f"{record.best_share:.1%}",
            money(largest) if math.isfinite(largest) else f"{record.stranded:.0%} stranded",
            money(record.mean_regret) if math.isfinite(record.mean_regret) else "",
            money(record.mean_cost) if math.isfinite(record.mean_cost) else "",
            ", ".join(marks),
        )
    return table


def staircase_table(stairs: Staircase) -> Table:
    """Return every step of a budget: money, hours, the price of an hour, what made it."""
    site = stairs.job.site
    kind = f"over {site.horizon_in_words}" if stairs.lifetime else "at the start"
    table = new_table(
        f"What a budget {kind} buys, {site.currency}",
        ("From", True),
        ("Hours", True),
        ("Each of its hours", True),
        (
            "At the start" if stairs.lifetime else f"Over {site.horizon_in_words}",
            True,
        ),
        ("Bank; inverter set", False),
        ("Bought later", False),
        ("What made the step", False),
    )
    for step in stairs.steps:
        design = step.design
        other = design.upfront_cost if stairs.lifetime else design.life_cycle_cost
        bank = bank_in_words(design.banks[0], design.voltage_v)
        table.add_row(
            money(math.ceil(step.budget)),
            str(step.hours),
            money(step.price_of_hour),
            money(other),
            f"{plain(bank)}; {plain(set_in_words(design))}",
            purchases_in_words(step.later),
            cause_in_words(step.cause),
        )
    return table


def budget_table(job: Job, rows: Sequence[Bought], *, lifetime: bool) -> Table:
    """Return what each of many budgets buys."""
    site = job.site
    kind = f"over {site.horizon_in_words}" if lifetime else "at the start"
    table = new_table(
        f"Budgets {kind}, {site.currency}",
        ("Budget", True),
        ("Hours", True),
        ("At the start", True),
        (f"Over {site.horizon_in_words}", True),
        ("Family", False),
        ("Bank; inverter set", False),
        ("Bought later", False),
        ("Next step at", True),
    )
    for row in rows:
        following = "" if row.next_budget is None else money(math.ceil(row.next_budget))
        design = row.design
        if design is None:
            table.add_row(money(row.budget), "0", "", "", "", "nothing", "", following)
            continue
        bank = bank_in_words(design.banks[0], design.voltage_v)
        table.add_row(
            money(row.budget),
            str(design.hours),
            money(design.upfront_cost),
            money(design.life_cycle_cost),
            plain(design.banks[0].battery.family),
            f"{plain(bank)}; {plain(set_in_words(design))}",
            purchases_in_words(row.later),
            following,
        )
    return table


def tiers_table(tiers: Tiers, hours: Sequence[int]) -> Table:
    """Return what each tier costs at the same hours, one row an autonomy."""
    site = tiers.job.site
    headings: list[tuple[str, bool]] = []
    for one in tiers.curves:
        first = len(one.tiers) == 1
        added = plain(one.added)
        headings += [(f"{added} alone" if first else f"with {added}", True)]
        headings += [] if first else [("more by", True)]
    table = new_table(
        f"Tier by tier: cost over {site.horizon_in_words}, {site.currency}",
        ("Hours", True),
        *headings,
    )
    for hour in hours:
        cells = []
        for number, cost in enumerate(tiers.at(hour)):
            cells.append("none" if cost.cost is None else money(cost.cost))
            if number:
                cells.append("" if cost.extra is None else money(cost.extra))
        mark = " (target)" if hour == site.target_hours else ""
        table.add_row(f"{hour}{mark}", *cells)
    return table
