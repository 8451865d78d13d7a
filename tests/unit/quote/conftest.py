"""The command line as a fixture."""

from __future__ import annotations

from tests.unit.cli.run import keeplit

__all__ = ["keeplit"]
