"""What every budget of a programme reaches."""

from typing import Final

import altair as alt

from optimizer.programme.answers import AllotAnswer
from optimizer.programme.terms import Goal
from optimizer.report.charts.canvas import Canvas, Row, marks, tooltip
from optimizer.report.charts.theme import Stroke
from optimizer.report.words import allotment as said

#: Usual height of the plot [px].
HEIGHT: Final = 320
#: Points drawn at most: more lie within a pixel of each other.
_MOST: Final = 400
_FORMATS: Final = {Goal.SHARE: ".0%", Goal.HOURS: ".0f", Goal.UNSERVED: ",.0f"}


def curve_rows(answer: AllotAnswer) -> list[Row]:
    """Return the curve and what was asked, as many points as can be told apart."""
    points = answer.curve.points
    step = max(1, len(points) // _MOST)
    rows = [(one.budget, one.figure) for one in (*points[::step], points[-1])]
    rows += [(one.allotment.upfront_cost, one.allotment.mean()) for one in answer.answers]
    return [{"budget": budget, "figure": figure} for budget, figure in sorted(set(rows))]


def allotment_chart(answer: AllotAnswer, canvas: Canvas) -> alt.LayerChart:
    """Return the figure over the budget, the budgets asked for marked."""
    goal, write = answer.answers[0].allotment.terms.goal, canvas.write
    rows = curve_rows(answer)
    top = 1.0 if goal is Goal.SHARE else 1.08 * max(row["figure"] for row in rows)
    named = {
        "budget": write.say("Upfront cost of all sites, {currency}"),
        "figure": said.goal_name(write, goal),
    }
    ends = [0, rows[-1]["budget"]]
    x = canvas.along("budget", ends, named["budget"], format=",.0f", tickCount=6)
    y = canvas.up("figure", [0, top], named["figure"], format=_FORMATS[goal], tickCount=5)
    line = marks(rows).mark_line(
        interpolate="step-after", color=canvas.palette.muted, strokeWidth=2
    )
    accent = canvas.palette.accent
    asked: list[Row] = [
        {
            **canvas.dot(Stroke(accent), size=110),
            "budget": one.allotment.upfront_cost,
            "figure": one.allotment.mean(),
            "text": write.say(
                "{money:money}: {figure}",
                money=one.allotment.budget,
                figure=said.figure(write, goal, one.allotment.mean()),
            ),
        }
        for one in answer.answers
    ]
    fields = tooltip(named, budget=",.0f", figure=_FORMATS[goal])
    # on the side of the curve that is free: below where it rises, above where it falls
    side = {"dy": -10, "baseline": "bottom"} if goal.is_loss else {"dy": 14, "baseline": "top"}
    style = {**side, "color": accent, "fontWeight": "bold"}
    return canvas.finished(
        [
            line.encode(x=x, y=y),
            canvas.points(asked, "budget:Q", "figure:Q", tooltip=fields),
            *canvas.words(asked, "budget:Q", "figure:Q", halo=True, **style),
        ],
        HEIGHT,
        said.curve_heading(write, answer),
    )
