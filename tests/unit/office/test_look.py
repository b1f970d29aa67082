"""Everybody reads what is theirs: the matrix, a card with one next thing, the records behind a cell."""

from __future__ import annotations

from datetime import date

import pytest

from tests.unit.office.small_site import acting, rows
from trainer.actions import importing, look, people, voiding
from trainer.actions.desk import COORDINATOR, DRILLER, HAND, Desk
from trainer.actions.look import NextThing
from trainer.core.standing import Standing
from trainer.errors import NotFound, Refused

CREW = (
    "h1,Ann,floorhand,day-1,2025-06-01",
    "h2,Bo,derrickhand,day-1,2025-06-01",
    "d1,Di,driller,day-1,2025-06-01",
    "c1,Cy,coordinator,,2025-06-01",
)

NIGHT = "n1,Nia,floorhand,night-1,2025-07-01"


@pytest.fixture(autouse=True)
def crew(desk: Desk) -> None:
    people.apply_roster(desk, people.preview_roster(desk, rows("hand_id,name,position,crew,joined", *CREW)))


def bring(desk: Desk, *lines: str) -> None:
    importing.import_evidence(desk, rows("hand_id,competency,part,day,outcome,by,note", *lines))


def next_of(desk: Desk, hand: str) -> NextThing | None:
    return look.card(desk, hand).next


def test_the_matrix_has_a_cell_for_each_needed_competency(desk: Desk) -> None:
    found = [(cell.hand, cell.competency) for cell in look.matrix(desk).cells()]
    assert found == [("h1", "grip"), ("h1", "calls"), ("h2", "grip")]


def test_the_matrix_on_another_day_is_the_same_function(desk: Desk) -> None:
    assert look.matrix(desk, date(2025, 5, 31)).cells() == []
    assert look.matrix(desk, date(2030, 1, 1)).as_of == date(2030, 1, 1)


def test_a_hand_never_gets_another_hands_rows(desk: Desk) -> None:
    hand = acting(desk, "h1", HAND)
    assert [cell.hand for cell in look.card(hand, "h1").cells] == ["h1", "h1"]
    for read in (look.matrix, look.names, look.records, look.verify):
        with pytest.raises(Refused, match="may-not"):
            read(hand)
    with pytest.raises(Refused, match="not-yours"):
        look.card(hand, "h2")
    with pytest.raises(Refused, match="not-yours"):
        look.evidence_of(hand, "h2", "grip")


def test_a_driller_sees_everybodys_card_but_no_ledger(desk: Desk) -> None:
    driller = acting(desk, "d1", DRILLER)
    assert look.card(driller, "h2").name == "Bo"
    with pytest.raises(Refused, match="may-not"):
        look.records(driller)


def test_who_needs_nothing_has_an_empty_card(desk: Desk) -> None:
    card = look.card(desk, "c1")
    assert (card.position, card.cells, card.next) == ("coordinator", (), None)


def test_nobody_has_no_card(desk: Desk) -> None:
    with pytest.raises(NotFound, match="no-hand"):
        look.card(desk, "nobody")


def test_the_next_thing_of_somebody_new_is_the_first_lesson(desk: Desk) -> None:
    assert next_of(desk, "h1") == NextThing("lesson", "grip")


def test_after_the_quiz_the_next_thing_is_a_sign_off(desk: Desk) -> None:
    bring(desk, "h1,grip,knowledge,2026-02-01,pass,h1,")
    assert next_of(desk, "h1") == NextThing("sign-off", "grip")


def test_what_waits_for_another_competency_is_not_next(desk: Desk) -> None:
    bring(desk, "h1,calls,practical,2026-02-01,pass,d1,")
    assert next_of(desk, "h1") == NextThing("lesson", "grip")


def test_a_refresher_is_the_quiz_and_not_the_lesson(desk: Desk) -> None:
    bring(desk, "h2,grip,knowledge,2025-02-01,pass,h2,", "h2,grip,practical,2026-02-01,pass,d1,")
    assert look.card(desk, "h2").cells[0].standing is Standing.OVERDUE
    assert next_of(desk, "h2") == NextThing("quiz", "grip")


