"""The same question about two jobs, in sentences."""

from optimizer.comparison.two_runs import TwoRuns
from optimizer.model.job import Job
from optimizer.report.words.warnings import supposed
from optimizer.report.words.writer import Writer


def runs(write: Writer, found: TwoRuns) -> list[str]:
    """Return what each run is of, a line each."""
    return [
        write.say("First run: {run}", run=_run(write, found.job)),
        write.say("Second run: {run}", run=_run(write, found.other)),
    ]


def _run(write: Writer, job: Job) -> str:
    told = supposed(write, job)
    if not told:
        return write.say("{site}, as its files say.", site=job.site.name)
    site = write.say("{site}.", site=job.site.name)
    return " ".join([site, *told])
