"""How much is missed where outages turn out to be other than the sites say."""

from dataclasses import dataclass

import numpy as np

from optimizer.engine.price_bound import Limit
from optimizer.engine.solver import Status
from optimizer.programme.allotment import Allotment
from optimizer.programme.curves import Scenario, World
from optimizer.programme.table import OptionTable
from optimizer.programme.terms import Goal


@dataclass(frozen=True, slots=True, kw_only=True)
class WorldRegret:
    """What is missed in one world.

    Parameters
    ----------
    world : World
        Which.
    figure, best : float
        The goal's mean over people with this allotment, and with the best for this world.
    regret : float
        Between the two.
    safest_regret : float
        Of the allotment whose largest regret is least.
    """

    world: World
    figure: float
    best: float
    regret: float
    safest_regret: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ProgrammeRegret:
    """What is missed in all worlds.

    Parameters
    ----------
    goal : Goal
        In whose figure it is counted; hours of autonomy know no outages, so that energy missed
        stands in their place.
    worlds : tuple of WorldRegret
        One each.
    is_proven : bool
        Whether each best, and the safest allotment, is proven.
    """

    goal: Goal
    worlds: tuple[WorldRegret, ...]
    is_proven: bool

    @property
    def largest(self) -> WorldRegret:
        """The world in which most is missed."""
        return max(self.worlds, key=lambda one: one.regret)

    @property
    def least_largest(self) -> float:
        """The largest regret of the safest allotment."""
        return max(one.safest_regret for one in self.worlds)


def programme_regret(allotment: Allotment) -> ProgrammeRegret:
    """Return what an allotment misses under other outages, and what the safest one would.

    Its programme's curves must hold the scenarios. Regret after L. J. Savage (Journal of the
    American Statistical Association 46, 1951): in each world the best figure less one's own. The
    safest allotment has the least largest regret.
    """
    terms = allotment.terms
    goal = Goal.UNSERVED if terms.goal is Goal.HOURS else terms.goal
    table = OptionTable(allotment.programme, terms)
    limits = table.limits(allotment.budget)
    groups = tuple(dict.fromkeys(one.site.group for one in allotment.programme.candidates))
    worlds = [World(), *(World(one) for one in Scenario)]
    if len(groups) > 1:
        worlds += [World(one, group) for one in Scenario for group in groups]
    own = np.array(allotment.places, int)
    gains = {world: table.gain(goal, world) for world in worlds}
    best, proven = {}, True
    for world, gain in gains.items():
        found = table.best(gain, limits)
        best[world] = max(found.worth, float(gain[own].sum()))
        proven &= found.status is Status.PROVEN
    rows = [Limit(-gain, -best[world], shares_worst=True) for world, gain in gains.items()]
    safe = table.best(np.zeros(len(table.points)), [*limits, *rows])
    proven &= safe.status is Status.PROVEN
    places = safe.chosen[safe.chosen >= 0] if safe.status in {Status.PROVEN, Status.FOUND} else own
    people = float(table.people.sum()) or 1.0
    return ProgrammeRegret(
        goal=goal,
        worlds=tuple(
            WorldRegret(
                world=world,
                figure=table.mean(goal, float(gain[own].sum()), world),
                best=table.mean(goal, best[world], world),
                regret=(best[world] - float(gain[own].sum())) / people,
                safest_regret=max(0.0, best[world] - float(gain[places].sum())) / people,
            )
            for world, gain in gains.items()
        ),
        is_proven=proven,
    )
