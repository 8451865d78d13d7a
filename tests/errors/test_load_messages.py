"""Every message about tables and the load survey, once: place, found, wanted."""

from __future__ import annotations

from tests.site_files import FILES, messages_of

LOADS = "loads.csv"

# (what, changes, [(file, row, column, piece of found, piece of wanted), …])
CASES = [
    (
        "a load that stays on, of a tier that is let go",
        {
            LOADS: [
                ("duty,seasons", "duty,seasons,never_off"),
                ("0.4,\n", "0.4,,true\n"),
                ("warm:0.6\n", "warm:0.6,\n"),
                ("0.5,\n", "0.5,,\n"),
            ],
            "site.toml": ('tiers = ["must"]', 'tiers = ["must"]\ntier_hours = { must = 2 }'),
        },
        [(LOADS, 2, "tier", "'must', let go after 2 h", "a tier that is not let go")],
    ),
    (
        "a partner that waits for the grid",
        {
            LOADS: [
                ("duty,seasons", "duty,seasons,with"),
                ("0.4,\n", "0.4,,Pump\n"),
                ("warm:0.6\n", "warm:0.6,\n"),
                ("0.5,\n", "0.5,,\n"),
            ]
        },
        [(LOADS, 2, "with", "'Pump', of tier nice", "carried as long as this one")],
    ),
    (
        "duty in percent",
        {LOADS: ("0.4,", "40,")},
        [(LOADS, 2, "duty", "'40'", "a share of 0…1, above 0 and at most 1, e.g. 0.4 for 40 %")],
    ),
    (
        "window made a date",
        {LOADS: ("0:00-24:00", "6-Aug")},
        [(LOADS, 2, "hours", "'6-Aug'", "turned the window into a date")],
    ),
    (
        "windows that overlap",
        {LOADS: ("6:30-8:00;17:00-23:00", "6:30-8:00;7:00-9:00")},
        [(LOADS, 3, "hours", "'6:30-8:00;7:00-9:00'", "must not overlap")],
    ),
    (
        "window of no length",
        {LOADS: ("0:00-24:00", "6:00-6:00")},
        [(LOADS, 2, "hours", "'6:00-6:00'", "the whole day is 0:00-24:00")],
    ),
    (
        "hour 25",
        {LOADS: ("0:00-24:00", "6:00-25:00")},
        [(LOADS, 2, "hours", "'6:00-25:00'", "an end at most 24:00")],
    ),
    (
        "starting below running",
        {LOADS: (",600,", ",60,")},
        [(LOADS, 2, "starting_w", "'60'", "empty, or at least running_w (90 W)")],
    ),
    (
        "starting watts below nothing",
        {LOADS: (",600,", ",-1,")},
        [(LOADS, 2, "starting_w", "'-1'", "at most 10000000 W and at least running_w")],
    ),
    (
        "count and watts",
        {LOADS: ("must,1,90", "must,1.5,0")},
        [
            (LOADS, 2, "count", "'1.5'", "a whole number from 1 to 10000 pieces"),
            (LOADS, 2, "running_w", "'0'", "a number above 0 and at most 1000000 W"),
        ],
    ),
    (
        "unknown season",
        {LOADS: ("cold:1.2", "could:1.2")},
        [(LOADS, 3, "seasons", "'could'", "nearest known: cold")],
    ),
    (
        "season twice",
        {LOADS: ("warm:0.6", "cold:0.6")},
        [(LOADS, 3, "seasons", "cold:0.6'", "'cold' stands twice")],
    ),
    (
        "multiplier out of range",
        {LOADS: ("warm:0.6", "warm:60")},
        [(LOADS, 3, "seasons", "warm:60'", "multipliers from 0 to 10")],
    ),
    (
        "seasons without numbers",
        {LOADS: ("cold:1.2;warm:0.6", "cold")},
        [(LOADS, 3, "seasons", "'cold'", "season:multiplier pairs")],
    ),
    (
        "load twice",
        {LOADS: ("Pump", "Fridge")},
        [(LOADS, 4, "load", "'Fridge', as in row 2", "a name that is used once")],
    ),
    (
        "no loads",
        {LOADS: FILES[LOADS].splitlines()[0]},
        [(LOADS, None, None, "no row", "at least one row")],
    ),
    ("empty file", {LOADS: ""}, [(LOADS, None, None, "an empty file", "a row of column names")]),
    (
        "empty cell",
        {LOADS: ("Fridge,must,1", "Fridge,,1")},
        [(LOADS, 2, "tier", "an empty cell", "the tier of the load")],
    ),
    (
        "missing and unknown column",
        {LOADS: ("running_w", "running_watts")},
        [
            (LOADS, 1, "running_watts", "an unknown column", "nearest known: running_w"),
            (LOADS, 1, "running_w", "no such column", "at most 1000000 W"),
        ],
    ),
    (
        "missing column that a start is a multiple of",
        {LOADS: [("running_w", "power"), (",600,", ",6x,")]},
        [
            (LOADS, 1, "power", "an unknown column", "a column of this table"),
            (LOADS, 1, "running_w", "no such column", "at most 1000000 W"),
        ],
    ),
    (
        "watts that a start is a multiple of",
        {LOADS: [(",90,", ",none,"), (",600,", ",6x,")]},
        [(LOADS, 2, "running_w", "'none'", "at most 1000000 W")],
    ),
    (
        "column twice",
        {LOADS: ("starting_w", "running_w")},
        [(LOADS, 1, "running_w", "the column twice", "it once")],
    ),
    (
        "cells out of line",
        {LOADS: ("0.85", "0,85")},
        [(LOADS, 2, None, "10 cells", "9, one for each column name; a decimal comma")],
    ),
    (
        "cells missing",
        {LOADS: ("0.4,", "0.4")},
        [(LOADS, 2, None, "8 cells", "9, one for each column name")],
    ),
    (
        "cell below no name",
        {
            LOADS: "#x,load,tier,count,running_w,power_factor,hours,duty,\n"
            "hello,A,must,1,5,1,6:00-8:00,1,stray\n"
        },
        [(LOADS, 2, None, "'stray' in column 9", "a column name")],
    ),
    (
        "decimals both ways",
        {LOADS: ("0.85", '"0,85"')},
        [(LOADS, 2, "power_factor", "'0,85'", "decimals with a point, as in the rest")],
    ),
    (
        "thousands or decimals",
        {
            LOADS: "load;tier;count;running_w;power_factor;hours;duty\n"
            "A;must;1;1,200;1;6:00-8:00;1\n"
        },
        [(LOADS, 2, "running_w", "'1,200'", "1200 if thousands are meant, 1,2 if decimals")],
    ),
    (
        "thousands in a file of commas",
        {
            LOADS: "load;tier;count;running_w;power_factor;hours;duty\n"
            "A;must;1;1.200,5;0,9;6:00-8:00;0,5\n"
        },
        [(LOADS, 2, "running_w", "'1.200,5'", "decimals with a comma, as in the rest")],
    ),
    (
        "quote never closed",
        {LOADS: ("Lamps", '"Lamps')},
        [(LOADS, 3, None, "a quote mark", 'quoted cells closed with "')],
    ),
    ("old workbook", {LOADS: b"\xd0\xcf\x11\xe0abc"}, [(LOADS, None, None, "old", "CSV or XLSX")]),
    ("damaged workbook", {LOADS: b"PK\x03\x04abc"}, [(LOADS, None, None, "damaged", "XLSX")]),
    ("no text", {LOADS: b"\x81\x8d\xff\xfe"}, [(LOADS, None, None, "no text", "cp1252")]),
]

test_message = messages_of(CASES)
