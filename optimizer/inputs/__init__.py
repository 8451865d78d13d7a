"""Reading of files: site, loads, outages and price list → one checked `Job`.

A file that cannot be read at all raises. Inside one, ``faults`` takes all that is wrong, in the
order of files and rows; a reader goes on after a fault, so that all of them are told at once, and
returns None or nothing for what could not be read.
"""
