"""What was understood of a site, in words."""

from optimizer.model.job import Job
from optimizer.report.words.writer import Writer


def head(write: Writer, job: Job) -> str:
    """Return what the files hold."""
    return write.say(
        "{site}: {loads}, {batteries}, {inverters}. Nothing is wrong with the files.",
        site=job.site.name,
        loads=write.say_number("{n} load", "{n} loads", len(job.loads)),
        batteries=write.say_number("{n} battery", "{n} batteries", len(job.catalog.batteries)),
        inverters=write.say_number(
            "{n} inverter-charger", "{n} inverter-chargers", len(job.catalog.inverters)
        ),
    )
