"""Bundles between sites that share no network: a union in any order, forged and forked chains set aside by name."""

from __future__ import annotations

import gzip
import json
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path
from random import Random

import pytest

from tests.contract import ledgers
from tests.contract.conftest import DIALECTS, made_place
from tests.contract.ledgers import AT, new, quiz
from trainer.core.records import Erased, Joined, Outside, Void
from trainer.errors import BadInput
from trainer.store import Bundle, Left, Merged, Person, Store, create, pack, record_json, unpack

NOW = datetime(2026, 3, 2, 12, 0, tzinfo=UTC)
Rigs = Callable[..., list[Store]]


@pytest.fixture(params=DIALECTS)
def rigs(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Rigs]:
    """Makes new sites, each with a person and a quiz of its own."""
    made: list[Store] = []

    def make(*names: str) -> list[Store]:
        for name in names:
            place = made_place(request, tmp_path / name / str(len(made)))
            store = create(place, name, ledgers.fill)
            made.append(store)
            work(store, f"hand-{name}")
        return made[-len(names) :]

    yield make
    for store in made:
        store.close()


def work(store: Store, hand: str, *, at: str = AT, passed: bool = True) -> str:
    """A hand joins and takes a quiz; the quiz's id."""
    with store.transaction() as writing:
        writing.put_person(Person(hand, f"Name of {hand}", at=at))
        writing.append(new(Joined("day-1", "floorhand"), hand, at=at))
        return writing.append(new(quiz(passed=passed), hand, at=at)).record_id


def take(receiver: Store, sender: Store, now: datetime = NOW) -> Merged:
    """Carry everything of ``sender`` to ``receiver``, through the file."""
    return take_in(receiver, unpack(pack(sender.bundle(AT), sender.keys)), now)


def take_in(receiver: Store, bundle: Bundle, now: datetime = NOW) -> Merged:
    with receiver.transaction() as writing:
        return writing.merge(bundle, now)


def ledger(store: Store) -> list[object]:
    """All that must be equal once everybody has heard everything."""
    return [
        [record_json(each) for each in store.records()],
        store.evidence_rows(),
        store.stay_rows(),
        dict(store.voids()),
        dict(store.people()),
        dict(store.forks()),
    ]


def test_the_other_sites_records_people_and_evidence_arrive(rigs: Rigs) -> None:
    a, b = rigs("RIG-A", "RIG-B")
    merged = take(a, b)
    assert (merged.written, merged.left) == ({"RIG-B": 4}, ())
    assert [head.site for head in a.heads()] == ["RIG-A", "RIG-B"]
    assert {row.hand for row in a.evidence_rows()} == {"hand-RIG-A", "hand-RIG-B"}
    assert a.person("hand-RIG-B") == Person("hand-RIG-B", "Name of hand-RIG-B", at=AT)
    assert a.verify() == []


def test_merging_twice_changes_nothing(rigs: Rigs) -> None:
    a, b = rigs("RIG-A", "RIG-B")
    take(a, b)
    before = ledger(a)
    again = take(a, b)
    assert (again.written, again.left, again.names) == ({}, (), 0)
    assert ledger(a) == before


def test_both_ways_round_end_equal(rigs: Rigs) -> None:
    a, b = rigs("RIG-A", "RIG-B")
    take(a, b)
    take(b, a)
    assert ledger(a) == ledger(b)


def test_what_is_new_is_added_to_what_came_before(rigs: Rigs) -> None:
    a, b = rigs("RIG-A", "RIG-B")
    take(a, b)
    work(b, "late")
    assert take(a, b).written == {"RIG-B": 2}
    assert a.verify() == []


def test_an_older_bundle_that_comes_late_takes_nothing_away(rigs: Rigs) -> None:
    a, b = rigs("RIG-A", "RIG-B")
    old = b.bundle(AT)
    work(b, "late")
    take(a, b)
    before = ledger(a)
    assert take_in(a, old).written == {}
    assert ledger(a) == before


def test_a_third_site_hears_of_the_first_by_way_of_the_second(rigs: Rigs) -> None:
    a, b, c = rigs("RIG-A", "RIG-B", "RIG-C")
    take(b, a)
    assert set(take(c, b).written) == {"RIG-A", "RIG-B"}
    assert c.verify() == []


