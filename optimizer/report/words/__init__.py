"""What is said: one function a sentence, and the writer that knows the locale."""

from optimizer.report.words.writer import plain

__all__ = ["plain"]
