"""Work that is shared among the workers of a Dask cluster, on one machine or many."""

from collections.abc import Callable, Iterator, Sequence
from importlib.util import find_spec
from typing import Any, TypeVar

from optimizer.comparison.processes import outliving_workers
from optimizer.errors import wrong_option
from optimizer.model.phrase import Phrase

Task = TypeVar("Task")
Result = TypeVar("Result")

#: How often a task is given to another worker where its worker died.
_TRIES = 5
#: Longest wait for the scheduler [s].
_PATIENCE_S = 20


def finished_on(
    address: str, work: Callable[[Task], Result], tasks: Sequence[Task]
) -> Iterator[tuple[int, Result]]:
    """Yield the place and the result of each task as it is done; ``work`` stands in a module.

    The address is the scheduler's, such as "tcp://10.0.0.5:8786"; its workers need keeplit
    installed. A task whose worker dies goes to another one.
    """
    if find_spec("distributed") is None:
        wanted = Phrase("pip install 'keeplit[cluster]', which brings it")
        found = Phrase("distributed is not installed")
        raise wrong_option("--scheduler", found, wanted)
    from distributed import Client, as_completed  # noqa: PLC0415 - an extra

    try:
        client: Any = Client(address, timeout=_PATIENCE_S, set_as_default=False)  # type: ignore[no-untyped-call] # no hints
    except (OSError, ValueError) as problem:
        wanted = Phrase("the address of a scheduler, such as tcp://10.0.0.5:8786")
        raise wrong_option("--scheduler", f"{address}: {problem}", wanted) from problem
    with outliving_workers(), client:
        futures = {
            client.submit(work, task, pure=False, retries=_TRIES): number
            for number, task in enumerate(tasks)
        }
        for future in as_completed(futures, loop=client.loop):  # type: ignore[no-untyped-call] # no hints
            yield futures[future], future.result()
            future.release()
