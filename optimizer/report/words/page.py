"""Sentences that the page alone says."""

from collections.abc import Mapping, Sequence

from optimizer.answers.curve import Curve
from optimizer.answers.nothing_done import NothingDone
from optimizer.answers.site_survey import Survey
from optimizer.engine.check import Check, CheckKind
from optimizer.inputs.appliances import Appliance
from optimizer.inputs.draft import RawTable
from optimizer.model.design import Design
from optimizer.model.job import Job, Site
from optimizer.model.outages import Outages
from optimizer.report.words.design import chemistry
from optimizer.report.words.writer import Writer
from optimizer.simulate import CutDays, LoadDay, Trace, Verdict


def longer(write: Writer, asked: int, hours: int) -> str:
    """Return that a design carries more than was required."""
    return write.say(
        "Of all that carry the {asked} h required, the cheapest carries {hours} h.",
        asked=asked,
        hours=hours,
    )


def demo(write: Writer, site: Site) -> str:
    """Return that the page shows a demo."""
    return write.say("A demo with invented prices: {site}.", site=site.name)


def invented(write: Writer, question: str) -> str:
    """Return that a site of one's own still counts with the demo's prices."""
    return write.say(
        "The prices are still those of the invented demo price list: put your own under "
        "“{question}”.",
        question=question,
    )


def loads_listed(write: Writer, job: Job) -> str:
    """Return how many loads are listed."""
    return write.say_number("{n} load listed: change", "{n} loads listed: change", len(job.loads))


def nothing(write: Writer, found: NothingDone) -> str:
    """Return what doing nothing would cost."""
    text = write.say(
        "Doing nothing: {outages:number} outages a year, {hours:number} h and {kwh:number} kWh "
        "unserved.",
        outages=found.outages_per_year,
        hours=found.hours_per_year,
        kwh=found.unserved_kwh_per_year,
    )
    if found.life_cycle_cost is None:
        return f"{text} " + write.say("What that costs is not known: no value of lost load is set.")
    paid = {"cost": found.life_cycle_cost, "study": found.horizon_years}
    if found.contract_cost:
        return f"{text} " + write.say(
            "With the supply contract that would cost about {cost:money} over {study:years}.",
            **paid,
        )
    return f"{text} " + write.say("That would cost about {cost:money} over {study:years}.", **paid)


def curve(write: Writer, site: Site) -> str:
    """Return how the curve is read."""
    text = write.say(
        "Each step is the cheapest equipment that carries so long; the grey band is the cheapest "
        "of all. Click a point to see its design."
    )
    if site.budget is None:
        return text
    return f"{text} " + write.say("Faded and hollow: above the upfront budget.")


def curve_file(write: Writer, site: Site) -> str:
    """Return what stands below the heading of the curve's picture."""
    return write.say(
        "{site}. Life-cycle cost over {study:years}, {currency} of today.",
        site=site.name,
        study=site.horizon_years,
    )


def curve_aloud(write: Writer, found: Curve) -> str:
    """Return the curve in a sentence, for those who do not see it."""
    first, last = found.points[0], found.points[-1]
    return write.say(
        "Cost against autonomy: {n} steps from {low} h for {least:money} to {high} h for "
        "{most:money}. The table below the chart has them all.",
        n=len(found.points),
        low=first.hours,
        least=first.life_cycle_cost,
        high=last.hours,
        most=last.life_cycle_cost,
    )


def curve_name(write: Writer, name: str) -> str:
    """Return a family's curve, or that of them all, by name."""
    return write.say("cheapest of all") if name == "overall" else chemistry(write, name)


def waiting(write: Writer, done: int, whole: int) -> str:
    """Return how far the curve is."""
    return write.say("Working out the curve: {done} of {whole} hours", done=done, whole=whole)