def test_stood_down_the_next_thing_is_the_driller(desk: Desk) -> None:
    bring(desk, "h1,calls,stood-down,2026-02-01,,d1,")
    assert next_of(desk, "h1") == NextThing("see-driller", "calls")


def test_with_all_held_there_is_nothing_to_do(desk: Desk) -> None:
    bring(desk, "h2,grip,knowledge,2026-02-01,pass,h2,", "h2,grip,practical,2026-02-01,pass,d1,")
    assert next_of(desk, "h2") is None


def test_the_records_behind_a_cell_are_told_with_names_and_voids(desk: Desk) -> None:
    bring(
        desk,
        "h1,grip,practical,2026-01-01,fail,Sam Ito,slow",
        "h1,grip,practical,2026-01-02,pass,d1,",
        "h1,calls,practical,2026-01-02,pass,d1,",
    )
    first = next(record for record in desk.store.records(kinds=("outside",)))
    voiding.void(acting(desk, "c1", COORDINATOR), first.record_id, "wrong hand")
    later, earlier = look.evidence_of(desk, "h1", "grip")
    assert (later.effect, later.by, later.note, later.voided) == ("pass", "Di", None, None)
    assert (earlier.effect, earlier.by, earlier.note) == ("fail", "Sam Ito", "slow")
    assert earlier.voided is not None
    assert (earlier.voided.by, earlier.voided.why) == ("Cy", "wrong hand")
    assert look.evidence_of(desk, "h1", "grip", date(2026, 1, 1)) == [earlier]


def test_records_are_given_as_exactly_their_fields(desk: Desk) -> None:
    first = next(look.records(desk))
    assert list(first) == "record_id site seq at day by hand kind body prev hash".split()
    assert (first["seq"], first["prev"], first["hand"]) == (1, "0" * 64, None)


def test_a_ledger_as_it_was_written_verifies(desk: Desk) -> None:
    assert look.verify(desk) == []
    assert [(head.site, head.seq) for head in look.heads(desk)] == [("rig-7", 5)]


def test_a_crews_matrix_is_its_part_of_everybodys(desk: Desk) -> None:
    bring(desk, "h1,grip,knowledge,2026-01-10,pass,d1,", "h2,grip,practical,2026-01-10,pass,d1,")
    people.apply_roster(desk, people.preview_roster(desk, rows("hand_id,name,position,crew,joined", NIGHT)))
    for day in (date(2026, 3, 2), date(2025, 1, 1)):
        whole = look.matrix(desk, day)
        for crew in ("day-1", "night-1", "nobody's"):
            own = look.crew_matrix(desk, crew, day)
            assert own.cells() == [cell for cell in whole.cells() if cell.crew == crew]
            assert set(own.crews) <= {crew}
    assert len(look.crew_matrix(desk, "night-1").cells()) == 2
    assert look.places(desk) == (
        ("day-1", "derrickhand"), ("day-1", "driller"), ("day-1", "floorhand"), ("night-1", "floorhand"),
    )  # fmt: skip


def test_read_on_from_before_it_is_what_reading_all_of_it_gives(desk: Desk) -> None:
    bring(desk, "h1,grip,knowledge,2026-01-10,pass,d1,", "h2,grip,practical,2026-01-10,pass,d1,")
    before = look.brought_forward(desk)
    assert look.brought_forward(desk, before).evidence is before.evidence
    bring(desk, "h1,grip,practical,2025-12-01,pass,d1,", "h2,grip,knowledge,2026-02-10,fail,d1,")
    gone = next(record for record in desk.store.records(kinds=("outside",)) if record.hand == "h2")
    voiding.void(desk, gone.record_id, "typed twice")
    people.apply_roster(desk, people.preview_roster(desk, rows("hand_id,name,position,crew,joined", NIGHT)))
    after, fresh = look.brought_forward(desk, before), look.brought_forward(desk)
    assert after.moment == fresh.moment != before.moment
    assert look.matrix(desk, known=after).cells() == look.matrix(desk, known=fresh).cells()
    assert len(after.evidence) == len(fresh.evidence) == 3
    assert after.evidence.hands == fresh.evidence.hands


def test_names_of_some_hands_are_theirs_alone(desk: Desk) -> None:
    assert look.names(desk, ("h2", "zz")) == {"h2": "Bo"}
    assert look.names(desk, ()) == {}
