"""What every answer of the library can do for people who work with data."""

from collections.abc import Sequence
from importlib import import_module
from typing import Any, Generic, TypeVar, overload

T = TypeVar("T")


class Result:
    """An answer about a job: a frame, plain data, a chart, and a short view in a notebook."""

    __slots__ = ()

    job: Any

    @property
    def site(self) -> str:
        """Name of the site that it is about."""
        return str(self.job.site.name)

    @property
    def currency(self) -> str:
        """Of all money, a code of ISO 4217."""
        return str(self.job.site.currency)

    @property
    def supposed(self) -> tuple[Any, ...]:
        """What is supposed instead of what the site says."""
        return tuple(self.job.supposed)

    def to_frame(self) -> Any:  # noqa: ANN401 - a frame of pandas, which is typed as Any
        """Return the answer's table as a frame of pandas, raw values under its columns' keys.

        Where rows hold a range, its end stands in a column of its own, ``KEY_last``.
        """
        return _report().frame(self)

    def to_dict(self) -> dict[str, Any]:
        """Return the answer as plain data, as the command prints it with --json."""
        return dict(_report().data(self))

    def plot(self) -> Any:  # noqa: ANN401 - the model may not know altair
        """Return the answer's chart, of altair."""
        return _report().chart(self)

    def __repr__(self) -> str:
        """Return what it is of; the data is asked for by name."""
        return f"<{type(self).__name__} of {self.site!r}>"

    def _repr_markdown_(self) -> str:
        """Return the answer's table as a notebook shows it."""
        return str(_report().markdown(self))


class Listed(Result, Generic[T], Sequence[T]):
    """An answer that is a list: its rows one by one, and all that a result does."""

    __slots__ = ()

    rows: tuple[T, ...]

    @overload
    def __getitem__(self, place: int) -> T: ...
    @overload
    def __getitem__(self, place: slice) -> tuple[T, ...]: ...
    def __getitem__(self, place: int | slice) -> T | tuple[T, ...]:
        return self.rows[place]

    def __len__(self) -> int:
        return len(self.rows)


def _report() -> Any:  # noqa: ANN401 - a module; by name: the data stands on no room above it
    return import_module("optimizer.report.library")
