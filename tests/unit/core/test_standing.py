"""Which standing applies, from when due dates run, and by when to do it: every sentence of the rule worked by hand."""

from __future__ import annotations

from dataclasses import replace
from graphlib import CycleError

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
    slips,
)
from trainer.core.catalogue import Catalogue, Needs, Rotation
from trainer.core.durations import parse
from trainer.core.records import Effect, EvidenceRow, Part

WITHIN = catalogue(slips(within=parse("P30D")))
BOTH = catalogue(slips(practical=PRACTICAL, within=parse("P30D")))
FORTNIGHTS = Rotation(day("2026-01-05"), on=14, off=14)
TOURS = catalogue(slips(within=parse("P30D"), notice=parse("P0D")), crews={"day-1": FORTNIGHTS})


def chained(*, needs: Needs | None = None) -> Catalogue:
    """Setting the slips comes after hand placement, and stands before it in the list."""
    placing = competency(PLACING, needs or Needs(KNOWLEDGE), within=parse("P7D"))
    return catalogue(slips(after=(PLACING,), within=parse("P30D")), placing)


def test_with_no_passing_evidence_ever_a_hand_has_not_started() -> None:
    assert ann().standing("2026-01-01") == "not started"
    assert ann().quiz("2026-01-01", Effect.FAIL).not_yet("2026-01-02").standing("2026-01-02") == "not started"


def test_a_pass_of_any_part_needed_or_not_is_a_start() -> None:
    assert ann().clean("2026-01-01", "dan").standing("2026-01-01") == "learning"
    assert ann().tailgate("2026-01-01").standing("2026-01-01") == "learning"
    assert ann().outside("practical", "2026-01-01").standing("2026-01-01") == "learning"


def test_a_pass_before_a_stand_down_still_counts_as_having_started() -> None:
    assert ann().quiz("2026-01-01").down("2026-01-02").up("2026-01-03").standing("2026-01-03") == "learning"


def test_a_hand_reinstated_with_nothing_passed_ever_has_not_started() -> None:
    assert ann().down("2026-01-02").up("2026-01-03").standing("2026-01-03") == "not started"


def test_a_hand_is_learning_until_every_needed_part_has_held() -> None:
    ledger = ann().quiz("2026-01-01").clean("2026-01-02", "dan")
    assert ledger.standing("2026-01-02", BOTH) == "learning"
    assert ledger.clean("2026-01-03", "eve").standing("2026-01-03", BOTH) == "current"


def test_a_part_that_held_long_ago_and_ran_out_is_overdue_not_learning() -> None:
    assert ann().quiz("2021-01-01").standing("2026-01-01") == "overdue"


def test_the_due_day_itself_is_still_valid_and_the_day_after_is_overdue() -> None:
    ledger = ann().quiz("2025-01-10")
    assert ledger.standing("2026-01-10") == "due"
    assert ledger.standing("2026-01-11") == "overdue"


def test_notice_begins_on_the_day_it_counts_back_to() -> None:
    ledger = ann().quiz("2025-03-31")
    month = catalogue(slips(notice=parse("P1M")))
    assert ledger.standing("2026-02-27", month) == "current"
    assert ledger.standing("2026-02-28", month) == "due"


def test_a_stand_down_suspends_and_takes_the_due_date_away() -> None:
    cell = ann().quiz("2026-01-01").down("2026-02-01").cell("2028-02-01", WITHIN)
    assert (cell.standing, cell.due, cell.do_by, cell.late) == ("stood down", None, None, False)


def test_a_stand_down_comes_before_not_started() -> None:
    assert ann().down("2026-02-01").standing("2026-02-01") == "stood down"


def test_passing_again_does_not_end_a_stand_down_without_being_reinstated() -> None:
    assert ann().down("2026-02-01").quiz("2026-02-02").standing("2026-02-02") == "stood down"


def test_after_a_stand_down_only_later_evidence_counts() -> None:
    ledger = ann().quiz("2026-01-01").down("2026-02-01").up("2026-02-03")
    assert ledger.standing("2026-02-03") == "learning"
    assert ledger.quiz("2026-02-04").standing("2026-02-04") == "current"


def test_evidence_between_stand_down_and_reinstatement_counts() -> None:
    assert ann().down("2026-02-01").quiz("2026-02-02").up("2026-02-03").standing("2026-02-03") == "current"


def test_later_means_later_in_the_order_also_on_the_day_of_the_stand_down() -> None:
    before = ann().quiz("2026-02-01").down("2026-02-01").up("2026-02-02")
    after = ann().down("2026-02-01").quiz("2026-02-01").up("2026-02-02")
    assert before.standing("2026-02-02") == "learning"
    assert after.standing("2026-02-02") == "current"


