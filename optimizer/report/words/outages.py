"""A design through the outages as they come, in words."""

from optimizer.answers.outage_run import OutageRun
from optimizer.model.job import Job
from optimizer.report.words import design, simulation
from optimizer.report.words.writer import Writer


def head(write: Writer, job: Job, run: OutageRun, *, chosen: bool) -> str:
    """Return what was run."""
    site, what = job.site.name, design.equipment(write, run.design)
    if chosen:
        return write.say(
            "{site}: the cheapest design for {hours:hours}. {equipment}.",
            site=site,
            hours=run.design.hours,
            equipment=what,
        )
    return write.say("{site}: {equipment}, as it stands.", site=site, equipment=what)


def notes(write: Writer, run: OutageRun) -> list[str]:
    """Return how it was counted, and the day of scheduled cuts."""
    spread = write.say(
        "The years are spread evenly over the bank's service; each starts with a full bank, which "
        "is charged between outages at the charger's limit."
    )
    years = run.simulated_years
    known = simulation.longest_known(write, years)
    found = [f"{simulation.method(write, years)} {known} {spread}"]
    if run.balance is not None:
        cuts = simulation.scheduled_cuts(write, run.balance)
        found.append(write.say("Scheduled cuts: {sentence}", sentence=cuts))
    return found
