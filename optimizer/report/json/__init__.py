"""Answers as JSON: one serialiser for every result, and the schema made from the same hints."""
