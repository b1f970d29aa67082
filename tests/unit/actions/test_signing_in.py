"""Signing in, staying signed in, and what keeps others out."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import AbstractContextManager, closing
from datetime import date
from pathlib import Path

import pytest
from argon2 import PasswordHasher

from tests.unit.actions import desks
from tests.unit.actions.desks import acting, add, later
from trainer.actions import signing_in
from trainer.actions.desk import Actor, Desk
from trainer.core.records import Joined, Left, Moved
from trainer.errors import BadInput, NotFound, Refused, StoreUnavailable
from trainer.store import Store, Transaction, keys
from trainer.store.dialects import FILE_NAME

PIN, OTHER_PIN = "274913", "618350"
JANUARY = date(2026, 1, 5)
WHO = Actor("ana", "hand", "floorhand", "day-1", "es")


@pytest.fixture
def desk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Desk]:
    """The console's desk on a new site, at noon on 2 March 2026; what hashes cost is asked in the tests of the keys."""
    monkeypatch.setattr(keys, "_HASHER", PasswordHasher(time_cost=1, memory_cost=8, parallelism=1))
    made = desks.new_site(tmp_path / "data")
    yield made
    made.store.close()


@pytest.fixture
def door(desk: Desk) -> Desk:
    """Nobody's desk on a site with a floorhand, ana, who has a PIN."""
    add(desk, "ana", (JANUARY, Joined("day-1", "floorhand")), pin=PIN, language="es")
    return acting(desk, signing_in.nobody())


def wrong(door: Desk, times: int, device: str = "tablet", hand: str = "ana") -> None:
    for _ in range(times):
        with pytest.raises(Refused, match="pin-wrong"):
            signing_in.sign_in(door, hand, OTHER_PIN, device)


def test_the_right_pin_opens_a_session_in_todays_position(door: Desk) -> None:
    opened = signing_in.sign_in(door, "ana", PIN, "tablet")
    assert opened.who == WHO
    assert signing_in.who(door, opened.session) == WHO
    assert signing_in.seconds_left(door, opened.session) == 600


def test_the_coordinator_of_a_new_site_signs_in_with_the_pin_of_init(door: Desk) -> None:
    opened = signing_in.sign_in(door, "coordinator", desks.COORDINATOR_PIN, "office")
    assert opened.who == Actor("coordinator", "coordinator", "coordinator", "")


@pytest.mark.parametrize("hand", ["ana", "nobody-here", "no pin", "", "x" * 500, "coordinator'; --"])
def test_whatever_does_not_fit_is_answered_alike(door: Desk, hand: str) -> None:
    with pytest.raises(Refused) as caught:
        signing_in.sign_in(door, hand, OTHER_PIN, "tablet")
    assert (caught.value.code, caught.value.values) == ("pin-wrong", {})


