"""Texts without figures that only the page has: headings, labels, help."""

from typing import Final

from ui.language import say

TITLE: Final = "keeplit"
TERMS: Final = say("What do these words mean?")
GLOSSARY: Final = say("What do the words mean?")

MANY_SITES: Final = say("Many sites under one budget")

# The curve
CURVE: Final = say("What does each hour without the grid cost?")
CURVE_FILE: Final = say("What each hour without the grid costs")
CURVE_TABLE: Final = say("The curve as a table")
CURVE_OLD: Final = say("The curve below is still the one before the last change.")
CURVE_FAILED: Final = say(
    "The curve could not be worked out this time. Nothing of yours is lost: change something and "
    "it is tried again."
)
CURVE_EMPTY: Final = say("Nothing on the price list fits this site at any hour.")
PAGE_FAILED: Final = say(
    "Something went wrong inside the page, and it is the page's fault. Your job is still here: "
    "undo the last change, or save the job and open it again."
)
HOW_MONEY: Final = say("Least of all")
HOW_MONEY_HELP: Final = say(
    "Which cost is as low as can be, on the curve and in the answer: all that is paid over the "
    "study period, or what is paid at the start."
)
START_OWN: Final = say("Start with my own")
COST_BARS_ALT: Final = say(
    "One bar a family: equipment, labour, replacements, energy and upkeep, and the residual value; "
    "a mark is the life-cycle cost."
)
TRADES: Final = say("Pay now or pay later?")
TRADES_ALT: Final = say(
    "Life-cycle cost against upfront cost for the same hours; the sentences above say the same."
)
COSTS: Final = {"life_cycle_cost": say("life-cycle"), "upfront_cost": say("upfront")}
TARGET_DRAG: Final = say("Autonomy required")
NO_LIMIT: Final = say("no limit")
TO_TARGET: Final = say("Back to the autonomy required")
KEEP: Final = say("Add to comparison")
KEEP_FULL: Final = say("Four designs are compared already; remove one first.")
SAVE: Final = say("Save job")

# The design
NO_ANSWER: Final = say("No answer this time")
FAULTY: Final = say(
    "The last change cannot be answered yet; the answer below is the one before it."
)
PART_FAILED: Final = say("This part could not be worked out for this design.")
CHARGE_ALT: Final = say("Charge of the bank over the outage; the table below has the figures.")
LOADS_ALT: Final = say(
    "Loads that run over the outage, tier upon tier; the table below has the figures."
)
MONEY_ALT: Final = say("Payments year by year; the table below has the figures.")
MONEY_NOTE: Final = say("Hollow bars below the line are the residual value.")
FIGURES: Final = say("What is it?")
BINDING: Final = say("What limits this design?")
STEP: Final = say("What would more hours cost?")
SIMULATION: Final = say("Does it hold?")
OUTAGE: Final = say("What does an outage look like?")
BURSTS: Final = say("What do the loads draw, minute by minute?")
BURSTS_ALT: Final = say("Loads over a day by the minute, and their mean of each hour.")
CUTS: Final = say("What do days of scheduled cuts look like?")
PEAKS: Final = say("What does the bank add at the peaks?")
THREE_DAYS: Final = say("What do three days without the grid look like?")
FUEL_TITLE: Final = say("Fuel burnt, l")
CUTS_ALT: Final = say("Charge of the bank over three days of cuts; the sentence above sums it up.")
PEAKS_ALT: Final = say(
    "A month's peaks, what the contract lets through, and what the bank adds; the sentence above "
    "sums it up."
)
FUEL_ALT: Final = say("Fuel burnt over three days; the sentence above sums it up.")
MONEY: Final = say("What is paid, and when?")
REMOVE: Final = say("Remove")
AS_TABLE: Final = say("The same as a table")
CHARGE_TITLE: Final = say("State of charge of the bank, %")
LOADS_TITLE: Final = say("Loads that run, W")

# The questions
QUESTIONS: Final = say("Make it yours: change an answer, and the curve follows")
ASK_LOADS: Final = say("What must stay on?")
ASK_OUTAGES: Final = say("How does the grid fail?")
ASK_SUPPLY: Final = say("Smaller contract, or a generator?")
ASK_PLACE: Final = say("Where will it stand?")
ASK_MONEY: Final = say("What about money?")
ASK_PRICES: Final = say("What is on offer?")
ASK_FILES: Final = say("Open or export")
FINER: Final = say("More settings")

APPLIANCE: Final = say("Add a common appliance")
#: The groups of common appliances, in the list's order.
GROUPS: Final = {
    "kitchen": say("Kitchen"),
    "water": say("Water"),
    "light": say("Light"),
    "heating": say("Heating and air"),
    "communication": say("Communication"),
    "health": say("Health"),
    "work": say("Work"),
    "house": say("House and yard"),
}
LOADS_FILE: Final = say("Or drop in a file of loads (CSV or XLSX)")
TIER_HOURS: Final = say(
    "Tiers that are let go after some hours of an outage; blank: carried throughout"
)
COLUMNS: Final = {
    "load": say("Load"),
    "tier": say("Tier"),
    "count": say("Quantity"),
    "running_w": say("Running"),
    "power_factor": say("Power factor"),
    "starting_w": say("Starting"),
    "hours": say("Hours of the day"),
    "duty": say("Duty"),
    "seasons": say("By season"),
    "critical": say("Critical"),
    "never_off": say("Never off"),
    "with": say("Only with"),
}

