"""Plain frozen data that every room speaks of."""
