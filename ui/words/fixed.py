"""Texts without figures: headings, labels, help."""

from __future__ import annotations

from typing import Final

TITLE: Final = "keeplit"
TAGLINE: Final = "Batteries and inverter for the hours without the grid"

# The curve
CURVE: Final = "What does each hour without the grid cost?"
CURVE_FILE: Final = "What each hour without the grid costs"
CURVE_TABLE: Final = "The curve as a table"
CURVE_WAIT: Final = "Working out the curve"
CURVE_OLD: Final = "The curve below is still the one before the last change."
CURVE_FAILED: Final = (
    "The curve could not be worked out this time. Nothing of yours is lost: change something and "
    "it is tried again."
)
CURVE_EMPTY: Final = "Nothing on the price list fits this site at any hour."
PAGE_FAILED: Final = (
    "Something went wrong inside the page, and it is the page's fault. Your job is still here: "
    "undo the last change, or save the job and open it again."
)
HOW_MONEY: Final = "Cost shown"
LIFETIME: Final = "over the years"
UPFRONT: Final = "at the start"
TARGET_DRAG: Final = "Hours to get through"
TARGET_TYPE: Final = "Hours, typed"
TARGET_HELP: Final = "The longest outage that must be carried, from its worst start, in h."
BUDGET: Final = "Budget at the start"
BUDGET_HELP: Final = "What may be paid at the start. Points that cost more are faded and hollow."
LIFETIME_BUDGET: Final = "Lifetime budget"
LIFETIME_BUDGET_HELP: Final = "What it may cost over all years, in money of today; a line."
NO_LIMIT: Final = "no limit"
TO_TARGET: Final = "Back to the target"
KEEP: Final = "Keep beside"
KEEP_FULL: Final = "Four designs are kept already; drop one first."
UNDO: Final = "Undo last change"
SAVE: Final = "Save job"
POINTS_HINT: Final = "Click a point to see its design; hover for bank and inverter."

# The design
NO_ANSWER: Final = "No answer this time"
FAULTY: Final = "The last change cannot be answered yet; the answer below is the one before it."
PART_FAILED: Final = "This part could not be worked out for this design."
HOLDS: Final = "Holds from the worst start"
PAID_START: Final = "Paid at the start"
BANK: Final = "Bank, in series × in parallel"
SERVICE: Final = "Service life of the bank"
SET: Final = "Inverter-charger"
WIRING: Final = "Battery cable and fuse"
AGAIN: Final = "Bought again"
MASS: Final = "Mass of the bank"
REQUIREMENTS: Final = "Every requirement as a table"
OPINION_TABLE: Final = "Hours by age and by tier"
AGE_COLUMNS: Final = ("Bank", "Shortest, h", "Season", "From")
TIER_COLUMNS: Final = ("Tier", "With it, h", "Without it, h")
OUTAGE_COLUMNS: Final = ("Hours", "Time of day", "Charge, %")
CHARGE_ALT: Final = "Charge of the bank over the outage; the table below has the figures."
LOADS_ALT: Final = (
    "Loads that run over the outage, tier upon tier; the table below has the figures."
)
MONEY_ALT: Final = "Payments year by year; the table below has the figures."
NEXT_PURCHASE: Final = "Next purchase"
MONEY_NOTE: Final = "Hollow bars below the line are the value that comes back."
MONEY_COLUMNS: Final = ("When", "Bought", "Running", "Value back", "Sum")
KEPT_COLUMNS: Final = (
    "",
    "Hours",
    "At the start",
    "Over the years",
    "Bank",
    "Inverter-charger",
    "Bought again",
    "Inputs",
)
INPUTS_NOW: Final = "as now"
INPUTS_OTHER: Final = "before a change"
FIGURES: Final = "What is it?"
BINDING: Final = "Why not less?"
STEP: Final = "Why not more?"
OPINION: Final = "Does it hold?"
OUTAGE: Final = "What does an outage look like?"
MONEY: Final = "What is paid, and when?"
BESIDE: Final = "Kept beside"
DROP: Final = "Drop"
AS_TABLE: Final = "The same as a table"
CHARGE_TITLE: Final = "Charge left in the bank, %"
LOADS_TITLE: Final = "Loads that run, W"
CAUTION: Final = (
    "Planning figures, not an installation plan: batteries hold dangerous currents, lead-acid "
    "gives off hydrogen, work on the supply belongs to a licensed electrician, local codes prevail."
)

# The questions
QUESTIONS: Final = "Make it yours: change an answer, and the curve follows"
ASK_LOADS: Final = "What must stay on?"
ASK_OUTAGES: Final = "How does the grid fail?"
ASK_PLACE: Final = "Where will it stand?"
ASK_MONEY: Final = "What about money?"
ASK_PRICES: Final = "What is on offer?"
ASK_FILES: Final = "Open or take along?"
FINER: Final = "Finer points"

