"""The command line as a fixture."""

from __future__ import annotations

from .run import keeplit, short_house

__all__ = ["keeplit", "short_house"]
