"""Pure functions of the physics and the money, one file for each phenomenon.

Scalars and arrays go in, scalars and arrays come out; nothing here knows of catalogs or solvers.
"""
