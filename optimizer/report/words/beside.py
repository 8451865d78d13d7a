"""What stands beside battery and inverter in words: generator and supply contract."""

from optimizer.answers.beside import Running, SupplyHelp
from optimizer.answers.choice import Choice
from optimizer.model.job import Contract, Generator
from optimizer.report.words.writer import Writer

_KILO = 1000


def beside(write: Writer, chosen: Choice) -> list[str]:
    """Return what stands beside battery and inverter: generator and contract."""
    found = []
    if chosen.running is not None and chosen.design.generator is not None:
        found.append(running(write, chosen.design.generator, chosen.running))
    if chosen.help is not None:
        found.append(supply_help(write, chosen.help, chosen.job.site.horizon_years))
    return found


def running(write: Writer, generator: Generator, found: Running) -> str:
    """Return a generator with its fuel and its running."""
    return write.say(
        "Beside it {generator}, a generator of {power:figure.2} kW, with {litres:number.1} l of "
        "fuel stored and renewed after {keeps:years}: it runs {run:hours} of an outage of "
        "{outage:hours}.",
        generator=generator.generator,
        power=generator.power_w / _KILO,
        litres=found.stored_l,
        run=found.running_hours,
        outage=found.outage_hours,
        keeps=found.keeps_years,
    )


def contract_step(write: Writer, step: Contract) -> str:
    """Return a step of the supply contract: what it lets through, and what it costs."""
    return write.say(
        "{power:figure} kW at {cost:money} a year",
        power=step.power_w / _KILO,
        cost=step.cost_year,
    )


def supply_help(write: Writer, found: SupplyHelp, study_years: int) -> str:
    """Return the step of the contract, and what the bank's help at peaks saves."""
    step, covering = found.contract, found.covering
    named = write.say("Supply contract: {step}", step=contract_step(write, step))
    if found.help_w <= 0:
        return write.say("{contract}; it covers every peak alone.", contract=named)
    if covering is None:
        return write.say(
            "{contract}; at peaks the bank adds up to {help:figure} kW, since no contract on offer "
            "covers them alone.",
            contract=named,
            help=found.help_w / _KILO,
        )
    helped = write.say(
        "{contract}; at peaks the bank adds up to {help:figure} kW.",
        contract=named,
        help=found.help_w / _KILO,
    )
    charges = write.say(
        "Against the contract of {power:figure} kW, which covers them alone, that saves "
        "{charges:money} of charges over {study:years}",
        power=covering.power_w / _KILO,
        charges=found.contract_saving,
        study=study_years,
    )
    if found.saving is None:
        verdict = write.say("{saves}; under that one no design stands.", saves=charges)
    else:
        verdict = write.say(
            "{saves}, {saving:money} net of the dearer equipment.",
            saves=charges,
            saving=found.saving,
        )
    return f"{helped} {verdict}"
