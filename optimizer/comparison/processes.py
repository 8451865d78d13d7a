"""Work that is shared among processes, in the order it was given."""

import multiprocessing
import os
import signal
import threading
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor, as_completed
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from multiprocessing.connection import wait
from typing import TypeVar

from optimizer.model.progress import Progress

Task = TypeVar("Task")
Result = TypeVar("Result")


def spread(
    work: Callable[[Task], Result],
    tasks: Sequence[Task],
    processes: int | None,
    progress: Progress | None,
) -> list[Result]:
    """Return the results of some tasks, worked at by several processes.

    ``work`` stands in a module, where other processes find it. There are as many processes as
    cores where none are told; 1 starts none.
    """
    results: dict[int, Result] = {}
    for number, result in finished(work, tasks, processes):
        results[number] = result
        if progress is not None:
            progress(len(results), len(tasks))
    return [results[number] for number in range(len(tasks))]


def finished(
    work: Callable[[Task], Result], tasks: Sequence[Task], processes: int | None
) -> Iterator[tuple[int, Result]]:
    """Yield the place and the result of each task as it is done; as `spread` otherwise."""
    count = min(len(tasks), multiprocessing.cpu_count() if processes is None else processes)
    left = dict(enumerate(tasks))
    if count > 1:
        try:
            with _pool(count) as pool:
                futures = {pool.submit(work, task): number for number, task in left.items()}
                for future in as_completed(futures):
                    result, number = future.result(), futures[future]
                    del left[number]
                    yield number, result
        except BrokenProcessPool:
            pass  # processes may not be allowed here, or one was killed: the rest is done alone
    for number, task in left.items():
        yield number, work(task)


@contextmanager
def _pool(count: int) -> Iterator[ProcessPoolExecutor]:
    """Open a pool whose processes never outlive the work, nor the process that started them."""
    context = multiprocessing.get_context(_start_method())
    pool = ProcessPoolExecutor(count, context, initializer=_end_with_starter)
    with outliving_workers():
        try:
            yield pool
        except BaseException:  # left in the middle: a signal, a fault, a click on the page
            pool.shutdown(wait=False, cancel_futures=True)
            if _is_main_thread():
                for child in multiprocessing.active_children():
                    child.terminate()
            raise
        pool.shutdown()


@contextmanager
def outliving_workers() -> Iterator[None]:
    """Let no worker that dies end this process, which writes to a pipe or socket then closed."""
    if not _is_main_thread() or not hasattr(signal, "SIGPIPE"):
        yield
        return
    before = signal.signal(signal.SIGPIPE, signal.SIG_IGN)
    yield
    # not after a failure: workers that were ended may be written to until the process ends too
    signal.signal(signal.SIGPIPE, before)


def _is_main_thread() -> bool:
    return threading.current_thread() is threading.main_thread()


def _end_with_starter() -> None:
    """End when the process that started this one is gone; leave Ctrl+C and its end to it."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGTERM, signal.SIG_DFL)
    starter = multiprocessing.parent_process()
    if starter is not None:
        threading.Thread(target=_watch, args=(starter.sentinel,), daemon=True).start()


def _watch(sentinel: int) -> None:
    wait([sentinel])
    os._exit(1)


def _start_method() -> str:
    """Return how processes start: a fork where nothing else runs here, else afresh."""
    methods = multiprocessing.get_all_start_methods()
    return "fork" if "fork" in methods and threading.active_count() == 1 else "spawn"
