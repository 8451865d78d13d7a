"""The columns of a job under its first variant, or under one that is named."""

from __future__ import annotations

from optimizer.engine.candidates import build_candidates
from optimizer.engine.demand import demand_of
from optimizer.engine.variants import variant_of


def variant(job, contract=None, generator=None):
    return variant_of(job, demand_of(job), contract, generator)


def columns(job, family=None, lifted=(), *, contract=None, generator=None):
    return build_candidates(variant(job, contract, generator), family, frozenset(lifted))
