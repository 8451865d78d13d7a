"""A day of the loads for drawing: by the minute, with pumps and compressors in bursts."""

from dataclasses import dataclass

from optimizer.model.arrays import Floats
from optimizer.model.job import Job
from optimizer.simulate.profile import hourly, minutely


@dataclass(frozen=True, slots=True)
class LoadDay:
    """All loads over a day of the season that uses most, mean power [W].

    ``by_minute``, shape (1440), in bursts that coincide as far as they can; ``by_hour``, shape
    (24).
    """

    season: str
    by_minute: Floats
    by_hour: Floats


def load_day(job: Job) -> LoadDay:
    """Return the day of the season that uses most, by the minute and by the hour."""
    even, bursts = hourly(job), minutely(job)
    row = int(even.total_w.sum(axis=1).argmax())
    return LoadDay(even.seasons[row], bursts.total_w[row], even.total_w[row])
