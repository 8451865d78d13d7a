"""Why many sites under one budget cannot get what they must, and what makes it so."""

from dataclasses import dataclass
from enum import StrEnum


class Term(StrEnum):
    """What may be asked of a programme beside its budget and the hours of single sites."""

    FLOOR = "floor"
    REQUIRED = "required"
    GROUP_SHARES = "group_shares"
    LATER_LIMITS = "later_limits"


@dataclass(frozen=True, slots=True)
class Eased:
    """The least money at the start without one term [currency]."""

    term: Term
    least: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Refusal:
    """Why a programme cannot reach what it must.

    Parameters
    ----------
    budget : float or None
        What may be spent at the start [currency].
    least : float or None
        What it would take at the start [currency]; None where no money is enough.
    sites : tuple of str
        Sites that must get hours which nothing on their curves reaches.
    must : tuple of str
        All sites that must get hours.
    eased : tuple of Eased
        The terms without which less money would do, each alone.
    """

    budget: float | None = None
    least: float | None = None
    sites: tuple[str, ...] = ()
    must: tuple[str, ...] = ()
    eased: tuple[Eased, ...] = ()
