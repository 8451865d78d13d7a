"""Programmes of sites whose curves are typed, for tests that need no batteries."""

from __future__ import annotations

import re
from itertools import product
from typing import TYPE_CHECKING

from optimizer.inputs.scaffold import write_site
from optimizer.model.programme import PlannedSite
from optimizer.programme.curves import Service, SiteCurve, SitePoint
from optimizer.programme.survey import Candidate, Programme
from optimizer.programme.terms import Goal, Terms

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping
    from pathlib import Path


def point(money=0.0, hours=0, share=0.0, kwh=0.0, later=()):
    return SitePoint(
        hours=hours,
        upfront_cost=float(money),
        life_cycle_cost=float(money),
        service=Service(share_carried=share, kwh_unserved=kwh),
        bought_later=tuple(later),
    )


def candidate(name, points: Iterable[SitePoint], *, kwh=0.0, **site):
    curve = SiteCurve(nothing=point(kwh=kwh), points=tuple(points))
    return Candidate(site=PlannedSite(name=name, **site), curve=curve)


def programme(*candidates: Candidate) -> Programme:
    return Programme(currency="EUR", candidates=candidates)


def by_hours(tables: Mapping[str, Iterable[int]]) -> Programme:
    """Sites whose n-th unit of money buys the n-th of these hours."""
    return programme(
        *(
            candidate(name, [point(money, hours) for money, hours in enumerate(values, start=1)])
            for name, values in tables.items()
        )
    )


def searched(sites: Programme, terms: Terms):
    """The best figure, or the least money, of all allotments there are; None where none is."""
    best = None
    whole = sum(one.site.people for one in sites.candidates)
    groups = {one.site.group for one in sites.candidates}
    for chosen in product(*((one.curve.nothing, *one.curve.points) for one in sites.candidates)):
        pairs = list(zip(sites.candidates, chosen, strict=True))

        def mean(goal, pairs=pairs):
            return sum(goal.of(got) * one.site.people for one, got in pairs) / whole

        spent = sum(got.upfront_cost for got in chosen)
        if terms.budget is not None and spent > terms.budget + 1e-9:
            continue
        if any(got.hours < max(terms.floor_hours, one.site.min_hours) for one, got in pairs):
            continue
        if any(
            sum(got.upfront_cost for one, got in pairs if one.site.group == group)
            < terms.share_of(group) * spent - 1e-9
            for group in groups
        ):
            continue
        later = {}
        for got in chosen:
            for year, amount in got.bought_later:
                later[year] = later.get(year, 0.0) + amount
        if any(amount > terms.later_in(year) + 1e-9 for year, amount in later.items()):
            continue
        if any(
            (mean(goal) - figure) * (-1 if goal.is_loss else 1) < -1e-9
            for goal, figure in terms.required.items()
        ):
            continue
        value = spent if terms.seeks_least_money else mean(terms.goal)
        small = terms.seeks_least_money or terms.goal.is_loss
        if best is None or (value < best if small else value > best):
            best = value
    return best


def write_programme(folder: Path, rows: str) -> Path:
    """A table of sites beside a short home of theirs, "home": a curve of four hours."""
    write_site(folder / "home", like="house")
    site = folder / "home" / "site.toml"
    text = site.read_text("utf-8")
    for key, value in (("target_hours", 3), ("max_hours", 4)):
        text = re.sub(rf"^{key} = \d+", f"{key} = {value}", text, flags=re.MULTILINE)
    text = re.sub(r"^\[(generator|supply)\]\n(?:(?!\[).*\n)*", "", text, flags=re.MULTILINE)
    site.write_text(text, "utf-8")
    table = folder / "sites.csv"
    table.write_text(f"site,like,group,people,min_hours,load_factor\n{rows}", "utf-8")
    return table


GOALS = tuple(Goal)
