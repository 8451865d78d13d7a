"""Suppliers' lists read into price lists by a mapping."""
