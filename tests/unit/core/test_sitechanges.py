"""What two sets of figures say differently, and what becomes of the matrix."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from trainer.core.matrix import Cell, Reason, Rule, Standing
from trainer.core.records import Json
from trainer.core.sitechanges import Change, Standings, changes, leaves, standings

FIGURES: dict[str, Json] = {
    "crews": {"day-1": {"on": 14, "tour": "06:00-18:00"}, "night-1": {"on": 14}},
    "languages": ["en", "es"],
    "rig": {"string": [{"part": "drill-pipe", "length": "9200 ft"}], "slips": {"a": {"handles": [0, 120, 240]}}},
}
CELL = Cell(
    "h1", "grip", "floorhand", "day-1", Standing.CURRENT, date(2026, 5, 1), None, False,
    Reason(Rule.HOLDS, "", None, None),
)  # fmt: skip


def test_the_same_figures_change_nothing_however_they_are_quoted_or_ordered() -> None:
    again: dict[str, Json] = {
        "rig": {
            "slips": {"a": {"handles": ["0", "120", "240"]}},
            "string": [{"length": "9200 ft", "part": "drill-pipe"}],
        },
        "languages": ["en", "es"],
        "crews": {"night-1": {"on": "14", "tour": None}, "day-1": {"tour": "06:00-18:00", "on": 14}},
    }
    assert changes(FIGURES, again) == ()
    assert changes(FIGURES, FIGURES) == ()


def test_each_place_that_differs_is_told_once_with_what_stood_and_stands_there() -> None:
    now: dict[str, Json] = {
        "crews": {"day-1": {"on": 21, "tour": "06:00-18:00"}, "day-3": {"on": 7, "off": 7}},
        "languages": ["en"],
        "rig": {"string": [{"part": "collars", "length": "300 ft"}], "slips": {"a": {"handles": [0, 90, 180]}}},
        "outside_good_for": "P30D",
    }
    assert changes(FIGURES, now) == (
        Change(("crews", "day-1", "on"), "14", "21"),
        Change(("crews", "night-1"), "on: 14", None),
        Change(("crews", "day-3"), None, "on: 7, off: 7"),
        Change(("languages",), "en, es", "en"),
        Change(("rig", "string"), "part: drill-pipe, length: 9200 ft", "part: collars, length: 300 ft"),
        Change(("rig", "slips", "a", "handles"), "0, 120, 240", "0, 90, 180"),
        Change(("outside_good_for",), None, "P30D"),
    )


def test_a_part_with_entries_that_one_side_lacks_is_told_entry_by_entry() -> None:
    own: dict[str, Json] = {"procedures": {"dies": {"number": "OP-7", "revision": "2"}, "bowls": {"number": "OP-8"}}}
    added = (
        Change(("procedures", "dies"), None, "number: OP-7, revision: 2"),
        Change(("procedures", "bowls"), None, "number: OP-8"),
    )
    assert changes({}, own) == changes({"procedures": None}, own) == added
    assert changes(own, {}) == tuple(Change(each.path, each.now, None) for each in added)
    assert changes({}, {"procedures": {}}) == (Change(("procedures",), None, "{}"),)
    assert changes({}, {"figures": {"paper": "A4"}}) == (Change(("figures",), None, "paper: A4"),)


def test_true_and_one_are_not_the_same() -> None:
    assert changes({"a": True}, {"a": 1}) == (Change(("a",), "true", "1"),)
    assert changes({"a": True}, {"a": "true"}) == ()


def test_every_figure_is_a_leaf_and_a_sentence_is_one() -> None:
    assert leaves({"d": {"on": 14, "title": {"en": "Day", "es": "Día"}}, "of": ["a", "b"], "none": None}) == (
        (("d", "on"), "14"),
        (("d", "title"), "en: Day, es: Día"),
        (("of",), "a, b"),
    )
    assert leaves("P90D") == (((), "P90D"),)


def test_a_standing_a_due_date_or_a_day_to_do_it_by_is_a_change_and_the_reason_alone_is_none() -> None:
    other = replace(CELL, hand="h2")
    for changed in (
        replace(CELL, standing=Standing.DUE), replace(CELL, due=date(2026, 6, 1)), replace(CELL, do_by="arrange"),
        replace(CELL, late=True),
    ):  # fmt: skip
        assert standings([CELL, other], [changed, other]) == Standings(1, 0, 0, 1)
    assert standings([CELL], [replace(CELL, reason=Reason(Rule.HOLDS, "", "x", None))]) == Standings(0, 0, 0, 0)


def test_what_comes_and_goes_is_counted_with_the_hands_that_it_is_about() -> None:
    more = replace(CELL, competency="calls")
    assert standings([CELL], [more]) == Standings(0, 1, 1, 1)
    assert standings([CELL], [CELL, more, replace(CELL, hand="h2")]) == Standings(0, 2, 0, 2)
