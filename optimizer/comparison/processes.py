"""Work that is shared among processes, in the order it was given."""

from __future__ import annotations

import multiprocessing
import threading
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from typing import TypeVar

Task = TypeVar("Task")
Result = TypeVar("Result")


def spread(
    work: Callable[[Task], Result],
    tasks: Sequence[Task],
    processes: int | None,
    progress: Callable[[int], None],
) -> list[Result]:
    """Return the results of some tasks, worked at by several processes.

    Parameters
    ----------
    work : callable
        A function of a module, so that other processes find it.
    tasks : sequence
        What it is called with.
    processes : int, optional
        As many as there are cores where left out; 1 starts none.
    progress : callable
        Called with the number of tasks done.
    """
    count = min(len(tasks), multiprocessing.cpu_count() if processes is None else processes)
    results: dict[int, Result] = {}
    for number, result in _results(work, tasks, count):
        results[number] = result
        progress(len(results))
    return [results[number] for number in range(len(tasks))]


def _results(
    work: Callable[[Task], Result], tasks: Sequence[Task], count: int
) -> Iterator[tuple[int, Result]]:
    if count > 1:
        try:
            with ProcessPoolExecutor(count, multiprocessing.get_context(_start_method())) as pool:
                futures = {pool.submit(work, task): number for number, task in enumerate(tasks)}
                for future in as_completed(futures):
                    yield futures[future], future.result()
        except BrokenProcessPool:
            pass  # processes may not be allowed here: it is all done alone
        else:
            return
    for number, task in enumerate(tasks):
        yield number, work(task)


def _start_method() -> str:
    """Return how processes start: a fork where nothing else runs here, else afresh."""
    methods = multiprocessing.get_all_start_methods()
    return "fork" if "fork" in methods and threading.active_count() == 1 else "spawn"
