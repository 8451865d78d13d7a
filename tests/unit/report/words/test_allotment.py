"""What is said of a programme: every goal, every limit, whole and sampled curves, failures."""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO

import pytest
from pypdf import PdfReader

from optimizer.errors import Fault, NoAllotmentError
from optimizer.model.refusal import Eased, Refusal, Term
from optimizer.programme.answers import allot_answer
from optimizer.programme.curves import Scenario
from optimizer.programme.survey import Failure, FailureKind
from optimizer.programme.terms import Goal, Terms
from optimizer.report.allotment import ENDINGS, allotment_bytes
from optimizer.report.grids import allotment as grids
from optimizer.report.json.serialise import output
from optimizer.report.words import allotment as words
from optimizer.report.words import council, refusals
from optimizer.report.words.writer import Writer
from tests.unit.builders import make_job, make_load
from tests.unit.programme.programmes import candidate, point, programme

WRITE = Writer("EUR")
FAILURES = (
    Failure(site="Mill", kind=FailureKind.NOTHING_FITS),
    Failure(site="Weir", kind=FailureKind.PROGRAM, message="ZeroDivisionError"),
    Failure(site="Lock", kind=FailureKind.INPUT, faults=(Fault("x", 2, "y", "3", "4"),)),
)


def sites():
    made = programme(
        candidate("A", [point(3, 4, 0.5, 3), point(5, 9, 0.9, 1)], kwh=9, group="x", people=20),
        candidate("B", [point(2, 3, 0.4, 2, later=[(4, 1.0)])], kwh=5, group="y", min_hours=2),
    )
    return replace(made, failures=FAILURES)


def asked(budgets=(5.0, 7.0), **terms):
    return allot_answer(sites(), Terms(**terms, limit_seconds=5.0), budgets)


@pytest.mark.slow
@pytest.mark.parametrize(
    ("goal", "told"),
    [
        (Goal.SHARE, "of the outages that the 21 people they all serve would meet, 49.5% are"),
        (Goal.HOURS, "power lasts 3.9 hours into an outage"),
        (Goal.UNSERVED, "3.0 kWh a year are still not served"),
    ],
)
def test_every_goal_has_its_sentences(goal, told):
    answer = asked(goal=goal)
    first = answer.answers[0]
    assert told in words.headline(WRITE, first.allotment)
    assert words.headline(WRITE, first.allotment).startswith("€5 equips 2 of 2 sites; ")
    assert "every person counts the same" in council.lead(WRITE, answer)
    assert words.curve_heading(WRITE, answer)[1] == (
        "The whole curve has 3 points; none is left out."
    )
    for ending in ENDINGS:
        assert allotment_bytes(answer, ending, WRITE)


@pytest.mark.parametrize(
    ("goal", "gained"),
    [
        (Goal.SHARE, "carries people through another 19.0% of their outages."),
        (Goal.HOURS, "adds 2.4 h."),
        (Goal.UNSERVED, "serves 1.0 kWh a year."),
    ],
)
def test_what_each_step_of_money_brings(goal, gained):
    answer = asked(budgets=(5.0, 7.0, 7.0), goal=goal)
    # two more buy A, with 20 of 21 people, its second point: by hand 0.4, 5 h and 2 kWh
    assert list(council.steps(WRITE, answer)) == [f"From €5 to €7, each €1 more {gained}"]


def test_sites_that_a_budget_adds_and_those_that_get_more_hours():
    answer = asked()
    told = [council.added_sites(WRITE, one, answer, 1) for one in answer.answers]
    assert told == ["A (4 h); 1 more", "1 site gets more hours"]


@pytest.mark.slow
def test_one_page_names_as_many_sites_as_it_has_room_for():
    where = "on the old canal, behind the bend of the river and the ruins of the second weir"
    names = [f"The house of the keeper of lock {number} {where}" for number in range(60)]
    made = programme(*(candidate(name, [point(2, 3, 0.4, 2)], kwh=5) for name in names))
    answer = allot_answer(made, Terms(limit_seconds=5.0), (60.0, 120.0))
    (page,) = PdfReader(BytesIO(allotment_bytes(answer, ".pdf", WRITE))).pages
    text = " ".join(page.extract_text().split())
    assert 2 * 9 <= text.count("The house of the keeper") < 2 * 24
    assert "more" in text


def test_what_limits_the_choice_is_told():
    answer = asked(
        budgets=(7.0,),
        floor_hours=1,
        group_share=0.1,
        group_shares={"x": 0.2},
        later_limit=2.0,
        later_limits={4: 1.0},
    )
    told = " ".join(council.terms(WRITE, answer.answers[0].allotment))
    for sentence in (
        "1 site must get the hours",
        "No site gets less than 1 hour.",
        "Each group gets 10% of the money spent or more.",
        "x gets 20% of the money spent or more.",
        "€2 at most in any later year, in money of today.",
        "bought again in year 5 costs €1 at most, in money of today.",
    ):
        assert sentence in told
    assert "budgets were looked at" in words.curve_note(WRITE, answer.curve)


