"""Many sites under one budget, as they were read."""

from dataclasses import dataclass, field

from optimizer.model.job import Job
from optimizer.model.shown import shown


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedSite:
    """A site that may get equipment.

    Parameters
    ----------
    name : str
        Unique in the programme.
    group : str
        The district or other group it belongs to; empty where there are none.
    people : float
        Served by it: its weight.
    min_hours : int
        Autonomy that it must get [h]; 0 where it may get nothing.
    job : Job or None
        What it asks for; None where only its curve is known.
    """

    name: str
    group: str = ""
    people: float = 1.0
    min_hours: int = 0
    job: Job | None = field(default=None, metadata=shown(hide=True), repr=False)