def next_step(write: Writer, here: Design, there: Design | None, max_hours: int) -> str:
    """Return what the next step along the curve costs."""
    if there is None:
        return write.say(
            "No design is offered that carries longer, up to {hours} h.", hours=max_hours
        )
    cost = there.life_cycle_cost - here.life_cycle_cost
    upfront = there.upfront_cost - here.upfront_cost
    more = there.hours - here.hours
    step = write.say(
        "The next step carries {hours} h, {more} h more.", hours=there.hours, more=more
    )
    if cost >= 0:
        run = write.say(
            "It adds {cost:money} to the life-cycle cost, {each:money} an hour.",
            cost=cost,
            each=cost / more,
        )
    else:
        run = write.say("It takes {cost:money} off the life-cycle cost.", cost=-cost)
    return f"{step} {run} " + write.say("Upfront it costs {more:difference}.", more=upfront)


def over_budget(write: Writer, amount: float) -> str:
    """Return that a picked design costs more than may be paid."""
    return write.say("Its upfront cost is {amount:money} above the budget.", amount=amount)


def within_budget(write: Writer, design: Design, budget: float) -> str:
    """Return the longest that a budget buys."""
    return write.say(
        "An upfront budget of {budget:money} buys {hours:hours} at most, at a life-cycle cost of "
        "{cost:money}.",
        budget=budget,
        hours=design.hours,
        cost=design.life_cycle_cost,
    )


def design_heading(write: Writer, design: Design) -> str:
    """Return the heading above the design shown."""
    return write.say("The design for {hours:hours}", hours=design.hours)


def outage(write: Writer, worst: Verdict, run: Trace) -> str:
    """Return which outage is drawn."""
    fields = {
        "start": worst.start_hour,
        "season": worst.season,
        "year": worst.year + 1,
        "hours": write.hours(float(run.hours[-1]), 0),
    }
    if run.on_generator.any():
        return write.say(
            "The grid fails at {start:clock} in {season} of year {year}, the worst start of all; "
            "drawn are the {hours} h required, in which the generator runs when it may.",
            **fields,
        )
    return write.say(
        "The grid fails at {start:clock} in {season} of year {year}, the worst start of all; the "
        "bank is at its lowest allowed state of charge after {hours} h.",
        **fields,
    )


def starting_load(job: Job) -> str:
    """Return the load whose start takes most beside what runs; empty where none starts hard."""
    within = [one for one in job.loads if one.tier in job.site.tiers]
    hardest = max(within, key=lambda one: one.starting_w - one.running_w)
    return hardest.load if hardest.starting_w > hardest.running_w else ""


def starts(write: Writer, job: Job, checks: Sequence[Check]) -> str:
    """Return what the start of the largest motor asks of inverter and bank, and what these give."""
    by_kind = {one.kind: one for one in checks}
    surge, bank = by_kind.get(CheckKind.SURGE), by_kind.get(CheckKind.START_CURRENT)
    load = starting_load(job)
    if surge is None or not load:
        return ""
    text = write.say(
        "Start of {load}, all else running: the inverter must give {required:number} W for "
        "seconds and gives {provided:number} W.",
        load=load,
        required=surge.required,
        provided=surge.provided,
    )
    if bank is None:
        return text
    from_bank = write.say(
        "The bank must give {required:number} A and gives {provided:number} A.",
        required=bank.required,
        provided=bank.provided,
    )
    return f"{text} {from_bank}"


def bursts(write: Writer, found: LoadDay) -> str:
    """Return how the loads of a day are drawn."""
    return write.say(
        "A day in {season}: pumps, compressors and the like run in bursts, here all at once, which "
        "is the severe case (line); the curve counts their mean over the hour (areas).",
        season=found.season,
    )


def cuts(write: Writer, found: CutDays) -> str:
    """Return how days of scheduled cuts go."""
    fields = {
        "year": found.year + 1,
        "season": found.season,
        "lowest": float(found.state_of_charge.min()),
    }
    if found.carried:
        return write.say(
            "Three days of cuts in {season} of year {year}, the hardest to recharge: every cut is "
            "carried; the bank goes down to {lowest:share.0}.",
            **fields,
        )
    return write.say(
        "Three days of cuts in {season} of year {year}, the hardest to recharge: not every cut is "
        "carried. What a cut takes does not come back before the next.",
        **fields,
    )


