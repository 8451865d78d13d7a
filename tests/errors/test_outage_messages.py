"""Every message about outages, once: place, what was found, what would be right."""

from __future__ import annotations

from tests.site_files import FILES, messages_of

SITE, LOG = "site.toml", "outages.csv"

# (what, changes, [(file, row, column, piece of found, piece of wanted), …])
CASES = [
    (
        "no outages",
        {SITE: ('log = "outages.csv"\nlog_years = 2\n', "")},
        [(SITE, 16, "outages", "no outages", "one form")],
    ),
    (
        "two forms",
        {SITE: ("log_years = 2", "log_years = 2\ntyped = [[2, 3]]")},
        [(SITE, 16, "outages", "log, typed", "one form")],
    ),
    (
        "log without years",
        {SITE: ("log_years = 2\n", "")},
        [(SITE, None, "outages.log_years", "no such key", "years that the log covers")],
    ),
    (
        "years without log",
        {SITE: ('log = "outages.csv"', "typed = [[2, 3]]")},
        [(SITE, 18, "outages.log_years", "it without log", "log with it, or neither")],
    ),
    (
        "log years below the span",
        {SITE: ("log_years = 2", "log_years = 1")},
        [(SITE, 18, "outages.log_years", "1", "at least the log's span, 1.09 years")],
    ),
    (
        "typed pairs",
        {SITE: ('log = "outages.csv"\nlog_years = 2', "typed = [[2, 3], [0, 4], [5]]")},
        [
            (SITE, 17, "outages.typed", "[0, 4]", "[hours, times a year]"),
            (SITE, 17, "outages.typed", "[5]", "each above 0"),
        ],
    ),
    (
        "typed, none",
        {SITE: ('log = "outages.csv"\nlog_years = 2', "typed = []")},
        [(SITE, 17, "outages.typed", "an empty list", "[hours, times a year]")],
    ),
    (
        "typed, no list of lists",
        {SITE: ('log = "outages.csv"\nlog_years = 2', "typed = [2, 3]")},
        [(SITE, 17, "outages.typed", "[2, 3]", "a list of [hours, times a year]")],
    ),
    (
        "typed beyond a year",
        {SITE: ('log = "outages.csv"\nlog_years = 2', "typed = [[150, 160]]")},
        [(SITE, 17, "outages.typed", "24000 h", "no more hours than a year has")],
    ),
    (
        "cuts that overlap",
        {
            SITE: (
                'log = "outages.csv"\nlog_years = 2',
                'daily = ["22:00-2:00", "1:00-3:00"]\ndays_per_year = 90',
            )
        },
        [(SITE, 17, "outages.daily", "cuts that overlap", "apart")],
    ),
    (
        "cut unreadable",
        {SITE: ('log = "outages.csv"\nlog_years = 2', 'daily = ["six"]\ndays_per_year = 90')},
        [(SITE, 17, "outages.daily", "'six'", "a list of cuts")],
    ),
    (
        "one cut of two without length",
        {
            SITE: (
                'log = "outages.csv"\nlog_years = 2',
                'daily = ["6:00-8:00", "9:00-9:00"]\ndays_per_year = 90',
            )
        },
        [(SITE, 17, "outages.daily", "'9:00-9:00'", "a window of no length")],
    ),
    (
        "cuts, none, on no day",
        {SITE: ('log = "outages.csv"\nlog_years = 2', "daily = []\ndays_per_year = 0")},
        [
            (SITE, 17, "outages.daily", "an empty list", "a list of cuts"),
            (SITE, 18, "outages.days_per_year", "0", "above 0 and at most 366"),
        ],
    ),
    (
        "end before start",
        {LOG: ("2024-01-10T20:10", "2024-01-10T17:10")},
        [(LOG, 2, "end", "'2024-01-10T17:10'", "after start (2024-01-10T17:40:00)")],
    ),
    (
        "overlapping log, out of order",
        {LOG: FILES["outages.csv"] + "2024-01-10T19:00,2024-01-10T22:00\n"},
        [(LOG, 5, "start", "of row 2", "at or after 2024-01-10T20:10:00")],
    ),
    ("log of no outage", {LOG: "start,end\n"}, [(LOG, None, None, "no row", "at least one row")]),
    ("empty log", {LOG: ""}, [(LOG, None, None, "an empty file", "a row of column names")]),
    (
        "German date",
        {LOG: ("2024-01-10T17:40", "10.01.2024 17:40")},
        [(LOG, 2, "start", "'10.01.2024 17:40'", "such as 2026-01-31T17:40")],
    ),
    (
        "no time of day",
        {LOG: ("2024-01-10T17:40", "2024-01-10")},
        [(LOG, 2, "start", "'2024-01-10'", "the time of day is missing")],
    ),
    (
        "an offset from UTC in one of two times",
        {LOG: ("2024-01-10T17:40", "2024-01-10T17:40Z")},
        [(LOG, 2, "end", "20:10'", "in both times, or in neither")],
    ),
    (
        "an offset from UTC in one of three rows",
        {LOG: ("2024-01-10T17:40,2024-01-10T20:10", "2024-01-10T17:40Z,2024-01-10T20:10Z")},
        [(LOG, 2, "start", "2 rows that have none", "it in every row, or in none")],
    ),
    (
        "the autumn clock change without offsets",
        {LOG: ("2024-01-10T17:40,2024-01-10T20:10", "2024-10-27T02:50,2024-10-27T02:10")},
        [(LOG, 2, "end", "02:10'", "where clocks went back")],
    ),
]

test_message = messages_of(CASES)
