"""What one hand holds on one day, as observations ask it."""

from __future__ import annotations

from tests.unit.core.rulebook import PLACING, PRACTICAL, SLIPS, Ledger, ann, catalogue, competency, day, slips
from trainer.core.catalogue import Needs
from trainer.core.standing import holds, is_practical_valid, is_stood_down

BOTH = catalogue(slips(practical=PRACTICAL, after=(PLACING,)), competency(PLACING, Needs()))


def held() -> Ledger:
    return ann().quiz("2026-01-01").clean("2026-01-02", "dan").clean("2026-01-03", "eve")


def does_hold(ledger: Ledger, on: str) -> bool:
    return holds(BOTH, ledger.columns()[0], "ann", SLIPS, day(on))


def does_hold_practical(ledger: Ledger, on: str) -> bool:
    return is_practical_valid(BOTH, ledger.columns()[0], "ann", SLIPS, day(on))


def test_every_needed_part_must_be_valid_that_day() -> None:
    assert not does_hold(held(), "2026-01-02")
    assert does_hold(held(), "2026-01-03")
    assert does_hold(held(), "2027-01-01")
    assert not does_hold(held(), "2027-01-02")


def test_the_practical_part_may_hold_where_knowledge_ran_out() -> None:
    assert does_hold_practical(held(), "2027-01-03")
    assert not does_hold_practical(held(), "2027-01-04")


def test_neither_position_nor_what_comes_first_is_asked() -> None:
    ledger = held()
    ledger.stays = []
    assert does_hold(ledger, "2026-01-03")


def test_first_observers_come_in_by_outside_evidence() -> None:
    ledger = ann().outside("knowledge", "2026-01-01").outside("practical", "2026-01-01")
    assert does_hold(ledger, "2026-04-01")
    assert not does_hold(ledger, "2026-04-02")


def test_a_hand_stood_down_holds_nothing_until_reinstated_and_passed_again() -> None:
    ledger = held().down("2026-02-01")
    assert not does_hold(ledger, "2026-02-01")
    ledger.up("2026-02-02")
    assert not does_hold(ledger, "2026-02-02")
    ledger.quiz("2026-02-03").clean("2026-02-03", "dan").clean("2026-02-04", "eve")
    assert does_hold(ledger, "2026-02-04")


def test_a_practical_part_passed_again_is_valid_before_being_reinstated_but_not_held() -> None:
    ledger = held().down("2026-02-01").clean("2026-02-03", "dan").clean("2026-02-04", "eve")
    evidence = ledger.columns()[0]
    assert is_practical_valid(BOTH, evidence, "ann", SLIPS, day("2026-02-04"))
    assert not is_practical_valid(BOTH, evidence, "ann", SLIPS, day("2026-02-03"))
    assert not does_hold(ledger.quiz("2026-02-04"), "2026-02-04")


def test_whether_stood_down_is_asked_of_the_day() -> None:
    evidence = held().down("2026-02-01").up("2026-02-10").columns()[0]
    on = [is_stood_down(evidence, "ann", SLIPS, day(each)) for each in ("2026-01-31", "2026-02-01", "2026-02-10")]
    assert on == [False, True, False]
    assert not is_stood_down(evidence, "ann", PLACING, day("2026-02-01"))
    assert not is_stood_down(evidence, "bob", SLIPS, day("2026-02-01"))


def test_nobody_holds_what_needs_no_part_or_is_not_there() -> None:
    evidence = held().quiz("2026-01-01", competency=PLACING).columns()[0]
    assert not holds(BOTH, evidence, "ann", PLACING, day("2026-01-03"))
    assert not holds(BOTH, evidence, "ann", "no-such-thing", day("2026-01-03"))
    assert not is_practical_valid(BOTH, evidence, "ann", "no-such-thing", day("2026-01-03"))
    assert not holds(BOTH, evidence, "bob", SLIPS, day("2026-01-03"))