@pytest.mark.parametrize("hand", ["ana", "nobody-here"])
def test_a_wrong_pin_and_an_unknown_hand_both_cost_one_hash(
    door: Desk, hand: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[bool] = []
    fits = keys.Keys.pin_fits

    def counted(known: keys.Keys, pin_hash: str | None, pin: str) -> bool:
        asked.append(pin_hash is None)
        return fits(known, pin_hash, pin)

    monkeypatch.setattr(keys.Keys, "pin_fits", counted)
    wrong(door, 1, hand=hand)
    assert asked == [hand != "ana"]


def test_somebody_without_a_pin_yet_cannot_sign_in(door: Desk, desk: Desk) -> None:
    add(desk, "ben", (JANUARY, Joined("day-1", "floorhand")))
    wrong(door, 1, hand="ben")


def test_somebody_who_has_left_cannot_sign_in_from_the_day_after(door: Desk, desk: Desk) -> None:
    opened = signing_in.sign_in(door, "ana", PIN, "tablet")
    add(desk, "ana", (desks.TODAY, Left()))
    signing_in.check_pin(door, "ana", PIN, "tablet")
    assert signing_in.who(door, opened.session) is not None
    tomorrow = later(door, hours=24)
    with pytest.raises(Refused, match="pin-wrong"):
        signing_in.sign_in(tomorrow, "ana", PIN, "tablet")
    with pytest.raises(Refused, match="pin-wrong"):
        signing_in.check_pin(tomorrow, "ana", PIN, "tablet")


def test_a_session_ends_when_its_holder_is_gone(door: Desk, desk: Desk) -> None:
    opened = signing_in.sign_in(door, "ana", PIN, "tablet")
    add(desk, "ana", (date(2026, 3, 1), Left()))
    assert signing_in.who(door, opened.session) is None
    session = door.store.session(opened.session)
    assert session is not None
    assert session.ended is not None


def test_somebody_who_came_back_can_sign_in_again(door: Desk, desk: Desk) -> None:
    add(desk, "ana", (date(2026, 2, 1), Left()), (date(2026, 3, 2), Joined("night-1", "driller")), language="es")
    assert signing_in.sign_in(door, "ana", PIN, "tablet").who == Actor("ana", "driller", "driller", "night-1", "es")


def test_a_move_counts_from_its_day(door: Desk, desk: Desk) -> None:
    add(desk, "ana", (date(2026, 3, 3), Moved("night-1", "driller")), language="es")
    opened = signing_in.sign_in(door, "ana", PIN, "tablet")
    assert opened.who == WHO
    for minutes in range(5, 12 * 60, 5):
        last = signing_in.who(later(door, minutes=minutes), opened.session)
    assert last is not None
    assert (last.role, last.crew) == ("hand", "day-1")
    assert signing_in.sign_in(later(door, hours=12), "ana", PIN, "tablet").who.role == "driller"


def test_people_to_choose_are_todays_by_crew_and_name(door: Desk, desk: Desk) -> None:
    add(desk, "zoe", (JANUARY, Joined("day-1", "driller")), name="álvaro Ruiz")
    add(desk, "new", (date(2026, 3, 3), Joined("day-1", "floorhand")))
    add(desk, "old", (JANUARY, Joined("day-1", "floorhand")), (date(2026, 3, 1), Left()))
    add(desk, "eve", (JANUARY, Joined("night-1", "floorhand")), (desks.TODAY, Left()))
    assert signing_in.people_to_choose(door) == {
        "": (("coordinator", "Coordinator"),),
        "day-1": (("ana", "Ana"), ("zoe", "álvaro Ruiz")),
        "night-1": (("eve", "Eve"),),
    }


# tries


def test_after_five_wrong_tries_one_waits_longer_and_longer(door: Desk) -> None:
    wrong(door, 4)
    now = door
    for minutes in (1, 2, 4, 8, 15, 15):
        wrong(now, 1)
        with pytest.raises(Refused, match="pin-wait") as caught:
            signing_in.sign_in(later(now, minutes=minutes, seconds=-1), "ana", PIN, "tablet")
        assert caught.value.values == {"seconds": 1, "minutes": 1}
        now = later(now, minutes=minutes)
    assert signing_in.sign_in(now, "ana", PIN, "tablet").who == WHO


def test_a_wait_says_how_long_it_is(door: Desk) -> None:
    wrong(door, 5)
    for code, action in (("sign_in", signing_in.sign_in), ("check_pin", signing_in.check_pin)):
        with pytest.raises(Refused) as caught:
            action(later(door, seconds=0.5), "ana", PIN, "tablet")
        assert caught.value.values == {"seconds": 60, "minutes": 1}, code


def test_tries_count_by_person_and_device(door: Desk, desk: Desk) -> None:
    add(desk, "ben", (JANUARY, Joined("day-1", "floorhand")), pin=PIN)
    wrong(door, 5)
    assert signing_in.sign_in(door, "ben", PIN, "tablet").who.hand == "ben"
    assert signing_in.sign_in(door, "ana", PIN, "office").who.hand == "ana"
    with pytest.raises(Refused, match="pin-wait"):
        signing_in.sign_in(door, "ana", PIN, "tablet")


def test_a_right_pin_forgets_the_wrong_ones(door: Desk) -> None:
    wrong(door, 4)
    signing_in.check_pin(door, "ana", PIN, "tablet")
    wrong(door, 4)
    signing_in.sign_in(door, "ana", PIN, "tablet")
    wrong(door, 4)


def test_a_day_forgets_them_too(door: Desk) -> None:
    wrong(door, 4)
    wrong(later(door, hours=25), 4)
    wrong(later(door, hours=26), 1)
    with pytest.raises(Refused, match="pin-wait"):
        signing_in.sign_in(later(door, hours=26), "ana", PIN, "tablet")


def test_the_unknown_are_made_to_wait_like_everybody(door: Desk) -> None:
    wrong(door, 5, hand="nobody-here")
    with pytest.raises(Refused, match="pin-wait"):
        signing_in.sign_in(door, "nobody-here", PIN, "tablet")


def test_many_tries_at_once_are_many_tries(door: Desk) -> None:
    def attempt(_: int) -> str:
        with pytest.raises(Refused) as caught:
            signing_in.sign_in(door, "ana", OTHER_PIN, "tablet")
        return caught.value.code

    with ThreadPoolExecutor(8) as threads:
        answers = list(threads.map(attempt, range(12)))
    assert (answers.count("pin-wrong"), answers.count("pin-wait")) == (5, 7)


# codes


@pytest.fixture
def code(desk: Desk, door: Desk) -> str:
    """A one-use code for ana, drawn at noon."""
    return signing_in.new_code(desk, "ana")


def test_a_code_sets_a_pin_once(door: Desk, code: str) -> None:
    before = signing_in.sign_in(door, "ana", PIN, "office")
    opened = signing_in.first_pin(door, "ana", f"{code[:4]} {code[4:]}", OTHER_PIN, "tablet")
    assert opened.who == WHO
    assert (signing_in.who(door, before.session), signing_in.who(door, opened.session)) == (None, WHO)
    assert signing_in.sign_in(door, "ana", OTHER_PIN, "tablet").who == WHO
    with pytest.raises(Refused, match="pin-wrong"):
        signing_in.sign_in(door, "ana", PIN, "tablet")
    with pytest.raises(Refused, match="code-wrong"):
        signing_in.first_pin(door, "ana", code, PIN, "tablet")


def test_a_code_is_eight_digits_and_good_for_a_day(door: Desk, code: str) -> None:
    assert (len(code), code.isdigit()) == (8, True)
    with pytest.raises(Refused, match="code-wrong"):
        signing_in.first_pin(later(door, hours=24, seconds=1), "ana", code, OTHER_PIN, "tablet")
    assert signing_in.first_pin(later(door, hours=24), "ana", code, OTHER_PIN, "office").who == WHO


def test_a_newer_code_takes_the_older_ones_place(door: Desk, desk: Desk, code: str) -> None:
    newer = signing_in.new_code(desk, "ana")
    with pytest.raises(Refused, match="code-wrong"):
        signing_in.first_pin(door, "ana", code, OTHER_PIN, "tablet")
    assert signing_in.first_pin(door, "ana", newer, OTHER_PIN, "tablet").who == WHO


def test_wrong_codes_are_tries_as_well(door: Desk, code: str) -> None:
    wrong(door, 2)
    for _ in range(3):
        with pytest.raises(Refused, match="code-wrong"):
            signing_in.first_pin(door, "ana", "00000000", OTHER_PIN, "tablet")
    with pytest.raises(Refused, match="pin-wait"):
        signing_in.first_pin(door, "ana", code, OTHER_PIN, "tablet")


def test_a_new_code_lets_a_locked_out_hand_in(door: Desk, desk: Desk) -> None:
    wrong(door, 5)
    assert signing_in.first_pin(door, "ana", signing_in.new_code(desk, "ana"), OTHER_PIN, "tablet").who == WHO


def test_a_weak_pin_costs_neither_try_nor_code(door: Desk, code: str) -> None:
    for _ in range(6):
        with pytest.raises(BadInput, match="pin-weak"):
            signing_in.first_pin(door, "ana", code, "123456", "tablet")
    assert signing_in.first_pin(door, "ana", code, OTHER_PIN, "tablet").who == WHO


@pytest.mark.parametrize("hand", ["nobody-here", "coordinator"])
def test_another_hands_code_is_no_good(door: Desk, code: str, hand: str) -> None:
    with pytest.raises(Refused, match="code-wrong"):
        signing_in.first_pin(door, hand, code, OTHER_PIN, "tablet")


def test_there_is_no_code_for_somebody_who_is_not_here(desk: Desk) -> None:
    with pytest.raises(NotFound, match="no-hand"):
        signing_in.new_code(desk, "nobody-here")


def test_one_code_used_twice_at_once_gives_one_session(door: Desk, code: str) -> None:
    def attempt(pin: str) -> str:
        try:
            return signing_in.first_pin(door, "ana", code, pin, "tablet").who.hand
        except Refused as refused:
            return refused.code

    with ThreadPoolExecutor(2) as threads:
        assert sorted(threads.map(attempt, (OTHER_PIN, "805217"))) == ["ana", "code-wrong"]


@pytest.mark.parametrize("actor", [signing_in.nobody(), WHO, Actor("ben", "driller")])
def test_only_the_office_hands_out_codes_and_signs_others_out(desk: Desk, actor: Actor) -> None:
    with pytest.raises(Refused, match="may-not"):
        signing_in.new_code(acting(desk, actor), "ana")
    with pytest.raises(Refused, match="may-not"):
        signing_in.sign_out_person(acting(desk, actor), "ana")


# a new PIN


def test_a_changed_pin_ends_every_other_session(door: Desk) -> None:
    here, there = (signing_in.sign_in(door, "ana", PIN, device) for device in ("tablet", "office"))
    signing_in.change_pin(acting(door, WHO), PIN, OTHER_PIN, "tablet", here.session)
    assert (signing_in.who(door, here.session), signing_in.who(door, there.session)) == (WHO, None)
    wrong_now = pytest.raises(Refused, match="pin-wrong")
    with wrong_now:
        signing_in.sign_in(door, "ana", PIN, "tablet")
    assert signing_in.sign_in(door, "ana", OTHER_PIN, "tablet").who == WHO


def test_a_pin_is_changed_by_whoever_knows_the_old_one_to_a_good_one(door: Desk) -> None:
    hers = acting(door, WHO)
    with pytest.raises(Refused, match="pin-wrong"):
        signing_in.change_pin(hers, OTHER_PIN, "805217", "tablet")
    with pytest.raises(BadInput, match="pin-weak"):
        signing_in.change_pin(hers, PIN, "111111", "tablet")
    with pytest.raises(BadInput, match="pin-form"):
        signing_in.change_pin(hers, PIN, "12 456", "tablet")
    with pytest.raises(Refused, match="may-not"):
        signing_in.change_pin(door, PIN, OTHER_PIN, "tablet")
    assert signing_in.sign_in(door, "ana", PIN, "tablet").who == WHO


# sessions


def test_a_ticket_is_a_cookie_once_and_within_thirty_seconds(door: Desk) -> None:
    opened, late = (signing_in.sign_in(door, "ana", PIN, "tablet") for _ in range(2))
    cookie = signing_in.redeem(later(door, seconds=30), opened.ticket)
    assert signing_in.from_cookie(door, cookie) == opened.session
    assert signing_in.redeem(door, opened.ticket) is None
    assert signing_in.redeem(later(door, seconds=31), late.ticket) is None
    assert signing_in.redeem(door, "made up") is None


def test_a_ticket_of_an_ended_session_is_no_good(door: Desk) -> None:
    opened = signing_in.sign_in(door, "ana", PIN, "tablet")
    signing_in.sign_out(door, opened.session)
    assert signing_in.redeem(door, opened.ticket) is None


def test_a_cookie_is_good_while_its_session_is_open(door: Desk) -> None:
    opened = signing_in.sign_in(door, "ana", PIN, "tablet")
    cookie = signing_in.redeem(door, opened.ticket)
    assert cookie is not None
    assert signing_in.from_cookie(door, cookie[:-1] + "0") is None or cookie.endswith("0")
    assert signing_in.from_cookie(door, None) is None
    assert signing_in.from_cookie(later(door, minutes=11), cookie) is None
    signing_in.sign_out(door, opened.session)
    assert signing_in.from_cookie(door, cookie) is None


def test_the_database_holds_nothing_that_opens_a_session(door: Desk, tmp_path: Path) -> None:
    opened = signing_in.sign_in(door, "ana", PIN, "tablet")
    cookie = signing_in.redeem(door, opened.ticket)
    assert cookie is not None
    with closing(sqlite3.connect(tmp_path / "data" / FILE_NAME)) as raw:
        dump = "\n".join(raw.iterdump())
    assert "ana" in dump
    for secret in (opened.session, opened.ticket, cookie.partition(".")[2], PIN):
        assert secret not in dump


def test_ten_minutes_without_a_tap_end_a_session(door: Desk) -> None:
    session = signing_in.sign_in(door, "ana", PIN, "tablet").session
    assert signing_in.who(later(door, minutes=10), session, active=False) == WHO
    assert signing_in.seconds_left(later(door, minutes=10), session) == 0
    assert signing_in.who(later(door, minutes=10, seconds=1), session) is None
    assert signing_in.who(door, session) is None


def test_a_tap_keeps_it_open_and_a_look_does_not(door: Desk) -> None:
    session = signing_in.sign_in(door, "ana", PIN, "tablet").session
    assert signing_in.who(later(door, minutes=9), session, active=False) == WHO
    assert signing_in.seconds_left(later(door, minutes=9), session) == 60
    assert signing_in.who(later(door, minutes=9), session) == WHO
    assert signing_in.seconds_left(later(door, minutes=9), session) == 600
    assert signing_in.who(later(door, minutes=19), session) == WHO


def test_twelve_hours_end_it_in_any_case(door: Desk) -> None:
    session = signing_in.sign_in(door, "ana", PIN, "tablet").session
    for minutes in range(5, 12 * 60, 5):
        assert signing_in.who(later(door, minutes=minutes), session) == WHO
    assert signing_in.seconds_left(later(door, hours=11, minutes=55), session) == 300
    assert signing_in.who(later(door, hours=12, seconds=1), session) is None


def test_taps_close_together_are_written_once(door: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    session = signing_in.sign_in(door, "ana", PIN, "tablet").session
    write = Store.transaction
    written: list[Store] = []

    def counted(store: Store) -> AbstractContextManager[Transaction]:
        written.append(store)
        return write(store)

    monkeypatch.setattr(Store, "transaction", counted)
    for seconds in range(1, 61):
        signing_in.who(later(door, seconds=seconds), session)
    assert len(written) == 3


def test_a_disk_that_is_full_signs_nobody_out(door: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    session = signing_in.sign_in(door, "ana", PIN, "tablet").session

    def full(_: Store) -> Iterator[None]:
        raise StoreUnavailable("store-full")

    monkeypatch.setattr(Store, "transaction", full)
    assert signing_in.who(later(door, minutes=1), session) == WHO
    assert signing_in.who(later(door, minutes=11), session) is None


def test_signing_out_ends_that_session_and_no_other(door: Desk) -> None:
    here, there = (signing_in.sign_in(door, "ana", PIN, device) for device in ("tablet", "office"))
    signing_in.sign_out(door, here.session)
    signing_in.sign_out(door, here.session)
    signing_in.sign_out(door, None)
    assert (signing_in.who(door, here.session), signing_in.seconds_left(door, here.session)) == (None, 0)
    assert signing_in.who(door, there.session) == WHO


def test_everybody_of_one_person_can_be_signed_out(door: Desk, desk: Desk) -> None:
    sessions = [signing_in.sign_in(door, "ana", PIN, device).session for device in ("tablet", "office")]
    other = signing_in.sign_in(door, "coordinator", desks.COORDINATOR_PIN, "office").session
    signing_in.sign_out_person(desk, "ana")
    assert [signing_in.who(door, session) for session in sessions] == [None, None]
    assert signing_in.who(door, other) is not None


@pytest.mark.parametrize("session", [None, "", "made up"])
def test_no_session_is_nobody(door: Desk, session: str | None) -> None:
    assert signing_in.who(door, session) is None
    assert signing_in.seconds_left(door, session) == 0


def test_old_sessions_and_tries_are_swept_away(door: Desk, tmp_path: Path) -> None:
    wrong(door, 1, hand="nobody-here")
    signing_in.sign_in(door, "ana", PIN, "tablet")
    signing_in.sign_in(later(door, days=8), "ana", PIN, "tablet")
    with closing(sqlite3.connect(tmp_path / "data" / FILE_NAME)) as raw:
        counts = [
            raw.execute(f"SELECT count(*) FROM {table}").fetchone()[0] for table in ("sessions", "tickets", "tries")
        ]
    assert counts == [1, 1, 0]
