"""Every message about the site file, once: place, what was found, what would be right."""

from __future__ import annotations

from tests.site_files import messages_of

SITE, BATTERIES = "site.toml", "batteries.csv"

# (what, changes, [(file, row, column, piece of found, piece of wanted), …])
CASES = [
    (
        "syntax",
        {SITE: ("max_hours = 24", "max_hours =")},
        [(SITE, 13, None, "'max_hours ='", "lines such as")],
    ),
    (
        "the same key twice",
        {SITE: ("max_hours = 24", "max_hours = 24\nmax_hours = 30")},
        [(SITE, 14, None, "overwrite", "each key once")],
    ),
    ("no text", {SITE: b"\0\0\1\2" * 9}, [(SITE, None, None, "no text", "TOML in UTF-8")]),
    (
        "unknown key",
        {SITE: ("tariff = 0.3", "tariff = 0.3\ntax = 0.2")},
        [(SITE, 23, "economics.tax", "an unknown key", "nearest known: tax_rate")],
    ),
    (
        "key of another section",
        {SITE: ("tariff = 0.3", "tariff = 0.3\nbudget = 2000")},
        [(SITE, 23, "economics.budget", "an unknown key", "nearest known: [limits] budget")],
    ),
    (
        "key in no section",
        {SITE: ("[site]", "markup = 0.1\n[site]")},
        [(SITE, 1, "markup", "a key in no section", "[economics] markup")],
    ),
    (
        "unknown section",
        {SITE: ("[limits]", "[limit]")},
        [(SITE, 30, "limit", "an unknown section", "nearest known: limits")],
    ),
    (
        "a section that is a value",
        {SITE: ("[site]", "wiring = 3\n[site]")},
        [(SITE, 1, "wiring", "3", "a section [wiring]")],
    ),
    (
        "missing keys",
        {SITE: [("tariff = 0.3\n", ""), ("target_hours = 8\n", "")]},
        [
            (SITE, None, "resilience.target_hours", "no such key", "a whole number from 1 to 240"),
            (SITE, None, "economics.tariff", "no such key", "currency per kWh"),
        ],
    ),
    (
        "horizon 0",
        {SITE: ("horizon_years = 10", "horizon_years = 0")},
        [(SITE, 21, "economics.horizon_years", "0", "a whole number from 1 to 40 years")],
    ),
    (
        "horizon 60",
        {SITE: ("horizon_years = 10", "horizon_years = 60")},
        [(SITE, 21, "economics.horizon_years", "60", "a whole number from 1 to 40 years")],
    ),
    (
        "0 hours",
        {SITE: ("target_hours = 8", "target_hours = 0")},
        [(SITE, 12, "resilience.target_hours", "0", "a whole number from 1 to 240")],
    ),
    (
        "half an hour",
        {SITE: ("target_hours = 8", "target_hours = 8.5")},
        [(SITE, 12, "resilience.target_hours", "8.5", "a whole number")],
    ),
    (
        "true for a number",
        {SITE: ("tariff = 0.3", "tariff = true")},
        [(SITE, 22, "economics.tariff", "true", "a number")],
    ),
    (
        "target past the longest",
        {SITE: ("target_hours = 8", "target_hours = 25")},
        [(SITE, 12, "resilience.target_hours", "25", "at most max_hours (24 h)")],
    ),
    (
        "percent for a rate",
        {SITE: ("tariff = 0.3", "tariff = 0.3\ndiscount_rate = 3")},
        [(SITE, 23, "economics.discount_rate", "3", "0.03 if 3 % was meant")],
    ),
    (
        "percent for a share",
        {SITE: ("tariff = 0.3", "tariff = 0.3\ntax_rate = 20")},
        [(SITE, 23, "economics.tax_rate", "20", "a share of 0…1, e.g. 0.4 for 40 %; 0.2 if 20 %")],
    ),
    (
        "a number beyond numbers",
        {SITE: ("tariff = 0.3", "tariff = inf")},
        [(SITE, 22, "economics.tariff", "inf", "it must be finite")],
    ),
    (
        "digits without end",
        {SITE: ("tariff = 0.3", "tariff = 1" + "0" * 400)},
        [(SITE, 22, "economics.tariff", "…", "a number from 0 to 1e12")],
    ),
    (
        "currency in words",
        {SITE: ('"EUR"', '"euro"')},
        [(SITE, 3, "site.currency", "'euro'", "ISO 4217")],
    ),
    (
        "temperatures out of order",
        {SITE: ("mean_degc = 15", "mean_degc = 35")},
        [(SITE, 27, "battery_room.max_degc", "30", "at least mean_degc (35 °C)")],
    ),
    (
        "odd voltage",
        {SITE: ("[12, 24]", "[12, 36]")},
        [(SITE, 31, "limits.voltages", "[12, 36]", "out of 12, 24 and 48")],
    ),
    (
        "voltage twice",
        {SITE: ("[12, 24]", "[12, 12]")},
        [(SITE, 31, "limits.voltages", "12 twice", "each once")],
    ),
    (
        "exclude what is not there",
        {SITE: ('["gel"]', '["Wharf 8"]')},
        [(SITE, 32, "limits.exclude", "'Wharf 8'", "nearest known: Wharf 6")],
    ),
    (
        "a tier that no load has",
        {SITE: ('["must"]', '["must", "niece"]')},
        [(SITE, 11, "resilience.tiers", "'niece'", "nearest known: nice")],
    ),
    (
        "no tiers",
        {SITE: ('["must"]', "[]")},
        [(SITE, 11, "resilience.tiers", "an empty list", "a list of tiers")],
    ),
    (
        "month missing",
        {SITE: ("4, 5, 6,", "4, 6,")},
        [(SITE, 6, "seasons", "no season for month 5", "all twelve months")],
    ),
    (
        "month twice",
        {SITE: ("[4, 5,", "[3, 4, 5,")},
        [(SITE, 8, "seasons.warm", "month 3, already in cold", "each month once")],
    ),
    (
        "season of no month",
        {SITE: ("warm =", "dry = []\nwarm =")},
        [(SITE, 8, "seasons.dry", "[]", "at least one month")],
    ),
    (
        "month 13",
        {SITE: ("[4, 5,", "[13, 4, 5,")},
        [(SITE, 8, "seasons.warm", "[13, 4,", "months 1…12")],
    ),
    (
        "seasons that are none",
        {SITE: ("cold = [10, 11, 12, 1, 2, 3]\nwarm = [4, 5, 6, 7, 8, 9]\n", "")},
        [(SITE, 6, "seasons", "no season", "lists of months")],
    ),
    (
        "loads not there",
        {SITE: ('"loads.csv"', '"survey.csv"')},
        [("survey.csv", None, None, "no such file", "a CSV or XLSX file")],
    ),
    (
        "catalog not there",
        {SITE: ('"loads.csv"', '"loads.csv"\ncatalog = "prices"')},
        [(SITE, 5, "site.catalog", "'prices', no such folder", "the folder that holds batteries")],
    ),
    (
        "no catalog at all",
        {BATTERIES: None},
        [(SITE, None, "site.catalog", "no batteries.csv or batteries.xlsx beside", "catalog =")],
    ),
]

test_message = messages_of(CASES)
