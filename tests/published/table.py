"""One row a number: what is computed, what stands in the source, how near they must be."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

import pytest

Mark = Literal[
    "published", "public worked example", "secondary source", "from memory", "arithmetic",
    "common practice",
]  # fmt: skip


@dataclass(frozen=True)
class Value:
    """A number as printed in its source; the tolerance is half its last printed digit."""

    name: str
    computed: Callable[[], float]
    printed: str
    source: str
    mark: Mark
    tolerance: float | None = None

    @property
    def within(self) -> float:
        if self.tolerance is not None:
            return self.tolerance
        digits = len(self.printed.partition(".")[2])
        return 0.5 * 10.0**-digits

    def check(self) -> None:
        found, stated = float(self.computed()), float(self.printed.replace(",", ""))
        # rounding of binary fractions must not decide a value that ends in a five
        assert abs(found - stated) <= self.within * (1 + 1e-9), (
            f"{self.name}: {found} against {self.printed} ± {self.within} ({self.source})"
        )


def values(*rows: Value) -> pytest.MarkDecorator:
    """Run a test once for each row."""
    return pytest.mark.parametrize("value", [pytest.param(row, id=row.name) for row in rows])
