"""Spoilt files of every format: read or refused with file and place; no failure, no wait.

``--fuzz-cases 20000`` tries more; a case that fails names its seed, which gives it again.
"""

from __future__ import annotations

import resource
from random import Random
from time import process_time

import pytest

from optimizer import InputError
from optimizer.errors import FaultKind
from optimizer.report.words import faults as words
from optimizer.report.words.writer import Writer
from tests.fuzz.formats import Formats

#: One case may take this [s of one core]; all of them may add this to the memory [kB].
SECONDS, KILOBYTES = 5.0, 300_000
WRITE = Writer("EUR")
#: Such a fault is about the file as a whole.
WHOLE = {FaultKind.FILE, FaultKind.MISSING, FaultKind.CONFLICT}


def test_spoilt_files_are_read_or_refused_with_file_and_place(tmp_path, request):
    formats = Formats(tmp_path)
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    failed = []
    for seed in range(request.config.getoption("--fuzz-cases")):
        began = process_time()
        try:
            formats.run(Random(seed))
        except InputError as error:
            failed += [(seed, problem) for problem in wrong_with(error)]
        except Exception as error:
            failed.append((seed, f"{type(error).__name__}: {str(error)[:200]}"))
        if process_time() - began > SECONDS:
            failed.append((seed, "took too long"))
    assert failed == []
    assert resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before < KILOBYTES


def wrong_with(error: InputError) -> list[str]:
    """Return what is wrong with a refusal itself."""
    told = words.faults(WRITE, error.faults)
    found = [f"no fault: {error!r}"] if not error.faults else []
    found += [f"no place: {one}" for one in error.faults if not placed(one)]
    found += [f"control characters: {line!r}" for line in told if not line.isprintable()]
    if len("\n".join(told)) > 20_000:
        found.append("much too long")
    return found


def placed(fault) -> bool:
    return bool(fault.file) and (
        fault.row is not None or fault.column is not None or fault.kind in WHOLE
    )


@pytest.fixture(autouse=True)
def _quiet(recwarn):
    """Warnings of libraries about spoilt files are no failures of ours, but must not be errors."""
    return recwarn