@pytest.mark.parametrize("seed", range(3))
def test_twenty_rigs_that_meet_in_any_order_end_equal(tmp_path: Path, seed: int) -> None:
    chance = Random(seed)
    names = [f"RIG-{number:02}" for number in range(20)]
    stores = [create(ledgers.settings_in(tmp_path / name), name, ledgers.fill) for name in names]
    for store, name in zip(stores, names, strict=True):
        for number in range(chance.randint(1, 3)):
            work(store, f"{name}-{number}" if chance.random() < 0.7 else "shared", passed=chance.random() < 0.8)
    for _ in range(60):
        receiver, sender = chance.sample(stores, 2)
        take(receiver, sender)
        if chance.random() < 0.3:
            work(receiver, f"{receiver.site}-more")
    # Whoever has not met anybody yet does so at last: once to one of them, and back from it.
    for store in stores[1:]:
        take(stores[0], store)
    for store in stores[1:]:
        take(store, stores[0])
    first = ledger(stores[0])
    assert all(ledger(store) == first for store in stores[1:])
    assert [store.verify() for store in stores] == [[]] * 20
    for store in stores:
        store.close()


def test_the_later_name_holds_on_both_sides(rigs: Rigs) -> None:
    a, b = rigs("RIG-A", "RIG-B")
    for store, name, at in ((a, "Ana Bell", AT), (b, "Ana Bell Cruz", "2026-03-02T07:00:00.000Z")):
        with store.transaction() as writing:
            writing.put_person(Person("ana", name, at=at))
    take(a, b)
    take(b, a)
    names = {store.people()["ana"].name for store in (a, b)}
    assert names == {"Ana Bell Cruz"}


def test_a_void_and_what_it_voids_may_come_from_two_sites(rigs: Rigs) -> None:
    a, b, c = rigs("RIG-A", "RIG-B", "RIG-C")
    target = work(a, "ana")
    take(b, a)
    with b.transaction() as writing:
        writing.append(new(Void(target, "ee")))
    take(c, b)
    take(a, b)
    for store in (a, b, c):
        assert target in store.voids()
        assert target not in {row.record_id for row in store.evidence_rows()}
        assert store.verify() == []


def test_an_erased_person_stays_erased_whoever_brings_the_name_again(rigs: Rigs) -> None:
    a, b = rigs("RIG-A", "RIG-B")
    with b.transaction() as writing:
        writing.put_person(Person("ana", "Ana Bell", at=AT))
        writing.keep_text("Ana stood in the bight", "ana")
    take(a, b)
    with a.transaction() as writing:
        writing.append(new(Erased("ana", "asked"), "ana", at="2026-03-02T08:00:00.000Z"))
        writing.forget("ana")
    take(a, b)
    assert a.person("ana") is None
    take(b, a)
    assert b.person("ana") is None
    assert "Ana stood" not in str(b.bundle(AT))


def tampered(sender: Store, change: Callable[[dict[str, object]], None], seq: int = 4) -> Bundle:
    """The bundle of ``sender`` with one record changed."""
    bundle = sender.bundle(AT)
    found = [dict(each) for each in bundle.records]
    change(next(each for each in found if each["seq"] == seq))
    return replace(bundle, records=tuple(found))


def test_a_record_changed_on_the_way_leaves_its_chain_out_by_name(rigs: Rigs) -> None:
    a, b = rigs("RIG-A", "RIG-B")
    before = ledger(a)
    merged = take_in(a, tampered(b, lambda record: record.update(hand="somebody")))
    assert (merged.written, merged.left) == ({}, (Left("RIG-B", 4, "forged"),))
    assert ledger(a)[:4] == before[:4]


@pytest.mark.parametrize(
    "change",
    [
        lambda record: record.pop("by"),
        lambda record: record.update(extra="x"),
        lambda record: record.update(body={"v": 1}),
        lambda record: record.update(kind="unheard-of"),
        lambda record: record.update(seq="4"),
        lambda record: record.update(day="someday"),
        lambda record: record.update(hand=7),
    ],
)
def test_what_is_no_record_at_all_is_forged_too(rigs: Rigs, change: Callable[[dict[str, object]], None]) -> None:
    a, b = rigs("RIG-A", "RIG-B")
    assert take_in(a, tampered(b, change)).left[0].why == "forged"
    assert a.verify() == []


def test_a_chain_whose_head_its_site_did_not_sign_is_left_out(rigs: Rigs) -> None:
    a, b, c = rigs("RIG-A", "RIG-B", "RIG-C")
    whole = b.bundle(AT)
    assert take_in(a, replace(whole, heads=())).left == (Left("RIG-B", 4, "unsigned"),)
    stranger = replace(whole.heads[0], signature=c.bundle(AT).heads[0].signature)
    assert take_in(a, replace(whole, heads=(stranger,))).left == (Left("RIG-B", 4, "unsigned"),)
    assert take_in(a, replace(whole, records=whole.records[:-1])).left == (Left("RIG-B", 3, "unsigned"),)
    assert take_in(a, whole).written == {"RIG-B": 4}