LOADS_HELP: Final = (
    "One row an appliance. Watts of one piece while it runs; duty is the share of its hours in "
    "which it really runs. Click a cell to change it; the last row adds one."
)
APPLIANCE: Final = "Add a common appliance"
APPLIANCE_HELP: Final = "Usual figures to start from; the rating plate of your own is better."
ADD: Final = "Add"
APPLIANCE_PICK: Final = "Choose an appliance"
LOADS_FILE: Final = "Or drop in a file of loads (CSV or XLSX)"
SEASON: Final = "Season"
MONTHS: Final = "Months"
SEASONS_HELP: Final = "Every month from 1 to 12 in one season; loads may differ by season."
COLUMNS: Final = {
    "load": "Appliance",
    "tier": "Tier",
    "count": "Pieces",
    "running_w": "Running, W",
    "power_factor": "Power factor",
    "starting_w": "Start-up, W",
    "hours": "Hours of the day",
    "duty": "Duty, %",
    "seasons": "By season",
    "critical": "Critical",
    "never_off": "Never off",
    "with": "Only with",
}

OUTAGES_FORM: Final = "What is known of the outages?"
FORMS: Final = {
    "log": "A log of past outages",
    "typed": "How long and how often",
    "daily": "Cuts at fixed hours",
}
LOG_FILE: Final = "Drop in a log (CSV or XLSX with the columns start and end)"
LOG_SHOW: Final = "Show the log"
LOG_COLUMNS: Final = ("From", "To", "Hours")
LOG_NONE: Final = "No log yet: drop one in, and it takes the place of what was there."
TYPED_HELP: Final = "One row for each kind of outage: its hours, and how often a year it comes."
TYPED_HOURS: Final = "Hours"
TYPED_TIMES: Final = "Times a year"
DAILY_HELP: Final = "One row for each cut of the day, such as 06:30-09:30."
DAILY_CUT: Final = "Cut"

PRICES_FILES: Final = "Drop in a price list (CSV or XLSX, one file a table)"
PRICES_HELP: Final = (
    "Files are told apart by their names: batteries, inverters, cables, fuses, works, chemistries. "
    "A table that is not among them stays as it is."
)
PRICES_KEPT: Final = "The files have faults. Your job still uses the price list it had."
FILE_KEPT: Final = "The file has faults. Your job is as it was."
PRICES_DEMO: Final = "Use the demo prices"
PRICES_UNKNOWN: Final = "a file called batteries, inverters, cables, fuses, works or chemistries"
TABLES: Final = {
    "loads": "Loads",
    "outages": "Outage log",
    "batteries": "Batteries",
    "inverters": "Inverter-chargers",
    "cables": "Battery cables",
    "fuses": "Battery fuses",
    "works": "Labour and fittings",
    "chemistries": "Chemistries",
    "contracts": "Supply contracts",
    "generators": "Generators",
}
SHOW_TABLE: Final = "Show a table"

OPEN_JOB: Final = "Open a saved job"
DEMO: Final = "Or start from a demo site"
DEMO_OPEN: Final = "Start from it"
DEMOS: Final = {
    "house": "a family house, storms in winter",
    "clinic": "a clinic, two cuts a day",
    "hall": "a hall used as a shelter",
}
SAVE_HELP: Final = "The whole job in one file: site, loads, outages, price list, designs kept."
TAKE: Final = "Take the curve along"
CSV, XLSX, PNG, SVG = "As CSV", "As XLSX", "As PNG", "As SVG"
FAULTS: Final = ("File", "Row", "Column", "Found", "Wanted")

#: Label and help of every field of the site, by its key; units stand in the label.
#: Labels; what a field is and which range it has stands with the keys of the site file.
FIELDS: Final = {
    "tiers": "Tiers that must stay on",
    "name": "Name of the site",
    "currency": "Currency",
    "max_hours": "Longest hours looked at",
    "design_margin": "Margin, %",
    "recharge_hours": "Hours to refill",
    "load_growth": "Growth of the loads, % a year",
    "coincidence": "Running at once, %",
    "reference_efficiency": "Efficiency for wear, %",
    "log_years": "Years the log covers",
    "days_per_year": "Days a year with cuts",
    "min_degc": "Coldest at the batteries, °C",
    "mean_degc": "Mean over the year, °C",
    "max_degc": "Hottest at the inverter, °C",
    "vented_allowed": "Air passes through",
    "battery_cable_m": "Battery cable, m one way",
    "max_drop": "Voltage drop allowed, %",
    "max_bank_kg": "Floor bears, kg",
    "max_parallel": "Strings in parallel, at most",
    "voltages": "System voltages, V",
    "exclude": "Left out",
    "horizon_years": "Years looked ahead",
    "discount_rate": "Discount rate, % a year",
    "inflation": "Inflation, % a year",
    "tariff": "Price of grid energy, a kWh",
    "tax_rate": "Tax, %",
    "markup": "Markup, %",
    "residual_share": "Value left, %",
    "min_service_share": "Serves at least, %",
    "value_of_lost_load": "A kWh missing is worth",
}
