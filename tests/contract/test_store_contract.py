"""What every dialect of the store must do."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import jcs
import pytest
import sqlalchemy

from tests.contract import ledgers
from tests.contract.ledgers import DAY, SITE, new, observation, quiz, tailgate
from trainer.core.records import (
    GENESIS,
    Body,
    Effect,
    EvidenceRow,
    Joined,
    Key,
    Left,
    Moved,
    Outside,
    Part,
    SiteFigures,
    StoodDown,
    Void,
)
from trainer.errors import BadInput, NotFound, Refused, StoreDamaged, StoreExists
from trainer.settings import Settings
from trainer.store import Draft, NewRecord, Person, Store, create, open_store, record_json
from trainer.store.coding import digest


def append(store: Store, record: NewRecord) -> str:
    with store.transaction() as writing:
        return writing.append(record).record_id


def test_a_new_site_begins_with_its_figures_and_its_key(store: Store) -> None:
    first, second = store.records()
    assert (first.seq, first.kind, first.prev) == (1, "site", GENESIS)
    assert (second.seq, second.kind, second.prev) == (2, "key", first.hash)
    assert second.body == Key(store.keys.public())
    assert store.site_figures() == ledgers.FIGURES
    assert store.tz == "America/Chicago"
    assert store.verify() == []


def test_records_are_chained_by_a_hash_that_another_implementation_finds_too(store: Store) -> None:
    ledgers.lively(store)
    prev = GENESIS
    for place, record in enumerate(store.records(), start=1):
        fields = record_json(record)
        assert fields.pop("hash") == record.hash == digest(jcs.canonicalize(fields))
        assert (record.seq, record.prev, record.site) == (place, prev, SITE)
        prev = record.hash
    assert store.heads()[0].hash == prev


def test_what_append_returns_is_what_is_read_later(store: Store) -> None:
    with store.transaction() as writing:
        written = writing.append(new(observation({"set-slips": "clean"}), "h1"))
        assert writing.record(written.record_id) == written
    assert store.record(written.record_id) == written
    assert list(store.records(kinds=("observation",))) == [written]
    assert list(store.records(hand="h1")) == [written]
    assert list(store.records(site="elsewhere")) == []


def test_many_records_come_page_by_page_in_their_order(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("trainer.store.ledger.PAGE", 3)
    ledgers.lively(store)
    assert [record.seq for record in store.records()] == list(range(1, 15))
    assert [record.kind for record in store.records(kinds=("stood-down",))] == ["stood-down"] * 3


def test_the_same_id_returns_the_first_record_and_writes_nothing(store: Store) -> None:
    record = new(quiz(), "h1")
    with store.transaction() as writing:
        first = writing.append(record)
        again = writing.append(replace(record, at="2026-03-02T07:00:00.000Z", day=date(2026, 3, 3)))
    digest_before = store.heads_digest()
    assert again == first
    assert append(store, record) == first.record_id
    assert store.heads_digest() == digest_before
    assert len(store.evidence_rows()) == 1


@pytest.mark.parametrize(
    "other", [new(quiz(passed=False), "h1"), new(quiz(), "h2"), new(tailgate(), "h1")], ids=["body", "hand", "kind"]
)
def test_the_same_id_with_something_else_is_refused(store: Store, other: NewRecord) -> None:
    record_id = append(store, new(quiz(), "h1"))
    with pytest.raises(Refused, match="record-differs"):
        append(store, replace(other, record_id=record_id))
    assert len(list(store.records())) == 3


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("record_id", "17"),
        ("record_id", "00000000-0000-4000-8000-000000000001"),
        ("kind", "quiz"),
        ("kind", "unheard-of"),
        ("at", "2026-03-02 06:00"),
        ("by", "Ana Bell"),
        ("hand", "a hand"),
        ("hand", None),
    ],
)
def test_a_record_that_cannot_be_one_is_refused(store: Store, field: str, value: str | None) -> None:
    with pytest.raises(BadInput, match="record-form"):
        append(store, replace(new(Joined("day-1", "floorhand"), "h1"), **{field: value}))  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("body", "error"),
    [
        (replace(quiz(), points="1"), StoreDamaged),  # type: ignore[arg-type]
        (SiteFigures({"load": 1.5}, "UTC"), TypeError),  # type: ignore[dict-item]
        (replace(quiz(), points=2**53), ValueError),
    ],
    ids=["type", "float", "too large"],
)
def test_a_body_that_has_no_one_form_is_refused(store: Store, body: Body, error: type[Exception]) -> None:
    with pytest.raises(error):
        append(store, new(body, "h1"))
    assert len(list(store.records())) == 2
    assert store.verify() == []


def test_the_database_itself_refuses_to_change_or_delete_a_record(store: Store) -> None:
    for statement in ("UPDATE records SET kind = 'void'", "DELETE FROM records"):
        with pytest.raises(sqlalchemy.exc.DBAPIError, match="never changed"), store.transaction() as writing:
            writing._open.execute(sqlalchemy.text(statement))
    assert store.verify() == []


def test_an_exception_in_a_transaction_leaves_nothing_of_it(store: Store) -> None:
    def work() -> None:
        with store.transaction() as writing:
            writing.append(new(quiz(), "h1"))
            writing.put_person(Person("h1", "Ana Bell"))
            raise RuntimeError

    with pytest.raises(RuntimeError):
        work()
    assert (len(list(store.records())), store.people(), store.evidence_rows()) == (2, {}, [])
    assert store.verify() == []


def test_evidence_and_stays_are_written_with_their_record(store: Store) -> None:
    with store.transaction() as writing:
        writing.append(new(Joined("day-1", "floorhand"), "h1"))
        writing.append(new(observation({"set-slips": "clean", "pull-slips": "not yet"}), "h1"))
        assert len(writing.evidence_rows()) == 2
    told = [(row.competency, row.part, row.effect, row.by) for row in store.evidence_rows()]
    assert told == [
        ("pull-slips", Part.PRACTICAL, Effect.FAIL, "obs"),
        ("set-slips", Part.PRACTICAL, Effect.PASS, "obs"),
    ]
    (stay,) = store.stay_rows()
    assert (stay.hand, stay.kind, stay.crew, stay.position, stay.day) == ("h1", "joined", "day-1", "floorhand", DAY)


def test_a_clock_that_runs_back_counts_as_no_earlier_than_before(store: Store) -> None:
    late, early = "2026-03-02T09:00:00.000Z", "2026-03-02T08:00:00.000Z"
    append(store, new(quiz(), "h1", at=late))
    append(store, new(quiz(passed=False), "h1", at=early))
    assert [(row.seq, row.at) for row in store.evidence_rows()] == [(3, late), (4, late)]
    assert [record.at for record in store.records(kinds=("quiz",))] == [late, early]
    assert store.verify() == []


def test_rows_come_by_day_then_time_then_place(store: Store) -> None:
    append(store, new(quiz(), "h1", day=date(2026, 3, 2)))
    append(store, new(quiz(), "h2", day=date(2026, 1, 9)))
    append(store, new(quiz(), "h3", day=date(2026, 3, 2)))
    assert [row.hand for row in store.evidence_rows()] == ["h2", "h1", "h3"]


def test_only_what_is_new_can_be_read(store: Store) -> None:
    append(store, new(quiz(), "h1"))
    append(store, new(Joined("day-1", "floorhand"), "h1"))
    known = {head.site: head.seq for head in store.heads()}
    assert (store.evidence_rows(after=known), store.stay_rows(after=known)) == ([], [])
    append(store, new(quiz(), "h2"))
    append(store, new(Left(), "h1"))
    assert [row.hand for row in store.evidence_rows(after=known)] == ["h2"]
    assert [row.kind for row in store.stay_rows(after=known)] == ["left"]
    assert len(store.evidence_rows(after={"elsewhere": 9})) == 2


def test_what_is_read_by_steps_is_what_is_read_at_once(store: Store) -> None:
    known: dict[str, int] = {}
    kept: dict[tuple[str, str], EvidenceRow] = {}
    for step in (ledgers.lively, ledgers.lively):
        step(store)
        kept |= {(row.record_id, row.competency): row for row in store.evidence_rows(after=known)}
        gone = store.gone(after=known)
        kept = {key: row for key, row in kept.items() if key[0] not in gone}
        known = {head.site: head.seq for head in store.heads()}
    assert sorted(kept) == sorted((row.record_id, row.competency) for row in store.evidence_rows())


def test_only_some_hands_can_be_read(store: Store) -> None:
    ledgers.lively(store)
    assert {row.hand for row in store.evidence_rows(hands=("h2", "h9"))} == {"h2"}
    assert {row.hand for row in store.stay_rows(hands=("h1",))} == {"h1"}
    assert store.stay_rows(hands=()) == []


def test_a_void_takes_the_rows_of_its_record_out(store: Store) -> None:
    quiz_id, moved_id = append(store, new(quiz(), "h1")), append(store, new(Moved("day-1", "driller"), "h1"))
    voids = {each: append(store, new(Void(each, "aa"), "h1")) for each in (quiz_id, moved_id)}
    assert (store.evidence_rows(), store.stay_rows()) == ([], [])
    assert store.voids() == voids
    assert store.gone(after={SITE: 5}) == {moved_id}
    assert store.record(quiz_id) is not None
    assert store.verify() == []


def test_a_voided_observation_takes_its_stand_downs_with_it_and_no_other(store: Store) -> None:
    seen = append(store, new(observation({"set-slips": "not yet"}), "h1"))
    with_it = append(store, new(StoodDown("set-slips", None, seen), "h1"))
    other = append(store, new(StoodDown("set-slips", None), "h1"))
    void = append(store, new(Void(seen, "aa"), "h1"))
    assert [row.record_id for row in store.evidence_rows()] == [other]
    assert store.voids() == {seen: void, with_it: void}
    with pytest.raises(Refused, match="void-already"):
        append(store, new(Void(with_it, "aa"), "h1"))
    assert store.verify() == []


def test_a_stand_down_voided_before_its_observation_stays_under_its_own_void(store: Store) -> None:
    seen = append(store, new(observation({"set-slips": "not yet"}), "h1"))
    with_it = append(store, new(StoodDown("set-slips", None, seen), "h1"))
    first, second = append(store, new(Void(with_it, "aa"), "h1")), append(store, new(Void(seen, "aa"), "h1"))
    assert store.voids() == {with_it: first, seen: second}
    assert store.verify() == []


def test_a_stand_down_with_an_observation_that_is_voided_already_is_refused(store: Store) -> None:
    seen = append(store, new(observation({"set-slips": "not yet"}), "h1"))
    append(store, new(Void(seen, "aa"), "h1"))
    with pytest.raises(Refused, match="void-already"):
        append(store, new(StoodDown("set-slips", None, seen), "h1"))
    assert store.verify() == []


def test_voids_of_a_void_of_the_unknown_and_of_what_holds_the_chain_are_refused(store: Store) -> None:
    void = append(store, new(Void(append(store, new(quiz(), "h1")), "aa"), "h1"))
    before = store.heads()
    with pytest.raises(Refused, match="void-kind"):
        append(store, new(Void(void, "aa")))
    with pytest.raises(Refused, match="void-kind"):
        append(store, new(Void(next(store.records()).record_id, "aa")))
    with pytest.raises(NotFound, match="no-record"):
        append(store, new(Void(next(ledgers.IDS), "aa")))
    assert store.heads() == before


def test_the_last_site_record_gives_the_figures(store: Store) -> None:
    append(store, new(SiteFigures({"crews": {}}, "Asia/Dubai")))
    assert (store.tz, dict(store.site_figures().site)) == ("Asia/Dubai", {"crews": {}})


def test_the_digest_changes_with_every_record_and_with_nothing_else(store: Store) -> None:
    first = store.heads_digest()
    with store.transaction() as writing:
        writing.put_person(Person("h1", "Ana Bell"))
    assert store.heads_digest() == first
    append(store, new(quiz(), "h1"))
    assert store.heads_digest() != first


def test_a_store_reopens_as_it_was(store: Store, place: Settings) -> None:
    ledgers.lively(store)
    store.close()
    again = open_store(place)
    assert (again.site, again.store_id, again.heads()) == (SITE, store.store_id, store.heads())
    assert again.verify() == []
    again.close()


def test_a_second_site_in_the_same_place_is_refused_and_the_first_kept(store: Store, place: Settings) -> None:
    with pytest.raises(StoreExists):
        create(place, "OTHER", ledgers.fill)
    assert [record.kind for record in store.records()] == ["site", "key"]


def test_names_are_kept_in_their_composed_form(store: Store) -> None:
    with store.transaction() as writing:
        written = writing.put_person(Person("h1", "  Jose\u0301   Nguye\u0302\u0303n ", "es", "new"))
        writing.put_person(Person("h1", written.name, "en"))
    assert written.name == "José Nguyễn"
    assert store.person("h1") == Person("h1", "José Nguyễn", "en", "")
    assert store.person("h2") is None


@pytest.mark.parametrize(
    "person",
    [Person("a b", "Ana"), Person("", "Ana"), Person("x" * 33, "Ana"), Person("console", "Ana"), Person("h1\n", "Ana")],
)
def test_a_hand_id_that_cannot_be_one_is_refused(store: Store, person: Person) -> None:
    with pytest.raises(BadInput, match="hand-id"), store.transaction() as writing:
        writing.put_person(person)


@pytest.mark.parametrize("name", ["", " \t", "Ana\x07", "x" * 121])
def test_a_name_that_cannot_be_one_is_refused(store: Store, name: str) -> None:
    with pytest.raises(BadInput, match="name-form"), store.transaction() as writing:
        writing.put_person(Person("h1", name))


def test_one_text_has_one_key_for_one_hand(store: Store) -> None:
    with store.transaction() as writing:
        key, again = writing.keep_text("Lee, other rig"), writing.keep_text("Lee, other rig")
        about = writing.keep_text("Lee, other rig", "h1")
    assert key == again != about
    assert (store.text(key), store.text(about), store.text("0" * 64)) == ("Lee, other rig", "Lee, other rig", None)


def test_somebody_forgotten_leaves_records_that_still_verify(store: Store) -> None:
    with store.transaction() as writing:
        writing.put_person(Person("h1", "Ana Bell"))
        note, other = writing.keep_text("gloves off", "h1"), writing.keep_text("kept", "h2")
        writing.append(new(Outside("set-slips", "knowledge", "pass", "obs", note), "h1"))
        writing.put_pin("h1", "hash", ledgers.AT)
        writing.put_draft(Draft("d1", "h1", "quiz", "set-slips", {}, ledgers.AT, ledgers.AT))
        writing.open_session("s", "h1", "tablet", 0)
    with store.transaction() as writing:
        writing.forget("h1")
    store.scrub()
    assert (store.person("h1"), store.text(note), store.text(other)) == (None, None, "kept")
    assert (store.pin("h1"), store.draft("d1"), store.session("s")) == (None, None, None)
    assert len(store.evidence_rows()) == 1
    assert store.verify() == []


DRAFT = Draft("d1", "h1", "quiz", "set-slips", {"seed": "s", "n": [1, None]}, ledgers.AT, ledgers.AT)


def test_a_draft_is_kept_over_itself_with_its_answers(store: Store) -> None:
    with store.transaction() as writing:
        writing.put_draft(DRAFT)
        assert writing.keep_answer("d1", 0, "x")
        writing.put_draft(replace(DRAFT, touched="2026-03-02T06:05:00.000Z"))
    assert store.draft("d1") == replace(DRAFT, touched="2026-03-02T06:05:00.000Z")
    assert store.answers("d1") == {0: ("x", False)}
    assert [draft.draft_id for draft in store.drafts(owner="h1", kind="quiz", subject="set-slips")] == ["d1"]
    assert store.drafts(owner="h2") == ()


def test_the_first_final_answer_wins(store: Store) -> None:
    with store.transaction() as writing:
        writing.put_draft(DRAFT)
        assert writing.keep_answer("d1", 0, ("b", "a"))
        assert writing.keep_answer("d1", 0, ("a",))
        assert writing.settle_answer("d1", 0, {"spot": ("t1", "t2")})
        assert not writing.settle_answer("d1", 0, "x")
        assert not writing.keep_answer("d1", 0, "x")
        assert writing.settle_answer("d1", 1, "x")
    assert store.answers("d1") == {0: ({"spot": ["t1", "t2"]}, True), 1: ("x", True)}


def test_a_dropped_draft_takes_its_answers_along(store: Store) -> None:
    with store.transaction() as writing:
        writing.put_draft(DRAFT)
        writing.settle_answer("d1", 0, "x")
        writing.drop_draft("d1")
        with pytest.raises(NotFound, match="no-draft"):
            writing.settle_answer("d1", 0, "x")
    assert (store.draft("d1"), store.answers("d1")) == (None, {})


def test_another_hands_draft_is_not_written_over(store: Store) -> None:
    with store.transaction() as writing:
        writing.put_draft(DRAFT)
    with pytest.raises(Refused, match="not-yours"), store.transaction() as writing:
        writing.put_draft(replace(DRAFT, owner="h2"))
    assert store.draft("d1") == DRAFT


def test_what_was_chosen_on_a_screen_is_kept_by_person(store: Store) -> None:
    with store.transaction() as writing:
        writing.put_view("h1", "matrix", {"crew": "day-1"})
        writing.put_view("h1", "matrix", {"crew": "day-2"})
    assert (store.view("h1", "matrix"), store.view("h2", "matrix")) == ({"crew": "day-2"}, None)
