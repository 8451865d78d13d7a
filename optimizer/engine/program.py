"""The mixed-integer linear program: contract, generator, inverter set and a chain of banks."""

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

import pulp

from optimizer.engine.money_scale import money_unit
from optimizer.engine.options import Choice, Period
from optimizer.errors import InternalError
from optimizer.formulas.tolerance import RELATIVE_TOLERANCE

#: Families of rows: whether equal to or at most their right side, and that side.
_RIGHT = {
    "one_set": ("==", 1.0),
    "contract": ("==", 0.0),
    "generator": ("==", 0.0),
    "chain": ("==", 0.0),
    "vented": ("<=", 0.0),
    "upfront": ("<=", 1.0),
}


class Program(NamedTuple):
    """A program and what its variables stand for; variables carry indices, never catalog text.

    ``columns`` are the number of a choice and a period behind it. The objective is in
    ``money_unit`` [currency], so that the solver sees numbers near 1.
    """

    problem: pulp.LpProblem
    choices: tuple[Choice, ...]
    columns: tuple[tuple[int, Period], ...]
    money_unit: float

    def chosen(self, values: Mapping[str, float]) -> tuple[Choice, tuple[Period, ...]]:
        """Return the choice and the periods in order of years that a solution stands for."""
        number = next(
            number for number in range(len(self.choices)) if values[f"set_{number:04d}"] > 1 / 2
        )
        periods = [
            period
            for index, (of_choice, period) in enumerate(self.columns)
            if of_choice == number and values[f"bank_{index:05d}"] > 1 / 2
        ]
        return self.choices[number], tuple(sorted(periods, key=lambda period: period.start))


def build_program(
    choices: Sequence[Choice], *, budget: float | None = None, by_order: bool = False
) -> Program:
    """Write the program of choosing contract, generator, inverter set and a chain of banks.

    With ``by_order`` it makes small, instead of the cost, the number of battery units, then the
    places in the price list: the rule among designs of equal cost.

    Notes
    -----
    Rows: ``one_set`` (exactly one set); ``contract`` and ``generator`` (a set is one of the step
    and of the generator it stands behind, none being one of them; each of these binaries carries
    its own money); ``chain`` (for each set and year, banks retired equal banks bought: a path from
    year 0 to the horizon); ``vented`` (in no year is a vented bank in service without the works for
    it); ``upfront`` (a first bank that leaves no money for these works excludes them). The last is
    the budget row, with all sums worked out beforehand, so that the solver's tolerance on sums of
    money cannot buy anything.
    """
    job, vented_works = choices[0].candidates.job, choices[0].candidates.vented_works
    unit = 1.0 if by_order else money_unit(job)
    limit = math.inf if budget is None else budget
    rows = _Rows(unit)
    works = rows.binary("vented_works", 0.0 if by_order else vented_works)
    columns: list[tuple[int, Period]] = []
    for number, choice in enumerate(choices):
        chosen = rows.binary(f"set_{number:04d}", _set_rank(choice) if by_order else choice.cost)
        rows.add("one_set", "0", chosen, 1.0)
        rows.add("chain", f"{number}_0", chosen, -1.0)
        for family, index, cost in _beside_sets(choice):
            rows.stand_behind(family, index, 0.0 if by_order else cost, chosen)
        headroom = limit - choice.upfront - vented_works
        for period in choice.periods:
            cost = _bank_rank(choice, period) if by_order else period.cost
            serves = rows.binary(f"bank_{len(columns):05d}", cost)
            columns.append((number, period))
            rows.add("chain", f"{number}_{period.start}", serves, 1.0)
            if period.end < job.site.horizon_years:
                rows.add("chain", f"{number}_{period.end}", serves, -1.0)
            if period.vented:
                for year in range(period.start, period.end):
                    rows.add("vented", str(year), serves, 1.0)
            elif period.start == 0 and not _within(period.upfront, headroom):
                rows.add("upfront", "0", serves, 1.0)
    rows.add_to_all("vented", works, -1.0)
    rows.add_to_all("upfront", works, 1.0)
    return Program(rows.problem(), tuple(choices), tuple(columns), unit)


class _Rows:
    """Variables, objective and rows of a program as they are gathered."""

    def __init__(self, unit: float) -> None:
        self._problem = pulp.LpProblem("keeplit", pulp.LpMinimize)
        self._unit = unit
        self._objective: list[tuple[pulp.LpVariable, float]] = []
        self._terms: defaultdict[tuple[str, str], list[tuple[pulp.LpVariable, float]]] = (
            defaultdict(list)
        )

    def binary(self, name: str, cost: float) -> pulp.LpVariable:
        """Return a new binary variable with its cost."""
        variable = self._problem.add_variable(name, 0, 1, cat=pulp.LpBinary)
        self._objective.append((variable, cost / self._unit))
        return variable

    def add(self, family: str, index: str, variable: pulp.LpVariable, value: float) -> None:
        """Add a term to a row."""
        self._terms[family, index].append((variable, value))

    def add_to_all(self, family: str, variable: pulp.LpVariable, value: float) -> None:
        """Add a term to every row of a family."""
        for (of_family, _), terms in self._terms.items():
            if of_family == family:
                terms.append((variable, value))

    def stand_behind(self, family: str, index: str, cost: float, chosen: pulp.LpVariable) -> None:
        """Tie a set to the contract or generator it stands behind, whose binary has its cost."""
        if (family, index) not in self._terms:
            self.add(family, index, self.binary(f"{family}_{index}", cost), -1.0)
        self.add(family, index, chosen, 1.0)

    def problem(self) -> pulp.LpProblem:
        """Return the program."""
        self._problem.setObjective(_sum(self._objective))
        for (family, index), terms in self._terms.items():
            sense, right = _RIGHT[family]
            left = _sum(terms)
            row = left == right if sense == "==" else left <= right
            self._problem.addConstraint(row, f"{family}__{index}")
        return self._problem


def _within(cost: float, headroom: float) -> bool:
    return cost <= headroom + abs(headroom) * RELATIVE_TOLERANCE


def _beside_sets(choice: Choice) -> Iterator[tuple[str, str, float]]:
    """Yield contract and generator of a choice, where the site offers any: family, index, cost."""
    c = choice.candidates
    site, variant = c.job.site, c.variant
    if variant.contract is not None:
        yield "contract", str(site.contracts.index(variant.contract)), c.contract_cost
    if site.generator is not None:
        place = "none"
        if variant.generator is not None:
            place = str(c.job.catalog.generators.index(variant.generator))
        yield "generator", place, c.generator_cost


def _set_rank(choice: Choice) -> float:
    """Place of a set's inverter in the price list, below one half: less than a battery unit."""
    c = choice.candidates
    inverters = c.job.catalog.inverters
    return 0.5 * inverters.index(c.sets.inverters[choice.option.set_index]) / len(inverters)


def _bank_rank(choice: Choice, period: Period) -> float:
    """Units of a bank, and its place among all, weighed below the smallest step between sets."""
    c = choice.candidates
    places = len(c.banks) * len(c.job.catalog.inverters) * c.job.site.horizon_years
    return period.units + 0.25 * period.bank_index / places


def _sum(terms: Iterable[tuple[pulp.LpVariable, float]]) -> pulp.LpAffineExpression:
    """Return a linear expression; the fast form overwrites repeated variables and takes NaN."""
    pairs = list(terms)
    if len({id(variable) for variable, _ in pairs}) != len(pairs):
        raise InternalError("a variable stands twice in one row")
    if not all(math.isfinite(value) for _, value in pairs):
        raise InternalError("a coefficient is not finite")
    return pulp.LpAffineExpression(pairs)