def test_a_paper_sheet_entered_after_the_stand_down_for_an_earlier_day_does_not_count() -> None:
    ledger = ann().down("2026-02-01").up("2026-02-02").quiz("2026-01-31")
    assert ledger.standing("2026-02-02") == "learning"


def test_tailgates_before_a_stand_down_do_not_extend_a_quiz_after_it() -> None:
    book = catalogue(slips(knowledge=replace(KNOWLEDGE, good_for=parse("P1M"), at_most=None)))
    ledger = ann().tailgate("2026-02-01").down("2026-02-01").quiz("2026-02-01").up("2026-02-01")
    assert ledger.due("2026-02-01", book) == "2026-03-01"


def test_nor_do_they_where_a_tailgate_came_too_late() -> None:
    book = catalogue(slips(knowledge=replace(KNOWLEDGE, good_for=parse("P1M"), at_most=None)))
    ledger = ann().tailgate("2026-02-01").down("2026-02-01").quiz("2026-02-01").up("2026-02-01")
    assert ledger.tailgate("2026-03-02").due("2026-03-02", book) == "2026-03-01"


def test_clean_assessments_before_a_stand_down_do_not_count_toward_the_first_ones() -> None:
    ledger = ann().quiz("2026-01-01").clean("2026-01-02", "dan").clean("2026-01-03", "eve")
    ledger.down("2026-02-01").up("2026-02-02").quiz("2026-02-03").clean("2026-02-04", "dan")
    assert ledger.standing("2026-02-04", BOTH) == "learning"
    assert ledger.clean("2026-02-05", "eve").standing("2026-02-05", BOTH) == "current"


def test_a_stand_down_stops_that_competency_of_that_hand_only() -> None:
    book = catalogue(slips(), competency(PLACING, Needs(KNOWLEDGE)))
    ledger = ann().joined("2026-01-01", hand="bob").quiz("2026-01-01").quiz("2026-01-01", competency=PLACING)
    ledger.row(Part.KNOWLEDGE, Effect.PASS, "2026-01-01", hand="bob").down("2026-01-02")
    assert ledger.standing("2026-01-02", book, competency=PLACING) == "current"
    assert ledger.cell("2026-01-02", book, hand="bob").standing == "current"


def test_a_reinstated_with_no_stand_down_before_it_changes_nothing() -> None:
    plain, extra = ann("2026-01-01"), ann("2026-01-01").up("2026-01-20")
    assert extra.due("2026-02-20", WITHIN) == plain.due("2026-02-20", WITHIN) == "2026-01-31"
    assert extra.down("2026-02-01").standing("2026-02-01", WITHIN) == "stood down"


def test_of_several_reinstated_after_one_stand_down_the_last_gives_the_start() -> None:
    ledger = ann("2026-01-01").quiz("2026-01-01").down("2026-02-01").up("2026-02-03").up("2026-02-10")
    assert ledger.due("2026-02-10", WITHIN) == "2026-03-12"
    assert ledger.due("2026-02-09", WITHIN) == "2026-03-05"


def test_a_second_stand_down_starts_it_all_again() -> None:
    ledger = ann().down("2026-02-01").up("2026-02-02").quiz("2026-02-03").down("2026-02-04")
    assert ledger.standing("2026-02-04") == "stood down"
    assert ledger.up("2026-02-05").standing("2026-02-05") == "learning"


def test_what_comes_first_keeps_a_hand_learning_while_it_is_not_started() -> None:
    assert ann().quiz("2026-01-01").standing("2026-01-01", chained()) == "learning"


def test_what_comes_first_keeps_a_hand_learning_while_it_is_learning() -> None:
    ledger = ann().quiz("2026-01-01").clean("2026-01-01", "dan", PLACING)
    assert ledger.standing("2026-01-01", chained(), competency=PLACING) == "learning"
    assert ledger.standing("2026-01-01", chained()) == "learning"


def test_what_comes_first_keeps_a_hand_learning_while_stood_down_there() -> None:
    ledger = ann().quiz("2026-01-01").quiz("2026-01-01", competency=PLACING)
    assert ledger.standing("2026-01-02", chained()) == "current"
    assert ledger.down("2026-01-02", PLACING).standing("2026-01-02", chained()) == "learning"


def test_what_comes_first_may_be_overdue() -> None:
    ledger = ann().quiz("2025-01-01", competency=PLACING).quiz("2026-01-01")
    assert ledger.standing("2026-03-01", chained(), competency=PLACING) == "overdue"
    assert ledger.standing("2026-03-01", chained()) == "current"


