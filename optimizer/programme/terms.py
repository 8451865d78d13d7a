"""What a programme is to reach, and what limits it."""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum

from optimizer.errors import Fault, InputError
from optimizer.inputs.faults import one_of
from optimizer.model.job import LONGEST_HOURS
from optimizer.model.phrase import Phrase
from optimizer.model.refusal import Term
from optimizer.model.shown import shown
from optimizer.programme.curves import Scenario, SitePoint

#: Longest time for one proof where nobody says [s].
USUAL_LIMIT_S = 60.0


class Goal(StrEnum):
    """What is to be large, or small, in the mean over all people served."""

    SHARE = "share"  # of outages ridden through
    HOURS = "hours"  # autonomy [h]
    UNSERVED = "unserved"  # energy missed at one's site in a year [kWh]

    @property
    def is_loss(self) -> bool:
        """Whether less is better."""
        return self is Goal.UNSERVED

    @property
    def sign(self) -> float:
        """What makes more of it better: 1, or -1 of a loss."""
        return -1.0 if self.is_loss else 1.0

    def of(self, point: SitePoint, scenario: Scenario | None = None) -> float:
        """Return the figure of a point."""
        if self is Goal.HOURS:
            return float(point.hours)
        service = point.served(scenario)
        return service.share_carried if self is Goal.SHARE else service.kwh_unserved


@dataclass(frozen=True, slots=True, kw_only=True)
class Terms:
    """What is asked of a programme.

    Parameters
    ----------
    goal : Goal
        What is to be as good as it can be within the limits.
    budget : float or None
        Most that all sites together cost at the start [currency].
    required : mapping of Goal to float
        Figures that the programme must reach, in the mean over the people served; with a figure
        for the goal itself, or without a budget, the least money is sought.
    floor_hours : int
        Autonomy that every site must get [h].
    group_share : float
        Of the money spent at the start, what each group gets at least.
    group_shares : mapping of str to float
        Likewise of single groups, in place of it.
    later_limit : float or None
        Most that all sites together cost to buy in any later year [currency of today].
    later_limits : mapping of int to float
        Likewise of single years, from 1 (the year after the first), in place of it.
    gap : float
        An allotment within this share of what is possible will do.
    limit_seconds : float or None
        Time for each proof [s]; the gap that is left then is stated.
    """

    goal: Goal = Goal.SHARE
    budget: float | None = None
    required: Mapping[Goal, float] = field(default_factory=dict)
    floor_hours: int = 0
    group_share: float = 0.0
    group_shares: Mapping[str, float] = field(default_factory=dict)
    later_limit: float | None = None
    later_limits: Mapping[int, float] = field(default_factory=dict)
    gap: float = field(default=0.0, metadata=shown(hide=True))
    limit_seconds: float | None = field(default=USUAL_LIMIT_S, metadata=shown(hide=True))

    @property
    def seeks_least_money(self) -> bool:
        """Whether money is to be small rather than the goal's figure good."""
        return self.budget is None or self.goal in self.required

    @property
    def limits_later(self) -> bool:
        """Whether what is bought in later years is limited."""
        return self.later_limit is not None or bool(self.later_limits)

    def later_in(self, year: int) -> float:
        """Return what may be bought in a later year, infinite where it is not limited."""
        usual = math.inf if self.later_limit is None else self.later_limit
        return self.later_limits.get(year, usual)

    def share_of(self, group: str) -> float:
        """Return what share of the money a group gets at least."""
        return self.group_shares.get(group, self.group_share)

    def eased(self) -> Iterator[tuple[Term, "Terms"]]:
        """Yield the same without each term that stands, one at a time."""
        if self.floor_hours:
            yield Term.FLOOR, replace(self, floor_hours=0)
        if self.required:
            yield Term.REQUIRED, replace(self, required={})
        if self.group_share or self.group_shares:
            yield Term.GROUP_SHARES, replace(self, group_share=0.0, group_shares={})
        if self.limits_later:
            yield Term.LATER_LIMITS, replace(self, later_limit=None, later_limits={})

    def check(self, groups: tuple[str, ...]) -> None:
        """Raise all that is wrong with them for a programme of these groups."""
        faults = [
            Fault("options", None, name, f"{value:g}", Phrase("money of 0 or more"))
            for name, value in (("--budget", self.budget), ("--later-limit", self.later_limit))
            if value is not None and not (math.isfinite(value) and value >= 0)
        ]
        if not 0 <= self.floor_hours <= LONGEST_HOURS:
            wanted = Phrase("hours from 0 to {most}", most=LONGEST_HOURS)
            faults.append(Fault("options", None, "--floor", str(self.floor_hours), wanted))
        for group in self.group_shares:
            if group not in groups:
                known = [one for one in groups if one]
                wanted = one_of("a group of the table of sites", group, known)
                faults.append(Fault("options", None, "--group-share", group, wanted))
        shares = [self.share_of(group) for group in groups]
        if any(not 0 <= share <= 1 for share in shares) or sum(shares) > 1 + 1e-9:
            found = " + ".join(f"{share * 100:g}%" for share in shares)
            wanted = Phrase("shares from 0% to 100% that are 100% at most together")
            faults.append(Fault("options", None, "--group-share", found, wanted))
        if self.budget is None and not self.required and not self.floor_hours:
            told = Phrase("none of them"), Phrase("--budget, --require or --floor")
            faults.append(Fault("options", None, "--budget", *told))
        if faults:
            raise InputError(faults)


def at_budget(terms: Terms, budget: float | None) -> Terms:
    """Return the same terms with another budget, seeking what is best within it."""
    required = {goal: figure for goal, figure in terms.required.items() if goal is not terms.goal}
    return replace(terms, budget=budget, required=required)
