"""``python -m optimizer`` is the command ``keeplit``."""

from optimizer.cli import main

main()