def test_more_money_less_money_and_money_that_is_too_little():
    one = asked(budgets=(2.2,)).answers[0]
    assert words.more(WRITE, one)[:1] == ["€0 more would change nothing."]
    assert next(words.beside(WRITE, one)) == "With €2 what must be cannot be paid."
    one = asked(budgets=(6.99,)).answers[0]
    assert words.more(WRITE, one)[1:2] == ["More: A (4 → 9 h)."]
    _, more = words.beside(WRITE, one)
    assert "(+10%) 1 site of 2 gets something else; 87.6% is reached." in more


def test_a_small_gain_has_as_many_decimals_as_show_it():
    made = programme(candidate("A", [point(300, 4, 0.5), point(302, 5, 0.5004)]))
    (one,) = allot_answer(made, Terms(limit_seconds=5.0), (300.0,)).answers
    assert words.more(WRITE, one)[0] == "€3 more would bring 50.04% instead of 50.00%."


def test_no_money_more_is_no_sentence():
    made = programme(candidate("A", [point(300, 4, 0.5)]))
    (one,) = allot_answer(made, Terms(limit_seconds=5.0), (0.0,)).answers
    assert words.more(WRITE, one) == ["Giving every site 4 hours takes at least €300."]


def test_mean_hours_are_one_figure_wherever_they_stand():
    two = [point(300, 4), point(311, 5)]
    made = programme(candidate("A", two, people=20), candidate("B", [point(10, 3)]))
    answer = allot_answer(made, Terms(goal=Goal.HOURS, limit_seconds=5.0), (310.0,))
    (one,) = answer.answers
    assert one.allotment.mean() == pytest.approx(83 / 21)  # 3.95: no 4 hours are promised
    assert "power lasts 3.9 hours" in words.headline(WRITE, one.allotment)
    assert words.more(WRITE, one)[0] == "€3 more would bring 4.7 h instead of 3.9 h."
    for grid in (grids.groups(WRITE, one), grids.budgets(WRITE, answer)):
        assert grid.only("hours").texts(WRITE)[-1] == ["3.9"]
    told = grids.curve(WRITE, answer).only("figure").texts(WRITE)
    assert told[-3:] == [["3.9"], ["4.7"], ["4.9"]]


def test_the_least_money_is_proven_as_that():
    one = asked(budgets=(None,), goal=Goal.HOURS, required={Goal.HOURS: 8.0}).answers[0]
    assert words.proof(WRITE, one.allotment) == "Proven: nothing that does as much costs less."
    within = replace(one.allotment, gap=0.004)
    assert words.proof(WRITE, within).startswith("Proven to within 0.40%")


def test_failures_and_what_is_bought_again():
    answer = asked()
    told = [words.failure(WRITE, one) for one in answer.programme.failures]
    assert told[0] == "Mill is left out: nothing on offer fits it."
    assert told[1].endswith("by a fault of keeplit itself: ZeroDivisionError")
    assert told[2].startswith("Lock is left out: x, row 2")
    assert council.left_out(WRITE, answer) == "3 sites are left out: Mill; Weir; Lock."
    later = council.later(WRITE, answer)
    assert "due in year 5: €1 in money of today, €1 in money of that year." in later
    whole = replace(answer, programme=replace(answer.programme, failures=()))
    assert council.left_out(WRITE, whole) == ""


def test_worlds_and_a_choice_that_misses_nothing():
    made = sites()

    def calm(one):
        return replace(one, scenarios=tuple((each, one.service) for each in Scenario))

    same = [
        replace(
            one,
            curve=replace(
                one.curve,
                nothing=calm(one.curve.nothing),
                points=tuple(calm(each) for each in one.curve.points),
            ),
        )
        for one in made.candidates
    ]
    both = (7.0, 7.9)
    answer = allot_answer(replace(made, candidates=tuple(same)), Terms(), both, scenarios=True)
    found = answer.answers[0].regret
    # two budgets, here of the same choice, are told apart
    assert [grids.regret(WRITE, one).title for one in answer.answers] == [
        "Regret with €7: Outages ridden through",
        "Regret with €8: Outages ridden through",
    ]
    first, second = (words.headline(WRITE, one.allotment) for one in answer.answers)
    assert (first[:9], second[:16]) == ("€7 equips", "Of €8, €7 equips")
    assert words.regret(WRITE, found).startswith("Whatever outages were tried")
    told = [words.world(WRITE, one.world) for one in found.worlds]
    assert "outages as they are" in told
    assert {"outages 1.5 times as long in x", "outages 2 times as often everywhere"} <= {*told}


