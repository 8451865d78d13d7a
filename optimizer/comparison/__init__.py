"""Lead-acid or lithium: side by side, where the winner changes, and what moves the answer."""