OUTAGES_FORM: Final = say("What is known of the outages?")
FORMS: Final = {
    "log": say("A log of past outages"),
    "typed": say("How long and how often"),
    "daily": say("Cuts at fixed hours"),
}
LOG_FILE: Final = say("Drop in a log (CSV or XLSX with the columns start and end)")
TYPED_HELP: Final = say(
    "One row for each kind of outage: its hours, and how often a year it comes."
)
CONTRACTS_HELP: Final = say(
    "One row for each step of the supply contract that is on offer. A bank that helps at peaks may "
    "make a smaller step do; with a single row nothing is chosen."
)
PEAKS_HELP: Final = say("One row for each kind of peak that is drawn while the grid is there.")
GENERATOR_ALLOWED: Final = say("A generator may be bought")
MONTHLY: Final = say("Temperatures month by month")
#: Columns of tables that are typed into: headings of their numbers.
HOURS_TIMES: Final = (say("Hours"), say("Times a year"))
CONTRACT_COLUMNS: Final = (say("Power, W"), say("Cost a year"))
PEAK_COLUMNS: Final = (say("Drawn, W"), say("Minutes"), say("Times a month"))

PRICES_FILES: Final = say("Drop in a price list (CSV or XLSX, one file a table)")
PRICES_KEPT: Final = say("The files have faults. Your job still uses the price list it had.")
FILE_KEPT: Final = say("The file has faults. Your job is as it was.")
PRICES_DEMO: Final = say("Use the demo prices")
TABLES: Final = {
    "loads": say("Loads"),
    "outages": say("Outage log"),
    "batteries": say("Batteries"),
    "inverters": say("Inverter-chargers"),
    "cables": say("Battery cables"),
    "fuses": say("Battery fuses"),
    "works": say("Labour and fittings"),
    "chemistries": say("Chemistries"),
    "generators": say("Generators"),
    "parts": say("Other parts of the circuit"),
}
SHOW_TABLE: Final = say("Show a table")

OPEN_JOB: Final = say("Open a saved job")
DEMO: Final = say("Or start from a household, or a demo site")
#: Households to begin one's own from.
HOUSEHOLDS: Final = {
    "blank": say("Blank, one load to begin with"),
    "flat": say("Like a flat"),
    "farmhouse": say("Like a farmhouse with a pump"),
    "medical": say("Like a home with medical devices"),
}
DEMO_OPEN: Final = say("Start from it")
DEMOS: Final = {
    "house": say("Demo: a family house, storms in winter"),
    "clinic": say("Demo: a clinic, two cuts a day"),
    "hall": say("Demo: a hall used as a shelter"),
}
TAKE: Final = say("Export the curve")
CSV, XLSX = say("As CSV"), say("As XLSX")

#: Labels of the site's fields; what a field is, its unit and its range stand with the field.
FIELDS: Final = {
    "target_hours": say("For how long"),
    "budget": say("For how much upfront"),
    "lifetime_budget": say("Life-cycle budget"),
    "tiers": say("Tiers that must stay on"),
    "name": say("Name of the site"),
    "currency": say("Currency"),
    "max_hours": say("Curve drawn up to"),
    "beyond_max_hours": say("A budget may buy more than the curve shows"),
    "design_margin": say("Margin"),
    "recharge_hours": say("Recharged within"),
    "load_growth": say("Growth of the loads"),
    "coincidence": say("Running at once"),
    "reference_efficiency": say("Efficiency for wear"),
    "log_years": say("The log covers"),
    "days_per_year": say("Cuts happen on"),
    "min_degc": say("Coldest at the batteries"),
    "mean_degc": say("Mean over the year"),
    "max_degc": say("Hottest at the inverter"),
    "vented_allowed": say("Ventilated space"),
    "battery_cable_m": say("Battery cable, one way"),
    "max_drop": say("Voltage drop allowed"),
    "max_bank_kg": say("Floor load limit"),
    "max_parallel": say("Maximum in parallel"),
    "voltages": say("System voltages"),
    "exclude": say("Left out"),
    "horizon_years": say("Study period"),
    "discount_rate": say("Discount rate"),
    "inflation": say("Inflation"),
    "tariff": say("Price of grid energy"),
    "tax_rate": say("Tax"),
    "markup": say("Markup"),
    "residual_share": say("Residual value"),
    "min_service_share": say("Replaced no earlier than, of life"),
    "value_of_lost_load": say("Value of lost load"),
    "later_limit": say("Any later year at most"),
    "voltage_v": say("Voltage of the supply"),
    "service_fuse_a": say("Service fuse of the supply"),
    "quiet": say("Quiet hours"),
    "start_after_h": say("Started after"),
    "fuel_price": say("Price of fuel"),
    "max_stored_l": say("Fuel stored at most"),
    "fuel_keeps_years": say("Fuel keeps"),
}
