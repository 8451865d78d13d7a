"""Demo price list and three demo sites of an invented island town, as plain data files."""
