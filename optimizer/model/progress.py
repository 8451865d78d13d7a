"""How long work tells how far it is."""

from collections.abc import Callable

#: Called with the steps done and all steps.
Progress = Callable[[int, int], None]
