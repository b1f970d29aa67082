"""Sign-offs that want another pair of eyes are marked, and no others."""

from __future__ import annotations

from datetime import date, timedelta

from trainer.core.signoffs import Mark, Watch, as_one, marks

DAY = date(2026, 3, 2)


def watch(hand: str, observer: str, days: int = 0, *, purpose: str = "assessment", outcome: str = "clean") -> Watch:
    """A watch for hands, so many days after the first."""
    return Watch(hand, observer, "hands", DAY + timedelta(days=days), "06:00-18:00", purpose, outcome)


def kinds(*watches: Watch) -> list[tuple[str, tuple[str, ...]]]:
    """Each mark's kind and people."""
    return [(mark.kind, mark.people) for mark in marks(watches)]


def test_two_who_sign_each_other_off_within_thirty_days_are_marked_on_the_later_day() -> None:
    assert marks([watch("ana", "ben"), watch("ben", "ana", 30)]) == [
        Mark("mutual", "hands", ("ana", "ben"), DAY + timedelta(days=30))
    ]
    assert kinds(watch("ana", "ben"), watch("ben", "ana", 31)) == []


def test_only_clean_assessments_sign_anybody_off() -> None:
    assert kinds(watch("ana", "ben"), watch("ben", "ana", outcome="not yet")) == []
    assert kinds(watch("ana", "ben"), watch("ben", "ana", purpose="practice", outcome="")) == []


def test_a_chain_of_sole_observers_is_told_once_from_its_first_to_its_last() -> None:
    chain = [watch("ben", "ana"), watch("cy", "ben", 1), watch("dee", "cy", 2)]
    assert kinds(*chain) == [("one-observer", ("ana", "ben", "cy", "dee"))]
    assert kinds(*chain, watch("cy", "tom", 3)) == []


def test_one_person_signing_the_same_hand_again_and_again_is_marked() -> None:
    assert kinds(watch("ana", "dee"), watch("ana", "dee", 1)) == [("one-observer", ("dee", "ana"))]
    assert kinds(watch("ana", "dee"), watch("ana", "tom", 1)) == []


def test_two_watches_in_one_tour_are_one() -> None:
    assert len(as_one([watch("ana", "dee"), watch("ana", "dee")])) == 1
    assert kinds(watch("ana", "dee"), watch("ana", "dee")) == []


def test_who_practised_with_a_hand_is_not_his_only_observer() -> None:
    practice = watch("ana", "dee", purpose="practice", outcome="")
    assert kinds(practice, watch("ana", "dee", 5)) == [("trained-by-observer", ("dee", "ana"))]
    assert kinds(practice, watch("ana", "dee", 5), watch("ana", "tom", 6)) == []