def test_learning_because_of_what_comes_first_passes_down_the_chain() -> None:
    book = catalogue(
        competency("third", Needs(KNOWLEDGE), after=("second",)),
        competency("second", Needs(KNOWLEDGE), after=("first",)),
        competency("first", Needs(KNOWLEDGE)),
    )
    ledger = ann().quiz("2026-01-01", competency="second").quiz("2026-01-01", competency="third")
    assert ledger.standing("2026-01-01", book, competency="third") == "learning"
    assert ledger.quiz("2026-01-01", competency="first").standing("2026-01-01", book, competency="third") == "current"


def test_learning_only_because_of_what_comes_first_keeps_its_own_earliest_expiry() -> None:
    cell = ann().quiz("2025-01-01").cell("2026-03-01", chained())
    assert (cell.standing, cell.due, cell.late) == ("learning", day("2026-01-01"), True)


def test_what_comes_first_is_judged_even_where_the_position_does_not_need_it() -> None:
    placing = replace(competency(PLACING, Needs(KNOWLEDGE)), positions=("driller",))
    book = catalogue(slips(after=(PLACING,)), placing)
    ledger = ann().quiz("2026-01-01")
    assert ledger.standing("2026-01-01", book) == "learning"
    assert ledger.quiz("2026-01-01", competency=PLACING).standing("2026-01-01", book) == "current"


def test_a_ring_of_what_comes_first_is_refused() -> None:
    book = catalogue(slips(after=(PLACING,)), competency(PLACING, Needs(KNOWLEDGE), after=(SLIPS,)))
    with pytest.raises(CycleError):
        ann().matrix("2026-01-01", book)


def test_the_first_due_date_runs_from_joining() -> None:
    assert ann("2026-01-01").due("2026-01-01", WITHIN) == "2026-01-31"


def test_without_within_there_is_no_first_due_date() -> None:
    cell = ann().cell("2026-01-01")
    assert (cell.due, cell.do_by, cell.late) == (None, None, False)


def test_within_no_days_means_at_once() -> None:
    at_once = catalogue(slips(within=parse("P0D")))
    assert ann("2026-01-01").due("2026-01-01", at_once) == "2026-01-01"
    assert not ann("2026-01-01").cell("2026-01-01", at_once).late
    assert ann("2026-01-01").cell("2026-01-02", at_once).late


def test_the_first_due_date_stays_while_one_needed_part_has_not_held() -> None:
    assert ann("2026-01-01").quiz("2026-01-10").due("2026-01-10", BOTH) == "2026-01-31"


def test_the_last_joining_gives_the_start() -> None:
    ledger = ann("2020-01-01").left("2025-01-01").joined("2026-01-01")
    assert ledger.due("2026-01-01", WITHIN) == "2026-01-31"


def test_a_move_to_a_position_that_needs_it_gives_the_start() -> None:
    ledger = Ledger().joined("2026-01-01", "driller").moved("2026-02-01", "floorhand")
    assert ledger.due("2026-02-01", WITHIN) == "2026-03-03"


def test_a_move_from_one_position_that_needs_it_to_another_gives_the_start_too() -> None:
    assert ann("2026-01-01").moved("2026-02-01", "motorhand").due("2026-02-01", WITHIN) == "2026-03-03"


def test_a_move_to_another_crew_alone_does_not_give_the_start() -> None:
    assert ann("2026-01-01").moved("2026-02-01", "floorhand", "day-2").due("2026-02-01", WITHIN) == "2026-01-31"


def test_moving_away_and_back_gives_the_start_on_coming_back() -> None:
    ledger = ann("2026-01-01").moved("2026-02-01", "driller").moved("2026-03-01", "floorhand")
    assert ledger.due("2026-03-01", WITHIN) == "2026-03-31"


def test_a_move_after_coming_back_is_judged_against_the_new_position() -> None:
    ledger = ann("2020-01-01").left("2025-01-01").joined("2026-01-01", "motorhand").moved("2026-02-01", "motorhand")
    assert ledger.due("2026-02-01", WITHIN) == "2026-01-31"


def test_being_reinstated_gives_the_start_where_it_is_the_latest() -> None:
    ledger = ann("2026-01-01").quiz("2026-01-02").down("2026-02-01").up("2026-02-10")
    assert ledger.due("2026-02-10", WITHIN) == "2026-03-12"
    assert ledger.moved("2026-02-20", "motorhand").due("2026-02-20", WITHIN) == "2026-03-22"


