"""Who has a row on which day, in which order cells come, and the reason each cell carries."""

from __future__ import annotations

import pytest

from tests.unit.core.rulebook import (
    KNOWLEDGE,
    PLACING,
    PRACTICAL,
    SLIPS,
    Ledger,
    ann,
    catalogue,
    competency,
    day,
    hands,
    slips,
    standings,
)
from trainer.core.catalogue import Needs
from trainer.core.durations import parse
from trainer.core.matrix import RULES, STANDINGS, Reason
from trainer.core.records import Effect
from trainer.core.standing import fold_hand

BOTH = catalogue(slips(practical=PRACTICAL))


def on_matrix(ledger: Ledger, as_of: str) -> list[str]:
    return hands(ledger.matrix(as_of).cells())


def test_a_hand_is_on_the_matrix_from_the_day_of_joining() -> None:
    assert on_matrix(ann("2026-01-05"), "2026-01-04") == []
    assert on_matrix(ann("2026-01-05"), "2026-01-05") == ["ann"]


def test_the_day_of_leaving_is_the_last_on_the_matrix() -> None:
    ledger = ann().left("2026-02-01")
    assert on_matrix(ledger, "2026-02-01") == ["ann"]
    assert on_matrix(ledger, "2026-02-02") == []


def test_leaving_may_be_written_for_a_future_day() -> None:
    ledger = ann().left("2026-02-01")
    assert on_matrix(ledger, "2026-01-15") == ["ann"]


def test_a_later_joining_brings_a_hand_back_with_all_earlier_evidence() -> None:
    ledger = ann("2020-01-01").quiz("2026-01-01").left("2026-02-01").joined("2026-03-01")
    assert on_matrix(ledger, "2026-02-15") == []
    assert ledger.standing("2026-03-01") == "current"


def test_joining_again_on_the_day_of_leaving_keeps_the_hand_on_the_matrix() -> None:
    assert on_matrix(ann().left("2026-02-01").joined("2026-02-01"), "2026-02-02") == ["ann"]


def test_a_move_does_not_bring_back_a_hand_who_left() -> None:
    assert on_matrix(ann().left("2026-02-01").moved("2026-03-01", "motorhand"), "2026-03-01") == []


def test_a_second_leaving_does_not_bring_back_a_hand_who_left() -> None:
    assert on_matrix(ann().left("2026-02-01").left("2026-03-01"), "2026-02-15") == []


def test_position_and_crew_are_those_of_the_last_joining_or_move_up_to_the_day() -> None:
    ledger = ann().moved("2026-02-01", "motorhand", "day-2")
    before, after = ledger.cell("2026-01-31"), ledger.cell("2026-02-01")
    assert (before.position, before.crew) == ("floorhand", "day-1")
    assert (after.position, after.crew) == ("motorhand", "day-2")


def test_a_move_on_the_day_of_joining_is_the_later_one() -> None:
    assert ann("2026-01-01").moved("2026-01-01", "motorhand").cell("2026-01-01").position == "motorhand"


def test_a_position_has_cells_only_for_what_it_needs() -> None:
    matrix = ann().moved("2026-02-01", "driller").matrix("2026-02-01")
    assert matrix.hands == ("ann",)
    assert matrix.cells() == []
    assert matrix.cell("ann", SLIPS) is None


def test_a_coordinator_has_no_row_whatever_a_competency_says() -> None:
    book = catalogue(competency(SLIPS, Needs(KNOWLEDGE), positions=("coordinator", "floorhand")))
    ledger = ann().moved("2026-02-01", "coordinator", "")
    assert ledger.matrix("2026-01-31", book).hands == ("ann",)
    assert ledger.matrix("2026-02-01", book).hands == ()


def test_a_position_that_the_site_does_not_know_still_has_the_cells_that_name_it() -> None:
    book = catalogue(competency(SLIPS, Needs(KNOWLEDGE), positions=("roustabout",)))
    assert Ledger().joined("2026-01-01", "roustabout").standing("2026-01-01", book) == "not started"


def test_cells_come_by_hand_id_then_in_catalogue_order() -> None:
    book = catalogue(slips(), competency(PLACING, Needs(KNOWLEDGE)))
    ledger = Ledger()
    for hand in ("bob", "Zoe", "ann", "h-10", "h-9"):
        ledger.joined("2026-01-01", hand=hand)
    cells = [(each.hand, each.competency) for each in ledger.matrix("2026-01-01", book).cells()]
    assert cells == [(hand, each) for hand in ("Zoe", "ann", "bob", "h-10", "h-9") for each in (SLIPS, PLACING)]


def test_with_nobody_or_nothing_there_are_no_cells() -> None:
    assert Ledger().matrix("2026-01-01").cells() == []
    assert Ledger().quiz("2026-01-01").matrix("2026-01-01").cells() == []
    assert fold_hand(catalogue(), *ann().columns(), "nobody", day("2026-01-01")).cells() == []


def test_a_cell_is_found_by_hand_and_competency_or_is_none() -> None:
    matrix = ann().quiz("2026-01-01").matrix("2026-01-01")
    assert matrix.cells() == [matrix.cell("ann", SLIPS)]
    assert matrix.cell("zoe", SLIPS) is None
    assert matrix.cell("aaron", SLIPS) is None
    assert matrix.cell("ann", "no-such-thing") is None


