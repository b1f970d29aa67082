"""The pictures over the matrix: no figure is lost where its bar is too narrow, and a colour means one standing."""

from __future__ import annotations

from datetime import date

from trainer.core.matrix import Cell, Reason, Rule, Standing
from trainer.web import cached
from trainer.web.charts import Lane, due_dates, standings

TODAY = date(2026, 3, 3)
WORDS = cached.all_words()["en"]


def cell(standing: Standing, due: date | None = None) -> Cell:
    """Of one hand in one competency."""
    why = Reason(Rule.HOLDS, "", "", None)
    return Cell("ray", "set-slips", "floorhand", "day", standing, due, due, late=False, reason=why)


def test_the_legend_has_the_sum_of_each_standing_for_figures_that_do_not_fit_their_bar() -> None:
    crews = {"Day": [cell(Standing.CURRENT)] * 30 + [cell(Standing.OVERDUE)], "Night": [cell(Standing.OVERDUE)]}
    drawn = standings(crews, "How the crew stands", WORDS).figure
    assert [bar.name for bar in drawn.data] == ["Current: 30", "Overdue: 2"]
    assert drawn.layout.uniformtext.mode == "hide"


def test_a_date_ahead_has_the_colour_of_the_standing_until_then() -> None:
    ahead, due = (cell(standing, date(2026, 4, 1)) for standing in (Standing.CURRENT, Standing.DUE))
    dates = due_dates([Lane("Day", None, [ahead, due])], TODAY, {}, "Due", WORDS).figure
    bars = standings({"Day": [ahead, due]}, "How the crew stands", WORDS).figure
    colour = {bar.name.partition(":")[0]: bar.marker.color for bar in bars.data}
    assert {marks.name: marks.marker.color for marks in dates.data} == {
        "Due": colour["Due"],
        "Current, and due on that day": colour["Current"],
    }
