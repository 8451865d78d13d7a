"""Quotes of the demo sites, made once: they are read, never changed."""

from __future__ import annotations

from datetime import date
from functools import cache
from pathlib import Path

from optimizer import frontier, load
from optimizer.quote import build_quote, read_company

DAY = date(2026, 11, 25)
DEMO = Path(__file__).parents[3] / "catalogs_demo"


@cache
def curve(site: str = "house"):
    return frontier(load(site))


@cache
def company():
    return read_company(DEMO / "company.toml")


@cache
def quote(site: str = "house"):
    return build_quote(curve(site), company=company(), day=DAY)
