"""The project's functions against numbers that others have published or that anyone can redo."""