@pytest.mark.parametrize(
    ("refused", "told"),
    [
        (Refusal(budget=2.0, least=4.5), "costs €4.50 at the least"),
        (Refusal(budget=2.0), "at any budget"),
        (Refusal(budget=2.0, sites=("A", "B")), "asked of A and B"),
        *(
            (Refusal(budget=2.0, least=9.0, eased=(Eased(term, 4.5),)), told)
            for term, told in (
                (Term.FLOOR, "Without the floor for every site it would cost €4.50"),
                (Term.REQUIRED, "Without the figures required it would cost €4.50"),
                (Term.GROUP_SHARES, "Without the groups' shares it would cost €4.50"),
                (
                    Term.LATER_LIMITS,
                    "Without the limit on later purchases it would cost €4.50",
                ),
            )
        ),
    ],
)
def test_refusals(refused, told):
    error = NoAllotmentError("EUR", refused)
    assert told in refusals.no_allotment(error)
    assert str(error) == refusals.no_allotment(error)


def test_a_budget_too_small_is_told_and_the_others_are_answered():
    answer = asked(budgets=(1.0, 5.0, 7.0))
    assert [one.allotment.budget for one in answer.answers] == [5.0, 7.0]
    (refused,) = answer.refused
    assert (refused.budget, refused.least, refused.must) == (1.0, 2.0, ("B",))
    told = "What must be reached costs €2.00 at the least, and the budget is €1.00. 1 site must"
    (said,) = refusals.refusals(WRITE, answer.refused)
    assert said.startswith(told)
    (page,) = PdfReader(BytesIO(allotment_bytes(answer, ".pdf", WRITE))).pages
    assert told in " ".join(page.extract_text().split())
    assert output(answer)["refused"][0]["least"] == 2.0
    with pytest.raises(NoAllotmentError) as raised:
        asked(budgets=(1.0, 1.5, 0.5))
    assert raised.value.refusal.budget == 1.5


def needing(*loads):
    """A job whose loads of these names are critical, beside a lamp."""
    return make_job(make_load(), *(make_load(name, critical=True) for name in loads))


def test_who_gets_nothing_is_named_and_critical_loads_are_asked_for_a_second_source():
    made = programme(
        candidate("Winner", [point(3, 4, 0.5)], people=90, job=needing("Monitor")),
        candidate("Crowd", [point(9, 4, 0.5)], people=30, job=needing()),
        candidate("Breath", [point(9, 4, 0.5)], people=2, job=needing("Oxygen", "Monitor")),
        candidate("Typed", [point(9, 4, 0.5)], people=1),
    )
    answer = allot_answer(made, Terms(limit_seconds=5.0), (3.0,))
    (one,) = answer.answers
    note = "3 sites get nothing: Breath; Crowd; Typed."
    assert grids.sites(WRITE, one, whole=False).notes == [note]
    assert words.without(WRITE, one.allotment, 1) == "Breath; 2 more"
    where, asked_for = words.critical(WRITE, one.allotment)
    assert where == "Health or safety hangs on loads at 2 sites: Breath; Winner."
    assert "give Oxygen and Monitor a second source" in asked_for
    assert "give Oxygen and 1 more a second source" in words.critical(WRITE, one.allotment, 1)[1]
    (page,) = PdfReader(BytesIO(allotment_bytes(answer, ".pdf", WRITE))).pages
    text = " ".join(page.extract_text().split())
    for told in ("Breath; Crowd; Typed", where, asked_for):
        assert told in text
    lines = output(answer)["answers"][0]["lines"]
    assert [line["critical_loads"] for line in lines] == [
        ["Monitor"],
        [],
        ["Oxygen", "Monitor"],
        [],
    ]


@pytest.mark.slow
def test_the_page_stays_one_where_long_names_need_a_second_source_and_a_budget_is_refused():
    where = "behind the bend of the river and the ruins of the second weir"
    need = needing("Oxygen concentrator of the eldest", "Monitor beside the bed")
    made = programme(
        candidate("Mill", [point(9, 3, 0.4)], min_hours=3, job=need),
        *(
            candidate(f"The house of lock {number} {where}", [point(2, 3, 0.4)], job=need)
            for number in range(60)
        ),
    )
    answer = allot_answer(made, Terms(limit_seconds=5.0), (8.0, 30.0, 60.0, 90.0))
    (page,) = PdfReader(BytesIO(allotment_bytes(answer, ".pdf", WRITE))).pages
    text = " ".join(page.extract_text().split())
    for told in ("loads at 61 sites: The house", "the budget is €8.00", "second source"):
        assert told in text


def test_nothing_is_said_where_nobody_is_without_and_no_load_is_critical():
    (one,) = asked(budgets=(7.0,)).answers
    assert not grids.sites(WRITE, one, whole=False).notes
    assert words.without(WRITE, one.allotment) == "none"
    assert words.critical(WRITE, one.allotment) == []
