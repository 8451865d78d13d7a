"""The program against an exhaustive search that shares no code with it."""
