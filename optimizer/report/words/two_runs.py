"""The same question about two jobs, in sentences."""

from __future__ import annotations

from typing import TYPE_CHECKING

from optimizer.model.warning import WarningKind
from optimizer.report.words.warnings import job_warning

if TYPE_CHECKING:
    from optimizer.comparison.two_runs import TwoRuns
    from optimizer.model.job import Job
    from optimizer.report.words.writer import Writer


def runs(write: Writer, found: TwoRuns) -> list[str]:
    """Return what each run is of, a line each."""
    return [
        write.say("First run: {run}", run=_run(write, found.job)),
        write.say("Second run: {run}", run=_run(write, found.other)),
    ]


def _run(write: Writer, job: Job) -> str:
    told = [one for one in job.warnings if one.kind is WarningKind.WHAT_IF]
    if not told:
        return write.say("{site}, as its files say.", site=job.site.name)
    site = write.say("{site}.", site=job.site.name)
    return " ".join([site, *(job_warning(write, one) for one in told)])