def test_late_is_said_whatever_the_standing() -> None:
    for ledger, standing in (
        (ann("2026-01-01"), "not started"),
        (ann("2026-01-01").tailgate("2026-01-02"), "learning"),
        (ann("2020-01-01").quiz("2025-01-31"), "overdue"),
    ):
        assert not ledger.cell("2026-01-31", WITHIN).late
        late = ledger.cell("2026-02-01", WITHIN)
        assert (late.standing, late.late) == (standing, True)


def test_to_do_by_is_the_last_working_day_up_to_the_due_date() -> None:
    ledger = ann("2020-01-01")
    assert ledger.quiz("2025-01-25").cell("2026-01-06", TOURS).do_by == day("2026-01-17")
    assert ledger.quiz("2025-02-10").cell("2026-01-06", TOURS).do_by == day("2026-02-10")


def test_to_do_by_is_never_crew_change_day() -> None:
    assert ann().quiz("2025-01-18").cell("2026-01-06", TOURS).do_by == day("2026-01-17")


def test_arrange_is_said_where_no_working_day_is_left() -> None:
    home = ann().quiz("2025-01-25").cell("2026-01-18", TOURS)
    assert (home.do_by, home.standing, home.reason.rule) == ("arrange", "due", "no-hitch-left")
    assert ann().quiz("2024-01-25").cell("2026-01-06", TOURS).do_by == "arrange"


def test_there_is_nothing_to_do_by_without_a_due_date() -> None:
    assert ann().cell("2026-01-06").do_by is None


def test_the_last_hitch_before_the_due_date_makes_it_due() -> None:
    ledger = ann().quiz("2025-01-25")
    last = ledger.cell("2026-01-05", TOURS)
    assert (last.standing, last.reason.rule) == ("due", "last-hitch")
    assert ledger.cell("2026-01-04", TOURS).standing == "current"


def test_the_hitch_before_the_last_one_is_current() -> None:
    cell = ann().quiz("2025-02-10").cell("2026-01-17", TOURS)
    assert (cell.standing, cell.do_by) == ("current", day("2026-02-10"))


def test_without_a_rotation_every_day_is_worked_and_only_notice_makes_it_due() -> None:
    ledger = ann("2020-01-01").quiz("2025-02-10")
    bare = catalogue(slips(notice=parse("P0D")))
    cell = ledger.cell("2026-02-09", bare)
    assert (cell.standing, cell.do_by) == ("current", day("2026-02-10"))
    assert ledger.standing("2026-02-10", bare) == "due"


@pytest.mark.parametrize("crew", ["", "a-crew-the-site-does-not-know"])
def test_a_hand_in_no_known_crew_works_every_day(crew: str) -> None:
    cell = Ledger().joined("2020-01-01", crew=crew).quiz("2025-01-18").cell("2026-01-06", TOURS)
    assert cell.do_by == day("2026-01-18")


def test_the_rotation_is_that_of_the_crew_on_the_as_of_day() -> None:
    book = catalogue(slips(notice=parse("P0D")), crews={"day-1": FORTNIGHTS, "day-2": Rotation()})
    ledger = ann("2020-01-01").quiz("2025-01-25").moved("2026-01-10", "floorhand", "day-2")
    assert ledger.cell("2026-01-09", book).do_by == day("2026-01-17")
    assert ledger.cell("2026-01-10", book).do_by == day("2026-01-25")


def test_only_records_up_to_the_as_of_day_decide() -> None:
    ledger = ann().quiz("2026-01-01").down("2026-03-01")
    assert ledger.standing("2025-12-31") == "not started"
    assert ledger.standing("2026-02-28") == "current"
    assert ledger.standing("2026-03-01") == "stood down"


def test_on_one_day_the_time_of_writing_decides_then_site_then_place_in_the_chain() -> None:
    def row(effect: Effect, at: str, site: str, seq: int) -> EvidenceRow:
        return EvidenceRow("ann", SLIPS, Part.NONE, effect, day("2026-01-01"), at, site, seq, "dan", f"{site}{seq}")

    early, late = "2026-01-01T06:00:00.000Z", "2026-01-01T06:00:00.001Z"
    for down, up in (
        (row(Effect.DOWN, early, "b", 9), row(Effect.UP, late, "a", 1)),
        (row(Effect.DOWN, late, "a", 9), row(Effect.UP, late, "b", 1)),
        (row(Effect.DOWN, late, "b", 1), row(Effect.UP, late, "b", 2)),
    ):
        ledger = ann()
        ledger.evidence = [up, down]
        assert ledger.standing("2026-01-01") == "not started"
        ledger.evidence = [replace(up, effect=Effect.DOWN), replace(down, effect=Effect.UP)]
        assert ledger.standing("2026-01-01") == "stood down"