def test_two_chains_of_one_site_both_stand_aside_from_where_they_part(rigs: Rigs) -> None:
    (a, b) = rigs("RIG-A", "RIG-B")
    one, other = rigs("RIG-F", "RIG-F")
    take(a, one)
    merged = take(a, other)
    assert (merged.written, merged.left) == ({}, (Left("RIG-F", 1, "fork"),))
    assert a.forks() == {"RIG-F": 1}
    assert {row.hand for row in a.evidence_rows()} == {"hand-RIG-A"}
    assert a.verify() == []
    # Whichever comes first: the other store ends with the same evidence.
    take(b, other)
    take(b, one)
    assert b.forks() == a.forks()
    assert {row.hand for row in b.evidence_rows()} == {"hand-RIG-B"}
    # And who hears of it by way of somebody who knows counts neither of them.
    (c,) = rigs("RIG-C")
    assert Left("RIG-F", 1, "fork") in take(c, a).left
    assert c.forks() == {"RIG-F": 1}
    assert {row.hand for row in c.evidence_rows()} == {"hand-RIG-A", "hand-RIG-C"}
    assert c.verify() == []


def test_a_chain_that_says_more_of_this_site_than_it_wrote_is_left_out(rigs: Rigs) -> None:
    a, b = rigs("RIG-A", "RIG-A")
    work(b, "more")
    before = ledger(a)
    merged = take(a, b)
    assert (merged.written, merged.left) == ({}, (Left("RIG-A", 1, "own"),))
    assert ledger(a)[:4] == before[:4]


def test_doubtful_clocks_are_marked_and_nothing_is_rewritten(rigs: Rigs) -> None:
    a, b = rigs("RIG-A", "RIG-B")
    ahead = (NOW + timedelta(minutes=6)).strftime("%Y-%m-%dT%H:%M:%S.000Z")
    early = work(b, "ahead", at=ahead)
    back = work(b, "back", at="2026-03-02T12:00:30.000Z")
    near = work(b, "near", at=(NOW + timedelta(minutes=4)).strftime("%Y-%m-%dT%H:%M:%S.000Z"))
    merged = take(a, b)
    marks = a.doubtful()
    assert (marks[early], marks[back]) == ("ahead", "back")
    assert near not in marks
    assert merged.doubtful == len(marks) == 4
    assert a.record(early) == b.record(early)
    assert a.verify() == []


def test_an_id_that_stands_for_another_sites_record_is_not_taken(rigs: Rigs) -> None:
    a, b = rigs("RIG-A", "RIG-B")
    record_id = work(a, "ana")
    with b.transaction() as writing:
        writing.append(new(Outside("set-slips", "outside-practical", "pass", "bb"), "ana", record_id=record_id))
    assert take(a, b).left == (Left("RIG-B", 5, "forged"),)
    assert a.verify() == []


def lines_of(packed: bytes) -> list[bytes]:
    return gzip.decompress(packed).splitlines(keepends=True)


def test_the_same_bundle_is_the_same_file_and_comes_back_as_it_was(rigs: Rigs) -> None:
    (a,) = rigs("RIG-A")
    with a.transaction() as writing:
        writing.keep_text("slips sat crooked", "hand-RIG-A")
    bundle = a.bundle(AT)
    packed = pack(bundle, a.keys)
    assert pack(a.bundle(AT), a.keys) == packed
    assert unpack(packed) == bundle
    assert json.loads(lines_of(packed)[0])["site"] == "RIG-A"


def test_a_bundle_changed_or_cut_after_it_was_made_is_refused_whole(rigs: Rigs) -> None:
    (a,) = rigs("RIG-A")
    lines = lines_of(pack(a.bundle(AT), a.keys))
    broken = (
        b"".join(lines[:-1]),
        b"".join([*lines[:3], *lines[4:]]),
        b"".join([lines[0], lines[1].replace(b"RIG-A", b"RIG-B"), *lines[2:]]),
        b"".join([lines[0].replace(b"RIG-A", b"RIG-B"), *lines[1:]]),
    )
    for each in broken:
        with pytest.raises(BadInput, match="bundle-changed"):
            unpack(gzip.compress(each))


def test_what_is_no_bundle_is_said_to_be_none(rigs: Rigs) -> None:
    (a,) = rigs("RIG-A")
    packed = pack(a.bundle(AT), a.keys)
    half = packed[: len(packed) // 2]
    for each in (b"", b"not a bundle", gzip.compress(b"{}\n{}\n"), gzip.compress(b"\xff\n"), half):
        with pytest.raises(BadInput, match=r"bundle-form|bundle-changed"):
            unpack(each)
    with pytest.raises(BadInput, match="bundle-newer"):
        unpack(gzip.compress(lines_of(packed)[0].replace(b'"bundle":1', b'"bundle":2') + b"{}\n"))
