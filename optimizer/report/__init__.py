"""Results turned into words, tables and files; nothing is solved here."""
