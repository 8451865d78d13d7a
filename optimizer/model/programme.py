"""Many sites under one budget, as they were read."""

from dataclasses import dataclass, field

from optimizer.model.job import Job
from optimizer.model.shown import shown


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedSite:
    """A site that may get equipment, by a name unique in the programme.

    ``group`` is its district or the like, empty where there are none; ``people`` served by it are
    its weight; ``min_hours`` [h] it must get, 0 where it may get nothing. Without ``job`` only its
    curve is known.
    """

    also = ("critical_loads",)

    name: str
    group: str = ""
    people: float = 1.0
    min_hours: int = 0
    job: Job | None = field(default=None, metadata=shown(hide=True), repr=False)

    @property
    def critical_loads(self) -> tuple[str, ...]:
        """Loads that health or safety hangs on: they need a second source."""
        return () if self.job is None else self.job.critical_loads
