"""Lead-acid or lithium: rivals side by side, where the winner changes, and what moves the answer."""