def peaks(write: Writer, job: Job, contract_w: float) -> str:
    """Return how the peaks stand to the contract."""
    most = max(one.power_w for one in job.site.peaks)
    if most <= contract_w:
        return write.say(
            "The contract of {contract:number} W covers every peak, up to {most:number} W.",
            contract=contract_w,
            most=most,
        )
    return write.say(
        "The contract lets {contract:number} W through; the largest peak draws {most:number} W, "
        "and the bank adds the rest for its minutes.",
        contract=contract_w,
        most=most,
    )


def three_days(write: Writer, run: Trace, stored_l: float) -> str:
    """Return how three days without the grid go beside a generator."""
    hours, burnt = float(run.hours[-1]), float(run.fuel_l[-1])
    fields = {"burnt": burnt, "stored": stored_l, "running": float(run.on_generator.sum())}
    if run.capped:
        return write.say(
            "Three days are carried: by night on the bank, by day the generator runs, "
            "{running:number} h in all. It burns {burnt:number.1} l of the {stored:number.1} l "
            "stored.",
            **fields,
        )
    return write.say(
        "By night on the bank, by day the generator runs, {running:number} h in all. The "
        "{stored:number.1} l stored are burnt ({burnt:number.1} l) before three days are over: all "
        "ends after {hours} h, unless more fuel is brought.",
        hours=write.hours(hours, 0),
        **fields,
    )


def payments(write: Writer) -> str:
    """Return the title of the payments."""
    return write.say("Paid, {currency} of today")


def appliance(write: Writer, one: Appliance) -> str:
    """Return an appliance and its usual figures in a line."""
    return write.say(
        "{name}: {running:number} W, {kwh:number.2} kWh a day",
        name=one.name,
        running=one.row["running_w"],
        kwh=one.kwh_day,
    )


def usual_figures(write: Writer, one: Appliance) -> str:
    """Return that a load has the figures of a common appliance, and where these come from."""
    return write.say(
        "Assumed: {source}. The rating plate of your own is better.",
        source=one.source,
    )


def load_day(write: Writer, row: Mapping[str, str], found: Survey) -> str:
    """Return what a load takes in a day, whether it counts, and all that must stay on."""
    fields = {"load": row["load"], "kwh": found.load_kwh_day.get(row["load"], 0.0)}
    if row["tier"] in found.tiers_counted:
        own = write.say("{load}: {kwh:number.2} kWh a day.", **fields)
    else:
        own = write.say(
            "{load}: {kwh:number.2} kWh a day, left out, as {tier} need not stay on.",
            tier=row["tier"],
            **fields,
        )
    whole = write.say("All that must stay on: {kwh:number.2} kWh a day.", kwh=found.counted_kwh_day)
    return f"{own} {whole}"


def clock(write: Writer, hour: float) -> str:
    """Return an hour of the day, or of the night after it, as a clock shows it."""
    return write.say("{hour:clock}", hour=hour % 24 if hour > 24 else hour)  # noqa: PLR2004 - a day


def log_summary(write: Writer, outages: Outages) -> str:
    """Return what a log holds."""
    longest = max(one.hours for one in outages.log)
    return write.say_number(
        "{n} outage in {log:years}, {longest:number.1} h long.",
        "{n} outages in {log:years}, the longest {longest:number.1} h.",
        len(outages.log),
        log=outages.log_years,
        longest=longest,
    )


def tables(write: Writer, names: Mapping[str, str], held: Mapping[str, RawTable]) -> str:
    """Return tables and their sizes."""
    return "; ".join(
        write.say("{table}: {rows}", table=names[name], rows=len(table.rows) - 1)
        for name, table in held.items()
    )


def price_file(write: Writer, names: list[str]) -> str:
    """Return how files of prices are told apart."""
    return write.say(
        "Files are told apart by their names: {names:list}. A table that is not among them stays "
        "as it is.",
        names=names,
    )
