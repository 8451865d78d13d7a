"""A job that can be asked what would be if a number of it were otherwise."""

from collections.abc import Mapping
from dataclasses import dataclass
from importlib import import_module
from typing import Self, cast

from optimizer.model.warning import JobWarning, WarningKind


@dataclass(frozen=True, slots=True)
class Supposition:
    """A number supposed instead of what the site says.

    Parameters
    ----------
    name : str
        As ``--set`` takes it, such as "outages" or "price:lithium".
    value, now : float
        What is supposed, and what the site says.
    unit : str
        Of both.
    """

    name: str
    value: float
    now: float
    unit: str


class Supposing:
    """What-ifs for a job: the parameters of the comparison, by their names."""

    __slots__ = ()

    warnings: tuple[JobWarning, ...]

    @property
    def supposed(self) -> tuple[Supposition, ...]:
        """What is supposed, in the order told."""
        told = [one.operands for one in self.warnings if one.kind is WarningKind.WHAT_IF]
        return tuple(
            Supposition(
                name=":".join(str(one[key]) for key in ("kind", "family") if one[key]),
                value=float(one["value"]),
                now=float(one["now"]),
                unit=str(one["unit"]),
            )
            for one in told
        )

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