def test_evidence_for_what_is_not_in_the_catalogue_changes_nothing() -> None:
    ledger = ann().quiz("2026-01-01", competency="no-such-thing").down("2026-01-02", "no-such-thing")
    assert standings(ledger.matrix("2026-01-02")) == {("ann", SLIPS): "not started"}


def test_a_matrix_cannot_be_written_to() -> None:
    matrix = ann().quiz("2026-01-01").matrix("2026-01-01")
    for column in (matrix.standing, matrix.due, matrix.do_by, matrix.late, matrix.needed, matrix.reasons.record):
        with pytest.raises(ValueError, match="read-only"):
            column[0, 0] = 0


def test_standings_are_the_six_words_of_the_trade() -> None:
    assert STANDINGS == ("stood down", "not started", "learning", "overdue", "due", "current")
    assert len(set(RULES)) == len(RULES)


def test_a_stand_down_is_the_reason_for_being_stood_down() -> None:
    ledger = ann().quiz("2026-01-01").down("2026-02-01")
    assert ledger.cell("2026-02-02").reason == Reason("stood-down", "", "r3", day("2026-02-01"))


def test_not_started_has_no_record_to_show() -> None:
    assert ann().cell("2026-02-02").reason == Reason("nothing-yet", "", None, None)
    assert ann().down("2026-02-01").up("2026-02-02").cell("2026-02-02").reason == Reason("nothing-yet", "", None, None)


def test_the_first_missing_part_is_named_knowledge_before_practical() -> None:
    assert ann().tailgate("2026-01-01").cell("2026-01-01", BOTH).reason == Reason(
        "part-missing", "knowledge", None, None
    )
    assert ann().quiz("2026-01-01").cell("2026-01-01", BOTH).reason == Reason("part-missing", "practical", None, None)


def test_clean_assessments_that_are_not_enough_yet_are_shown_by_the_last_one() -> None:
    ledger = ann().quiz("2026-01-01").clean("2026-01-02", "dan").clean("2026-01-03", "dan")
    assert ledger.cell("2026-01-03", BOTH).reason == Reason("more-assessments", "practical", "r4", day("2026-01-03"))


def test_a_part_to_be_passed_again_points_to_being_reinstated() -> None:
    ledger = ann().quiz("2026-01-01").down("2026-02-01").up("2026-02-03")
    assert ledger.cell("2026-02-03").reason == Reason("again-after-stand-down", "knowledge", "r4", day("2026-02-03"))


def test_what_must_come_first_is_named() -> None:
    book = catalogue(
        slips(after=("other", PLACING)), competency(PLACING, Needs(KNOWLEDGE)), competency("other", Needs(KNOWLEDGE))
    )
    ledger = ann().quiz("2026-01-01")
    assert ledger.cell("2026-01-01", book).reason == Reason("after", "other", None, None)
    assert ledger.quiz("2026-01-01", competency="other").cell("2026-01-01", book).reason.part == PLACING


def test_what_holds_or_ran_out_is_shown_by_the_record_of_the_part_that_runs_out_first() -> None:
    ledger = ann().quiz("2026-01-05").clean("2026-01-10", "dan").clean("2026-01-20", "eve")
    assert ledger.cell("2026-02-01", BOTH).reason == Reason("holds", "knowledge", "r2", day("2026-01-05"))
    assert ledger.cell("2026-12-20", BOTH).reason.rule == "notice"
    assert ledger.cell("2027-01-06", BOTH).reason == Reason("expired", "knowledge", "r2", day("2026-01-05"))
    ledger.quiz("2027-01-06")
    assert ledger.cell("2027-01-06", BOTH).reason == Reason("notice", "practical", "r4", day("2026-01-20"))


def test_where_a_tailgate_or_an_outside_row_gives_the_day_it_is_the_record_shown() -> None:
    talk = ann().quiz("2026-01-10").tailgate("2026-12-01")
    assert talk.cell("2026-12-01").reason == Reason("holds", "knowledge", "r3", day("2026-12-01"))
    outside = ann().quiz("2025-01-10").outside("knowledge", "2026-01-01")
    assert outside.cell("2026-01-01").reason == Reason("holds", "knowledge", "r3", day("2026-01-01"))


def test_what_comes_first_and_needs_no_part_must_still_be_started() -> None:
    book = catalogue(slips(after=(PLACING,)), competency(PLACING, Needs()))
    ledger = ann().quiz("2026-01-01")
    assert ledger.standing("2026-01-01", book) == "learning"
    assert ledger.quiz("2026-01-01", competency=PLACING).standing("2026-01-01", book) == "current"


def test_a_fail_is_no_start_of_what_comes_first() -> None:
    book = catalogue(slips(after=(PLACING,), within=parse("P30D")), competency(PLACING, Needs()))
    ledger = ann().quiz("2026-01-01").quiz("2026-01-01", Effect.FAIL, PLACING)
    assert ledger.cell("2026-01-01", book).reason == Reason("after", PLACING, None, None)
