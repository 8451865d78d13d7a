"""Benchmarks: commands that print ratios, not tests."""
