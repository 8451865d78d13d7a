"""Options of the test run."""

from __future__ import annotations

import os

import pytest


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption(
        "--exact-cases",
        type=int,
        default=int(os.environ.get("KEEPLIT_EXACT_CASES", "300")),
        help="random sites on which the program is compared with the exhaustive search",
    )


@pytest.fixture
def exact_cases(request: pytest.FixtureRequest) -> int:
    """Random sites to try in each comparison with the exhaustive search."""
    return request.config.getoption("--exact-cases")
