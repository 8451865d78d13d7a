"""Every message about the price list, once: place, what was found, what would be right."""

from __future__ import annotations

from tests.site_files import CHEMISTRIES_HEAD, FILES, messages_of

SITE, BATTERIES, INVERTERS = "site.toml", "batteries.csv", "inverters.csv"
CHEMISTRIES = "chemistries.csv"

# (what, changes, [(file, row, column, piece of found, piece of wanted), …])
CASES = [
    (
        "depth 1.5",
        {BATTERIES: ("30,0.6", "30,1.5")},
        [(BATTERIES, 3, "max_dod", "'1.5'", "a share above 0, at most 1")],
    ),
    (
        "128 V",
        {BATTERIES: ("12.8", "128")},
        [
            (
                BATTERIES,
                4,
                "voltage_v",
                "'128'",
                "one of 2, 3, 6, 8, 12, 24, 48 V; a misplaced decimal? 12.8 V is of the 12 V class",
            )
        ],
    ),
    (
        "18 V",
        {BATTERIES: ("flooded,6", "flooded,18")},
        [(BATTERIES, 2, "voltage_v", "'18'", "within 0.95…1.10 times one of 2, 3, 6")],
    ),
    (
        "not a number, endless, negative",
        {BATTERIES: [("190", "nan"), ("450", "-450")], "cables.csv": ("140", "inf")},
        [
            (BATTERIES, 3, "price", "'nan'", "it must be finite"),
            (BATTERIES, 4, "price", "'-450'", "a number from 0 to 1e12 in the site's currency"),
            ("cables.csv", 2, "ampacity_a", "'inf'", "it must be finite"),
        ],
    ),
    (
        "model twice",
        {BATTERIES: ("Wharf 12", "Wharf 6"), INVERTERS: ("Tide 24", "Tide 12")},
        [
            (BATTERIES, 3, "battery", "'Wharf 6', as in row 2", "a name that is used once"),
            (INVERTERS, 3, "inverter", "'Tide 12', as in row 2", "a name that is used once"),
        ],
    ),
    (
        "unknown chemistry",
        {BATTERIES: ("agm", "amg")},
        [(BATTERIES, 3, "chemistry", "'amg'", "nearest known: agm")],
    ),
    (
        "a number made a date",
        {BATTERIES: ("0.6,", "2026-06-01,")},
        [(BATTERIES, 3, "max_dod", "'2026-06-01'", "turned the number into a date")],
    ),
    (
        "charge rates against the chemistry",
        {BATTERIES: ("11,,0.7", "11,,0.7\nReed,agm,12,9,20,30,3,,0.01")},
        [(BATTERIES, 5, "charge_rate_max", "0.01", "at least charge_rate_min (0.05 per hour, its")],
    ),
    (
        "charge rates that clash",
        {CHEMISTRIES: "chemistry,charge_rate_min,charge_rate_max\nagm,0.5,0.2\n"},
        [(CHEMISTRIES, 2, "charge_rate_min", "'0.5'", "at most charge_rate_max (0.2 per hour)")],
    ),
    (
        "points out of order",
        {
            BATTERIES: ("agm", "salt"),
            CHEMISTRIES: "chemistry,family,gas,cycle_points,cold_points\n"
            "salt,sodium,none,0.8:600;0.5:1200,10:0.8;0:0.7\n",
        },
        [
            (CHEMISTRIES, 2, "cycle_points", "'0.8:600;0.5:1200'", "depths rising"),
            (CHEMISTRIES, 2, "cold_points", "'10:0.8;0:0.7'", "temperatures rising"),
        ],
    ),
    (
        "a chemistry without its kind",
        {
            BATTERIES: ("agm", "salt"),
            CHEMISTRIES: CHEMISTRIES_HEAD
            + "salt,,,,0.9,12,10,0.8:4000,0.7,1,0,1,1.1,0.8,0.01,0,0,0,-20,-20:0.9;0:1,2,4\n",
        },
        [
            (CHEMISTRIES, 2, "family", "nothing", "'salt' is none of the shipped chemistries"),
            (CHEMISTRIES, 2, "gas", "nothing", "whose gas would stand in"),
            (CHEMISTRIES, 2, "peukert", "nothing", "'Wharf 12' (batteries.csv, row 3) leaves it"),
        ],
    ),
    (
        "gas in other words",
        {CHEMISTRIES: "chemistry,gas\nagm,sealed\n"},
        [(CHEMISTRIES, 2, "gas", "'sealed'", "vented, valve_regulated or none")],
    ),
    (
        "inverter ranges",
        {INVERTERS: ("12,1200,1100,1400,2400,0.91", "36,1200,1100,1400,1000,91")},
        [
            (INVERTERS, 2, "system_v", "'36'", "12, 24 or 48 V"),
            (INVERTERS, 2, "surge_w", "'1000'", "at least power_w (1200 W)"),
            (INVERTERS, 2, "efficiency", "'91'", "0.91 if 91 % was meant"),
        ],
    ),
    (
        "surge below power",
        {INVERTERS: ("2400,0.91", "1000,0.91")},
        [(INVERTERS, 2, "surge_w", "'1000'", "at least power_w (1200 W)")],
    ),
    (
        "flag in other words",
        {
            INVERTERS: [
                ("price\n", "price,works_in_parallel\n"),
                ("10,400", "10,400,TRUE"),
                ("12,800", "12,800,maybe"),
            ]
        },
        [(INVERTERS, 3, "works_in_parallel", "'maybe'", "true or false")],
    ),
    (
        "date in other words",
        {
            INVERTERS: [
                ("price\n", "price,price_date\n"),
                ("10,400", "10,400,2026-02-30"),
                ("12,800", "12,800,"),
            ]
        },
        [(INVERTERS, 2, "price_date", "'2026-02-30'", "a date such as 2026-01-31")],
    ),
    (
        "no inverter at the banks' voltage",
        {SITE: ("[12, 24]", "[48]")},
        [(INVERTERS, None, "system_v", "inverters of 12, 24 V", "the site allows")],
    ),
    (
        "works at swaps",
        {"works.csv": ("site,150,first", "site,150,both")},
        [("works.csv", 2, "applies", "'both'", "first, the only time a site work is due")],
    ),
    (
        "work twice, unknown basis",
        {"works.csv": [("Fitting", "Visit"), ("inverter_unit", "inverter")]},
        [
            ("works.csv", 3, "basis", "'inverter'", "site, inverter_unit, battery_unit"),
            ("works.csv", 3, "item", "'Visit', as in row 2", "used once"),
        ],
    ),
    (
        "tables missing",
        {"cables.csv": None, "fuses.csv": None, INVERTERS: None},
        [
            (INVERTERS, None, None, "no such file", "inverters.csv or inverters.xlsx in the"),
            ("cables.csv", None, None, "no such file", "cables.csv or cables.xlsx in the catalog"),
            ("fuses.csv", None, None, "no such file", "fuses.csv or fuses.xlsx in the catalog"),
        ],
    ),
    (
        "nothing on offer",
        {INVERTERS: FILES[INVERTERS].splitlines()[0], BATTERIES: FILES[BATTERIES].splitlines()[0]},
        [
            (BATTERIES, None, None, "no row below the names", "at least one row"),
            (INVERTERS, None, None, "no row below the names", "at least one row"),
        ],
    ),
    (
        "a table twice",
        {"fuses.xlsx": b"anything"},
        [("fuses", None, None, "both fuses.csv and fuses.xlsx", "one of them")],
    ),
]

test_message = messages_of(CASES)
