"""keeplit: the exact curve of cost against hours of autonomy through grid failures.

Five lines from a site file to proven designs::

    from optimizer import choose, frontier, load
    job = load("house")
    for point in frontier(job).points:
        print(point.hours, round(point.life_cycle_cost))
    print(choose(job, hours=24).design.inverter.inverter)

Each name is loaded from its room when it is first used, so that importing costs nothing.
"""

TYPE_CHECKING = False  # typing itself takes ten milliseconds, in which Ctrl+C is not yet ours
if TYPE_CHECKING:
    from optimizer.answers.assessment import Assessment as Assessment
    from optimizer.answers.assessment import assess as assess
    from optimizer.answers.assessment import assess_told as assess_told
    from optimizer.answers.choice import Choice as Choice
    from optimizer.answers.choice import choose as choose
    from optimizer.answers.curve import Curve as Curve
    from optimizer.answers.curve import Point as Point
    from optimizer.answers.curve import TradeOff as TradeOff
    from optimizer.answers.curve import frontier as frontier
    from optimizer.answers.curve import trade_off as trade_off
    from optimizer.answers.independent_simulation import (
        IndependentSimulation as IndependentSimulation,
    )
    from optimizer.answers.independent_simulation import (
        independent_simulation as independent_simulation,
    )
    from optimizer.answers.ledger import Ledger as Ledger
    from optimizer.answers.ledger import assumptions as assumptions
    from optimizer.answers.outage_run import OutageRun as OutageRun
    from optimizer.answers.outage_run import outages as outages
    from optimizer.answers.site_survey import Survey as Survey
    from optimizer.answers.site_survey import survey as survey
    from optimizer.comparison.break_even_line import BreakEvenLine as BreakEvenLine
    from optimizer.comparison.break_even_line import break_even_line as break_even_line
    from optimizer.comparison.budgets import BudgetTable as BudgetTable
    from optimizer.comparison.budgets import Staircase as Staircase
    from optimizer.comparison.budgets import budget_table as budget_table
    from optimizer.comparison.budgets import staircase as staircase
    from optimizer.comparison.hours_worth import HoursWorth as HoursWorth
    from optimizer.comparison.hours_worth import hours_worth as hours_worth
    from optimizer.comparison.load_costs import LoadCosts as LoadCosts
    from optimizer.comparison.load_costs import load_costs as load_costs
    from optimizer.comparison.regrets import Regret as Regret
    from optimizer.comparison.regrets import regret as regret
    from optimizer.comparison.sensitivities import Sensitivities as Sensitivities
    from optimizer.comparison.sensitivities import sensitivities as sensitivities
    from optimizer.comparison.side_by_side import Comparison as Comparison
    from optimizer.comparison.side_by_side import compare as compare
    from optimizer.comparison.switch_points import Switches as Switches
    from optimizer.comparison.switch_points import switch_points as switch_points
    from optimizer.comparison.tier_costs import Tiers as Tiers
    from optimizer.comparison.tier_costs import tiers as tiers
    from optimizer.comparison.two_runs import TwoRuns as TwoRuns
    from optimizer.comparison.two_runs import against as against
    from optimizer.errors import Fault as Fault
    from optimizer.errors import InputError as InputError
    from optimizer.errors import InternalError as InternalError
    from optimizer.errors import KeeplitError as KeeplitError
    from optimizer.errors import NoAllotmentError as NoAllotmentError
    from optimizer.errors import NoDesignError as NoDesignError
    from optimizer.errors import NotProvenError as NotProvenError
    from optimizer.inputs.design_file import load_design as load_design
    from optimizer.inputs.load import load as load
    from optimizer.model.design import BankPeriod as BankPeriod
    from optimizer.model.design import CableRun as CableRun
    from optimizer.model.design import Design as Design
    from optimizer.model.existing import Existing as Existing
    from optimizer.model.job import Job as Job
    from optimizer.model.result import Result as Result
    from optimizer.programme.allotment import Allotment as Allotment
    from optimizer.programme.allotment import allot as allot
    from optimizer.programme.floors import highest_floor as highest_floor
    from optimizer.programme.survey import Programme as Programme
    from optimizer.programme.survey import site_curves as site_curves
    from optimizer.quote.build import Quote as Quote
    from optimizer.quote.build import make_quote as make_quote

__version__ = "0.1.0"

_HOMES = {
    "answers.assessment": "Assessment assess assess_told",
    "answers.choice": "Choice choose",
    "answers.curve": "Curve Point TradeOff frontier trade_off",
    "answers.independent_simulation": "IndependentSimulation independent_simulation",
    "answers.ledger": "Ledger assumptions",
    "answers.outage_run": "OutageRun outages",
    "answers.site_survey": "Survey survey",
    "comparison.break_even_line": "BreakEvenLine break_even_line",
    "comparison.budgets": "BudgetTable Staircase budget_table staircase",
    "comparison.hours_worth": "HoursWorth hours_worth",
    "comparison.load_costs": "LoadCosts load_costs",
    "comparison.regrets": "Regret regret",
    "comparison.sensitivities": "Sensitivities sensitivities",
    "comparison.side_by_side": "Comparison compare",
    "comparison.switch_points": "Switches switch_points",
    "comparison.tier_costs": "Tiers tiers",
    "comparison.two_runs": "TwoRuns against",
    "errors": "Fault InputError InternalError KeeplitError NoAllotmentError NoDesignError "
    "NotProvenError",
    "inputs.design_file": "load_design",
    "inputs.load": "load",
    "model.design": "BankPeriod CableRun Design",
    "model.existing": "Existing",
    "model.job": "Job",
    "model.result": "Result",
    "programme.allotment": "Allotment allot",
    "programme.floors": "highest_floor",
    "programme.survey": "Programme site_curves",
    "quote.build": "Quote make_quote",
}
_HOME_OF = dict(sorted((name, home) for home, names in _HOMES.items() for name in names.split()))
if not TYPE_CHECKING:  # types take the names from the imports above
    __all__ = list(_HOME_OF)
#: Names of the version before, still answered for this one.
_RENAMED = {
    "border": "break_even_line",
    "flips": "switch_points",
    "judge": "assess",
    "second_opinion": "independent_simulation",
    "swings": "sensitivities",
}


def __getattr__(name: str) -> object:
    """Load a public name from its room (PEP 562)."""
    from importlib import import_module  # noqa: PLC0415 - start-up time
    from warnings import warn  # noqa: PLC0415 - start-up time

    if name in _RENAMED:
        warn(f"{name} is now {_RENAMED[name]}", DeprecationWarning, stacklevel=2)
        name = _RENAMED[name]
    if name not in _HOME_OF:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    found = getattr(import_module(f"{__name__}.{_HOME_OF[name]}"), name)
    globals()[name] = found
    return found


def __dir__() -> list[str]:
    return [*_HOME_OF, "__version__"]
