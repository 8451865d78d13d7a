"""What the program chooses among: options, the periods behind them, and both as one choice."""

from collections.abc import Sequence
from typing import NamedTuple

from optimizer.engine.candidates import Candidates


class Option(NamedTuple):
    """An inverter set at an autonomy [h], with the least life-cycle cost of any chain behind it.

    ``variant`` numbers the job's variants, ``set_index`` the sets of that variant.
    """

    hours: int
    variant: int
    set_index: int
    cost: float


class Period(NamedTuple):
    """A bank in service over some years behind an option's set: one column of the program.

    ``units`` counts what is bought in all, ``bought`` the banks that follow one another.
    """

    bank_index: int
    start: int
    end: int
    cost: float
    upfront: float
    bought: int
    units: int
    vented: bool


class Choice(NamedTuple):
    """An option that may be chosen, the columns of its variant, and what may serve behind it.

    ``cost`` and ``upfront`` are those of set and fuel; contract and generator have their own
    columns. Periods that are beyond the budget by themselves must be left out.
    """

    candidates: Candidates
    option: Option
    periods: Sequence[Period]
    cost: float
    upfront: float
