"""Labels of what is typed into: rows of prices, links, lists."""

from typing import Final

from ui.language import say

GONE: Final = say(
    "The page's server does not answer: it was ended, or the connection is cut. Leave this open; "
    "once it answers again, reload, and your job is back where the server still holds it."
)
LOST_TITLE: Final = say("Your job is no longer here")
LOST: Final = say(
    "The server was restarted, or has made room for others: it no longer holds the job of this "
    "address. Open the file you saved, or a link that carries the job; or start anew."
)
KEPT_HERE: Final = say(
    "The address of this page is yours: the server holds your job under it, in its memory, until "
    "it is restarted. Whoever has the address sees the job."
)
LINK: Final = say("A link that carries the whole job")
LINK_HELP: Final = say("Copy it, and put it behind the address of any keeplit page.")
LINK_LONG: Final = say("The job is too large for a link; save it as a file.")
ROW_EMPTY: Final = say("Empty a row to take it out; the last one adds one.")
NEEDED: Final = say("something: the answer needs it")
NOT_STATED: Final = say("not stated")
NEW_LOAD: Final = say("A load of my own")
ADD_OWN: Final = say("Add a load of my own")
COPY: Final = say("Copy")
WHICH_LOAD: Final = say("Which load?")
HOURS_HELP: Final = say(
    "Windows such as 6:00-8:00; 17:00-23:00, or hours a day at no certain time, such as 3 h."
)
NUMBERS_HELP: Final = say(
    "Write it as you would: 7,5 or 7.5, 1.5 kW, 1/2 hp, 35 kWh/month; 6x starts at six times."
)
WINDOW: Final = say("From when to when")
LOG_TYPED: Final = say("One outage a line: start – end")
LOG_TYPED_HELP: Final = say(
    "Such as 2026-01-31 17:40 – 20:10, 31.01.2026 17:40 – 01.02.2026 6:00, or with its length: "
    "2026-01-31 17:40 2.5 h."
)
CUTS: Final = say("Cuts of a day")
CUTS_HELP: Final = say("Such as 06:30-09:30; 18:00-22:00.")
SEASONS_TYPED: Final = say("One season a line, with its months")
SEASONS_TYPED_HELP: Final = say("Such as winter: 10-12, 1-3. Every month from 1 to 12 once.")
PRICE_ITEM: Final = say("Which one?")
PRICE_MORE: Final = say("All that is known of it")
CURRENCY_NEW: Final = say("Another currency, three letters")
CURRENCY_HELP: Final = say(
    "Every sum of the job is in one currency. Another one asks for the rate of exchange: sums are "
    "converted, never relabelled."
)
CONVERT: Final = say("Convert every sum")
UNDO_OPEN: Final = say("opening a job")
UNDO_BEGIN: Final = say("starting with my own")
UNDO_PRICES: Final = say("the price list")
UNDO_CURRENCY: Final = say("the currency")
UNDO_FILE: Final = say("a file dropped in")
#: Headings of the price list's columns; units and ranges stand with the field.
PRICE_COLUMNS: Final = {
    "battery": say("Battery"),
    "chemistry": say("Chemistry"),
    "voltage_v": say("Voltage"),
    "capacity_ah": say("Capacity"),
    "rate_h": say("Rated over"),
    "price": say("Price"),
    "mass_kg": say("Mass"),
    "length_mm": say("Length"),
    "width_mm": say("Width"),
    "height_mm": say("Height"),
    "absorption_v": say("Absorption voltage"),
    "float_v": say("Float voltage"),
    "short_circuit_a": say("Short-circuit current"),
    "built_into": say("In one box with"),
    "peukert": say("Peukert's exponent"),
    "max_dod": say("Maximum depth of discharge"),
    "float_life_years": say("Float life"),
    "float_life_degc": say("Float life stated for"),
    "halving_degc": say("Ages twice as fast, warmer by"),
    "cycle_points": say("Cycle life by depth"),
    "end_of_life_soh": say("Capacity when worn out"),
    "discharge_rate_max": say("Highest discharge current"),
    "surge_rate_max": say("Highest current at a start"),
    "charge_rate_min": say("Least charging current"),
    "charge_rate_max": say("Highest charging current"),
    "charge_factor": say("Charge factor"),
    "round_trip": say("Round-trip efficiency"),
    "self_discharge_month": say("Self-discharge in a month"),
    "float_ma_ah": say("Float current"),
    "gas": say("Gas"),
    "family": say("Family"),
    "price_drift": say("Price drift"),
    "min_charge_degc": say("Charges down to"),
    "cold_points": say("Share of capacity in the cold"),
    "upkeep_year": say("Upkeep a year"),
    "scrap_value": say("Scrap value"),
    "max_series": say("Most in series"),
    "max_parallel": say("Most in parallel"),
    "warranty_years": say("Warranty"),
    "supplier": say("Supplier"),
    "supplier_code": say("Supplier's code"),
    "price_date": say("Date of the price"),
    "inverter": say("Inverter-charger"),
    "system_v": say("Bank voltage"),
    "power_w": say("Power"),
    "power_w_40c": say("Power at 40 °C"),
    "power_va": say("Apparent power"),
    "surge_w": say("Surge power"),
    "efficiency": say("Efficiency"),
    "no_load_w": say("No-load draw"),
    "standby_w": say("Standby draw"),
    "charger_a": say("Charging current"),
    "transfer_ms": say("Transfer time"),
    "max_units": say("Most units side by side"),
    "life_years": say("Service life"),
    "pass_through_a": say("Pass-through current"),
    "phases": say("Phases"),
    "works_in_parallel": say("Works beside the supply"),
    "item": say("Item"),
    "basis": say("Counted per"),
    "applies": say("Applies"),
    "generator": say("Generator"),
    "litres_h_full": say("Fuel at full power"),
    "litres_h_idle": say("Fuel at idle"),
    "section_mm2": say("Section"),
    "ampacity_a": say("Current it carries"),
    "ohm_per_km": say("Resistance"),
    "price_per_m": say("Price"),
    "conductor_degc": say("Conductor rated for"),
    "rating_a": say("Rating"),
    "breaking_ka": say("Breaking capacity"),
    "rated_v": say("Rated DC voltage"),
    "kind": say("Kind"),
}
