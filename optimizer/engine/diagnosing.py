"""What stands in the way of a question that has no design, and what would open it."""

from collections.abc import Iterator, Sequence
from itertools import combinations

from optimizer.engine.curve import Search
from optimizer.engine.none_fits import confirm_none
from optimizer.engine.relaxations import Question, Relaxation, relaxations_of
from optimizer.model.diagnosis import (
    Diagnosis,
    Hindrance,
    HindranceKind,
    Opening,
)
from optimizer.model.limits import is_limited, without_limits
from optimizer.model.progress import Progress, one_by_one
from optimizer.model.requirement import Requirement


def why_none(search: Search, hours: int, progress: Progress | None = None) -> Diagnosis:
    """Find why nothing carries some hours, once the solver too has found nothing."""
    confirm_none(search, hours, progress)
    return diagnose(Question(search.job, hours, search.family), progress)


def diagnose(question: Question, progress: Progress | None = None) -> Diagnosis:
    """Find what stands in the way of a question and what would open it.

    Pairs are sought only where no relaxation opens the question alone.
    """
    relaxations = relaxations_of(question)
    openings = []
    for relaxation in one_by_one(relaxations, progress):
        opening = open_with(question, relaxation)
        if opening is not None:
            openings.append(opening)
    pairs = [] if openings else _pairs(question, relaxations)
    return Diagnosis(tuple(_hindrances(question)), tuple(openings), tuple(pairs))


def _hindrances(question: Question) -> Iterator[Hindrance]:
    """Yield money where nothing else is in the way, else each requirement that alone is.

    Within too little money a requirement may seem to be: lifted, it lets a cheaper design in.
    """
    search = Search(question.job, question.family)
    free = Search(without_limits(question.job), question.family)
    if is_limited(question.job) and free.exists(question.hours):
        yield Hindrance(HindranceKind.MONEY)
        return
    alone = [one for one in Requirement if search.otherwise(lifted=one).exists(question.hours)]
    for requirement in alone:
        yield Hindrance(HindranceKind.REQUIREMENT, requirement=requirement)
    if not alone:
        yield _blank(question)


def _blank(question: Question) -> Hindrance:
    """Return what is to be said where no requirement alone is in the way."""
    candidates = Search(question.job, question.family).candidates
    sets, banks = len(candidates.sets), len(candidates.banks)
    if sets == 0:
        return Hindrance(HindranceKind.NO_INVERTER_SET)
    if banks == 0:
        return Hindrance(HindranceKind.NO_BANK)
    if is_limited(question.job):
        return Hindrance(HindranceKind.MONEY)
    return Hindrance(HindranceKind.NO_PAIR, sets=sets, banks=banks)


def open_with(question: Question, relaxation: Relaxation) -> Opening | None:
    """Return the mildest setting of a relaxation that opens the question, or None."""
    setting = _mildest(question, relaxation)
    if setting is None:
        return None
    return Opening(
        relaxation.kind,
        now=relaxation.now,
        needed=setting,
        load=relaxation.load,
        makers_most=relaxation.makers_most,
    )


def _mildest(question: Question, relaxation: Relaxation) -> float | None:
    settings = relaxation.settings
    if not len(settings):
        return None
    if relaxation.loosest is not None and not relaxation.loosest(question).answered():
        return None

    search = Search(question.job, question.family)

    def opens(setting: float) -> bool:
        changed = relaxation.apply(question, setting)
        return relaxation.search(search, changed.job).exists(changed.hours)

    if not relaxation.steady:
        every = map(settings.__getitem__, range(len(settings)))
        return next((one for one in every if opens(one)), None)
    if not opens(settings[-1]):
        return None
    closed, opened = -1, len(settings) - 1
    while opened - closed > 1:
        middle = (closed + opened) // 2
        if opens(settings[middle]):
            opened = middle
        else:
            closed = middle
    return settings[opened]


def _pairs(question: Question, relaxations: Sequence[Relaxation]) -> list[tuple[Opening, Opening]]:
    """Return the pairs that open the question: the first as mild as may be, then the second."""
    found = []
    usable = [relaxation for relaxation in relaxations if relaxation.settings]
    for first, second in combinations(usable, 2):
        strongest = second.apply(question, second.settings[-1])
        one = open_with(strongest, first)
        if one is not None:
            two = open_with(first.apply(question, one.needed), second)
            if two is not None:
                found.append((one, two))
    return found
