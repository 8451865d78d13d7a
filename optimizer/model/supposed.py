"""A job that can be asked what would be if a number of it were otherwise."""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, cast

if TYPE_CHECKING:
    from collections.abc import Mapping
    from typing import Self


class Supposing:
    """What-ifs for a job: the parameters of the comparison, by their names."""

    __slots__ = ()

    def what_if(
        self, changes: Mapping[str, float | str] | None = None, **more: float | str
    ) -> Self:
        """Return the job with other numbers; it says so wherever it is shown.

        Parameters
        ----------
        changes : mapping of str to float or str, optional
            By the names of `optimizer.comparison.parameters`, such as "price:lithium". A number
            is the value; a text may also say ``"x2"``, ``"+5"`` or ``"-20%"``.
        **more : float or str
            Likewise, with an underscore for each sign: ``price_lithium="-20%"``.

        Raises
        ------
        InputError
            A name that the job has not, an unreadable value, or one out of its range.

        Examples
        --------
        >>> from optimizer import load
        >>> load("house").what_if(outages="x2", rate=0.12, room="+5").site.mean_degc
        20.0
        """
        # by name: the data stands on no room above it
        door = import_module("optimizer.comparison.what_if")
        return cast("Self", door.changed(self, {**(changes or {}), **more}))
