"""How long each part holds, every sentence of the rule worked by hand; knowledge alone is needed unless said."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.unit.core.rulebook import KNOWLEDGE, PRACTICAL, SLIPS, Ledger, ann, catalogue, competency, slips
from trainer.core.catalogue import Catalogue, Needs
from trainer.core.durations import parse
from trainer.core.records import Effect

FLOOR_SKILL = catalogue(slips(knowledge=None, practical=PRACTICAL))
BOTH = catalogue(slips(practical=PRACTICAL))


def with_knowledge(**changed: object) -> Catalogue:
    return catalogue(slips(knowledge=replace(KNOWLEDGE, **changed)))  # type: ignore[arg-type]


def test_a_quiz_pass_holds_for_good_for() -> None:
    assert ann().quiz("2026-01-10").due("2026-02-01") == "2027-01-10"


def test_a_quiz_passed_on_29_february_holds_through_28_february() -> None:
    assert ann().quiz("2024-02-29").due("2024-03-01") == "2025-02-28"


def test_the_last_quiz_pass_counts() -> None:
    assert ann().quiz("2026-01-10").quiz("2026-03-01").due("2026-03-01") == "2027-03-01"


def test_a_quiz_entered_later_for_an_earlier_day_is_not_the_last() -> None:
    assert ann().quiz("2026-03-01").quiz("2026-01-10").due("2026-03-01") == "2027-03-01"


def test_a_tailgate_within_the_quiz_extends_it() -> None:
    assert ann().quiz("2026-01-10").tailgate("2026-12-01").due("2026-12-01") == "2027-03-01"


def test_a_tailgate_never_shortens_what_the_quiz_gives() -> None:
    assert ann().quiz("2026-01-10").tailgate("2026-02-01").due("2026-12-01") == "2027-01-10"


def test_a_tailgate_extends_no_further_than_at_most_from_the_quiz() -> None:
    book = with_knowledge(at_most=parse("P14M"))
    assert ann().quiz("2026-01-10").tailgate("2027-01-05").due("2027-01-05", book) == "2027-03-10"


def test_without_at_most_there_is_no_cap() -> None:
    book = with_knowledge(at_most=None, tailgate_extends=parse("P9M"))
    assert ann().quiz("2026-01-10").tailgate("2027-01-05").due("2027-01-05", book) == "2027-10-05"


def test_without_tailgate_extends_a_tailgate_changes_nothing() -> None:
    book = with_knowledge(tailgate_extends=None)
    assert ann().quiz("2026-01-10").tailgate("2026-12-01").due("2026-12-01", book) == "2027-01-10"


def test_a_tailgate_on_the_last_day_of_the_quiz_still_extends_it() -> None:
    assert ann().quiz("2026-01-10").tailgate("2027-01-10").due("2027-01-10") == "2027-04-10"


def test_a_tailgate_a_day_after_the_quiz_ran_out_does_not_extend_it() -> None:
    assert ann().quiz("2026-01-10").tailgate("2027-01-11").due("2027-01-11") == "2027-01-10"


def test_the_last_tailgate_within_the_quiz_counts_when_a_later_one_came_too_late() -> None:
    ledger = ann().quiz("2026-01-10").tailgate("2026-12-01").tailgate("2027-01-20")
    assert ledger.due("2027-01-20") == "2027-03-01"


def test_tailgates_do_not_chain_beyond_the_quiz_itself() -> None:
    ledger = ann().quiz("2026-01-10").tailgate("2026-12-20").tailgate("2027-02-20")
    assert ledger.due("2027-02-20") == "2027-03-20"


def test_a_tailgate_on_the_day_of_the_quiz_counts_even_if_written_before_it() -> None:
    book = with_knowledge(good_for=parse("P1M"), at_most=None)
    assert ann().tailgate("2026-01-10").quiz("2026-01-10").due("2026-01-10", book) == "2026-04-10"


def test_a_tailgate_before_the_last_quiz_does_not_extend_it() -> None:
    book = with_knowledge(good_for=parse("P1M"), at_most=None)
    assert ann().quiz("2026-01-01").tailgate("2026-01-09").quiz("2026-01-10").due("2026-01-10", book) == "2026-02-10"


def test_a_tailgate_alone_gives_no_knowledge() -> None:
    assert ann().tailgate("2026-01-10").standing("2026-01-10") == "learning"


def test_outside_knowledge_holds_for_what_the_site_allows() -> None:
    assert ann().outside("knowledge", "2026-01-10").due("2026-01-10") == "2026-04-10"


def test_outside_knowledge_counts_only_where_it_lasts_longer() -> None:
    assert ann().quiz("2026-01-10").outside("knowledge", "2026-02-01").due("2026-02-01") == "2027-01-10"
    assert ann().quiz("2026-01-10").outside("knowledge", "2026-12-31").due("2026-12-31") == "2027-03-31"


def test_a_tailgate_does_not_extend_outside_knowledge() -> None:
    assert ann().outside("knowledge", "2026-01-10").tailgate("2026-03-01").due("2026-03-01") == "2026-04-10"


def test_failed_quizzes_tailgates_and_outside_rows_change_nothing() -> None:
    ledger = ann().quiz("2026-01-10").tailgate("2026-12-01")
    before = ledger.due("2026-12-20")
    ledger.quiz("2026-12-10", Effect.FAIL).tailgate("2026-12-11", Effect.FAIL)
    ledger.outside("knowledge", "2026-12-12", Effect.FAIL)
    assert ledger.due("2026-12-20") == before


def test_practical_needs_clean_assessments_on_different_days() -> None:
    one_day = ann().clean("2026-01-10", "dan").clean("2026-01-10", "eve")
    assert one_day.standing("2026-01-10", FLOOR_SKILL) == "learning"
    assert one_day.clean("2026-01-11", "dan").standing("2026-01-11", FLOOR_SKILL) == "current"


def test_practical_needs_clean_assessments_by_different_people() -> None:
    one_man = ann().clean("2026-01-10", "dan").clean("2026-01-11", "dan")
    assert one_man.standing("2026-01-11", FLOOR_SKILL) == "learning"
    assert one_man.clean("2026-01-12", "eve").standing("2026-01-12", FLOOR_SKILL) == "current"


def test_practical_holds_through_the_last_clean_one() -> None:
    ledger = ann().clean("2026-01-10", "dan").clean("2026-01-20", "eve").clean("2026-05-31", "dan")
    assert ledger.due("2026-06-01", FLOOR_SKILL) == "2027-05-31"


def test_one_clean_assessment_renews_what_was_once_held_even_after_it_ran_out() -> None:
    ledger = ann().clean("2023-01-10", "dan").clean("2023-01-20", "eve").clean("2026-05-01", "dan")
    assert ledger.due("2026-05-01", FLOOR_SKILL) == "2027-05-01"


def test_a_not_yet_changes_nothing() -> None:
    ledger = ann().clean("2026-01-10", "dan").clean("2026-01-20", "eve").not_yet("2026-03-01", "joe")
    assert ledger.due("2026-03-01", FLOOR_SKILL) == "2027-01-20"
    assert ann().clean("2026-01-10", "dan").not_yet("2026-01-11", "eve").standing("2026-01-11", FLOOR_SKILL) == (
        "learning"
    )


def test_outside_practical_holds_alone_for_what_the_site_allows() -> None:
    assert ann().outside("practical", "2026-01-10").due("2026-01-10", FLOOR_SKILL) == "2026-04-10"


def test_outside_practical_counts_only_where_it_lasts_longer() -> None:
    held = ann().clean("2026-01-10", "dan").clean("2026-01-20", "eve")
    assert held.outside("practical", "2026-03-01").due("2026-03-01", FLOOR_SKILL) == "2027-01-20"


def test_outside_practical_is_not_one_of_the_clean_assessments() -> None:
    ledger = ann().outside("practical", "2026-01-10").clean("2026-01-11", "dan")
    assert ledger.due("2026-01-11", FLOOR_SKILL) == "2026-04-10"


def test_defaults_are_one_clean_assessment_by_one_person() -> None:
    plain = replace(PRACTICAL, first=1, assessors=1)
    assert ann().clean("2026-01-10", "dan").due("2026-01-10", catalogue(slips(None, plain))) == "2027-01-10"


def test_the_due_date_is_the_earliest_expiry_among_the_needed_parts() -> None:
    ledger = ann().quiz("2026-01-05").clean("2026-01-10", "dan").clean("2026-01-20", "eve")
    assert ledger.due("2026-02-01", BOTH) == "2027-01-05"
    assert ledger.quiz("2026-02-01").due("2026-02-01", BOTH) == "2027-01-20"


def test_a_part_that_is_not_needed_gives_no_due_date() -> None:
    ledger = ann().quiz("2026-01-05").clean("2026-01-10", "dan").clean("2026-01-20", "eve")
    assert ledger.due("2026-02-01") == "2027-01-05"


def test_a_competency_that_needs_no_part_is_current_once_anything_is_passed_and_never_due() -> None:
    book = catalogue(competency(SLIPS, Needs()))
    assert ann().standing("2026-01-01", book) == "not started"
    cell = ann().tailgate("2026-01-01").cell("2026-01-01", book)
    assert (cell.standing, cell.due, cell.do_by, cell.late) == ("current", None, None, False)


@pytest.mark.parametrize("day", ["2026-01-10", "2025-01-10"])
def test_evidence_may_be_older_than_joining(day: str) -> None:
    assert Ledger().joined("2026-02-01").quiz(day).cell("2026-02-01").reason.day is not None
