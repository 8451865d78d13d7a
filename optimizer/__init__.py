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
    from optimizer.answers.assessment import Assessment, assess, assess_told
    from optimizer.answers.choice import Choice, choose
    from optimizer.answers.curve import Curve, Point, TradeOff, frontier, trade_off
    from optimizer.answers.independent_simulation import (
        IndependentSimulation,
        independent_simulation,
    )
    from optimizer.answers.ledger import Ledger, assumptions
    from optimizer.answers.outage_run import OutageRun, outages
    from optimizer.answers.site_survey import Survey, survey
    from optimizer.comparison.break_even_line import BreakEvenLine, break_even_line
    from optimizer.comparison.budgets import BudgetTable, Staircase, budget_table, staircase
    from optimizer.comparison.hours_worth import HoursWorth, hours_worth
    from optimizer.comparison.load_costs import LoadCosts, load_costs
    from optimizer.comparison.regrets import Regret, regret
    from optimizer.comparison.sensitivities import Sensitivities, sensitivities
    from optimizer.comparison.side_by_side import Comparison, compare
    from optimizer.comparison.switch_points import Switches, switch_points
    from optimizer.comparison.tier_costs import Tiers, tiers
    from optimizer.comparison.two_runs import TwoRuns, against
    from optimizer.errors import (
        Fault,
        InputError,
        InternalError,
        KeeplitError,
        NoAllotmentError,
        NoDesignError,
        NotProvenError,
    )
    from optimizer.inputs.design_file import load_design
    from optimizer.inputs.load import load
    from optimizer.model.design import BankPeriod, CableRun, Design
    from optimizer.model.existing import Existing
    from optimizer.model.job import Job
    from optimizer.model.result import Result
    from optimizer.programme.allotment import Allotment, allot
    from optimizer.programme.floors import highest_floor
    from optimizer.programme.survey import Programme, site_curves
    from optimizer.quote.build import Quote, make_quote

__version__ = "0.1.0"

__all__ = [
    "Allotment",
    "Assessment",
    "BankPeriod",
    "BreakEvenLine",
    "BudgetTable",
    "CableRun",
    "Choice",
    "Comparison",
    "Curve",
    "Design",
    "Existing",
    "Fault",
    "HoursWorth",
    "IndependentSimulation",
    "InputError",
    "InternalError",
    "Job",
    "KeeplitError",
    "Ledger",
    "LoadCosts",
    "NoAllotmentError",
    "NoDesignError",
    "NotProvenError",
    "OutageRun",
    "Point",
    "Programme",
    "Quote",
    "Regret",
    "Result",
    "Sensitivities",
    "Staircase",
    "Survey",
    "Switches",
    "Tiers",
    "TradeOff",
    "TwoRuns",
    "against",
    "allot",
    "assess",
    "assess_told",
    "assumptions",
    "break_even_line",
    "budget_table",
    "choose",
    "compare",
    "frontier",
    "highest_floor",
    "hours_worth",
    "independent_simulation",
    "load",
    "load_costs",
    "load_design",
    "make_quote",
    "outages",
    "regret",
    "sensitivities",
    "site_curves",
    "staircase",
    "survey",
    "switch_points",
    "tiers",
    "trade_off",
]

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
_HOME_OF = {name: home for home, names in _HOMES.items() for name in names.split()}
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
    return [*__all__, "__version__"]
