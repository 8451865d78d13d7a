"""Why a programme cannot reach what it must, in sentences."""

from collections.abc import Iterable, Iterator

from optimizer.errors import NoAllotmentError
from optimizer.model.refusal import Eased, Refusal, Term
from optimizer.report.words.writer import Writer

#: So many sites are named in a sentence, the others counted.
_NAMED = 6


def no_allotment(error: NoAllotmentError, locale: str = "en") -> str:
    """Return all of a refusal, one sentence a line: what the error's own text is made of."""
    return "\n".join(refusal(Writer(error.currency, locale), error.refusal))


def refusal(write: Writer, found: Refusal) -> Iterator[str]:
    """Yield why a budget does not reach what must be, and what makes it so."""
    if found.sites:
        yield write.say(
            "Nothing on offer reaches the hours asked of {sites:list}.", sites=found.sites
        )
        return
    if found.least is not None and found.budget is not None:
        yield write.say(
            "What must be reached costs {least:cents} at the least, and the budget is "
            "{budget:cents}.",
            least=found.least,
            budget=found.budget,
        )
    else:
        yield write.say(
            "What must be reached cannot be reached within the other limits at any budget."
        )
    if found.must:
        yield write.say_number(
            "{n} site must get the hours asked of it: {names:list}.",
            "{n} sites must get the hours asked of them: {names:list}.",
            len(found.must),
            names=write.first(found.must, _NAMED),
        )
    for one in found.eased:
        yield _eased(write, one)


def refusals(write: Writer, found: Iterable[Refusal]) -> list[str]:
    """Return why some of the budgets asked for do not reach what must be, a text for each."""
    return [" ".join(refusal(write, one)) for one in found]


def _eased(write: Writer, one: Eased) -> str:
    """Return what it would take without one of the terms."""
    terms = {
        Term.FLOOR: write.say("the floor for every site"),
        Term.REQUIRED: write.say("the figures required"),
        Term.GROUP_SHARES: write.say("the groups' shares"),
        Term.LATER_LIMITS: write.say("the limit on later purchases"),
    }
    return write.say(
        "Without {term} it would cost {least:cents} at the least.",
        term=terms[one.term],
        least=one.least,
    )
