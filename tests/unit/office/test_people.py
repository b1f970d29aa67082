"""A roster takes people in, moves them, and refuses to change what is on record."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from tests.unit.office.small_site import NOON, TODAY, desk_of, rows
from trainer.actions import people, signing_in, voiding
from trainer.actions.desk import Desk
from trainer.core.crewlist import RosterPlan
from trainer.errors import BadTable, NotFound, Refused
from trainer.store import Store

ALL = "hand_id,name,position,crew,joined,left,language"
ANN = "h1,Ann Webb,floorhand,day-1,2025-06-01,,en"


def run(desk: Desk, *lines: str, columns: str = ALL) -> RosterPlan:
    return people.apply_roster(desk, people.preview_roster(desk, rows(columns, *lines)))


def stays(desk: Desk) -> list[tuple[str, str, str, str, str]]:
    return [(row.hand, row.kind, row.day.isoformat(), row.crew, row.position) for row in desk.store.stay_rows()]


def refused(desk: Desk, *lines: str, columns: str = ALL) -> list[tuple[int, str, str]]:
    before = desk.store.heads_digest(), desk.store.people()
    with pytest.raises(BadTable) as caught:
        run(desk, *lines, columns=columns)
    assert (desk.store.heads_digest(), desk.store.people()) == before
    return [(cell.row, cell.column, cell.code) for cell in caught.value.cells]


def test_somebody_new_is_a_person_and_a_joined_on_that_day(desk: Desk) -> None:
    plan = run(desk, ANN)
    assert [change.hand_id for change in plan.new] == ["h1"]
    assert stays(desk) == [("h1", "joined", "2025-06-01", "day-1", "floorhand")]
    assert desk.store.people()["h1"].name == "Ann Webb"


def test_a_second_run_writes_nothing(desk: Desk) -> None:
    lines = (ANN, "h2,Bo,driller,night-1,2025-06-01,2026-09-01,es", "c1,Cy,coordinator,,2026-03-02,,")
    run(desk, *lines)
    before = desk.store.heads_digest()
    assert len(run(desk, *lines).same) == 3
    assert desk.store.heads_digest() == before


def test_names_stay_out_of_the_ledger(desk: Desk) -> None:
    run(desk, ANN)
    assert not any("Ann" in repr(record) for record in desk.store.records())


def test_another_crew_or_position_is_a_move_today(desk: Desk) -> None:
    run(desk, ANN)
    run(desk, "h1,Ann Webb,derrickhand,night-1,2025-06-01,,en")
    assert stays(desk)[-1] == ("h1", "moved", TODAY.isoformat(), "night-1", "derrickhand")


def test_a_move_before_joining_counts_from_the_day_of_joining(desk: Desk) -> None:
    run(desk, "h1,Ann,floorhand,day-1,2026-05-01,,")
    run(desk, "h1,Ann,floorhand,night-1,2026-05-01,,")
    assert stays(desk)[-1] == ("h1", "moved", "2026-05-01", "night-1", "floorhand")
    assert len(run(desk, "h1,Ann,floorhand,night-1,2026-05-01,,").same) == 1


@pytest.mark.parametrize("left", ["2025-07-01", "2026-03-02", "2026-12-24"])
def test_a_last_day_is_written_on_that_day_be_it_to_come(desk: Desk, left: str) -> None:
    run(desk, ANN)
    run(desk, f"h1,Ann Webb,floorhand,day-1,2025-06-01,{left},en")
    assert ("h1", "left", left, "", "") in stays(desk)


def test_joining_again_after_a_last_day_is_another_joined(desk: Desk) -> None:
    run(desk, "h1,Ann,floorhand,day-1,2025-06-01,2025-09-01,")
    run(desk, "h1,Ann,driller,night-1,2026-01-01,,")
    assert stays(desk)[-1] == ("h1", "joined", "2026-01-01", "night-1", "driller")
    assert len(run(desk, "h1,Ann,driller,night-1,2026-01-01,,").same) == 1


def test_a_name_or_language_changes_the_person_and_not_the_ledger(desk: Desk) -> None:
    run(desk, ANN)
    before = desk.store.heads_digest()
    plan = run(desk, "h1,Ann  Webb-Ruiz ,floorhand,day-1,2025-06-01,,ES")
    assert (desk.store.people()["h1"].name, desk.store.people()["h1"].language) == ("Ann Webb-Ruiz", "es")
    assert desk.store.heads_digest() == before
    assert [change.is_renamed for change in plan.changed] == [True]


def test_ids_are_found_as_people_write_them(desk: Desk) -> None:
    run(desk, "h1,Ann,Assistant Driller,Day 1,2025-06-01,,")
    assert stays(desk)[0][3:] == ("day-1", "assistant-driller")


def test_a_crew_may_be_empty_and_a_coordinator_has_none(desk: Desk) -> None:
    run(desk, "h1,Ann,floorhand,,2025-06-01,,", "c1,Cy,coordinator,,2025-06-01,,")
    assert [row[3] for row in stays(desk)] == ["", ""]
    assert refused(desk, "c2,Di,coordinator,day-1,2025-06-01,,") == [(2, "crew", "crew-coordinator")]


def test_columns_that_are_absent_change_nothing(desk: Desk) -> None:
    run(desk, "h1,Ann,floorhand,day-1,2025-06-01,2026-12-24,es")
    plan = run(desk, "h1,Ann,floorhand,2025-06-01", columns="hand_id,name,position,joined")
    assert len(plan.same) == 1


def test_an_empty_day_of_joining_says_nothing_about_somebody_known(desk: Desk) -> None:
    run(desk, ANN)
    assert len(run(desk, "h1,Ann Webb,floorhand,day-1,,,en").same) == 1


@pytest.mark.parametrize(
    ("line", "column", "code"),
    [
        ("h1,Ann,floorhand,day-1,2025-06-02,,", "joined", "joined-changed"),
        ("h1,Ann,floorhand,day-1,2025-05-31,,", "joined", "joined-changed"),
        ("h2,Bo,floorhand,day-1,2025-06-01,2025-09-02,", "left", "left-changed"),
        ("h2,Bo,floorhand,day-1,2025-06-01,,", "left", "left-changed"),
        ("h2,Bo,floorhand,day-1,2025-09-01,,", "joined", "joined-changed"),
        ("h2,Bo,floorhand,night-1,2025-06-01,2025-09-01,", "crew", "moved-after-left"),
        ("h2,Bo,driller,day-1,2025-06-01,2025-09-01,", "position", "moved-after-left"),
        ("h1,Ann,floorhand,night-1,2025-06-01,2026-03-01,", "crew", "moved-after-left"),
        ("h1,Ann,floorhand,day-1,2025-06-01,2025-05-31,", "left", "left-before-joined"),
        ("h3,Cy,floorhand,day-1,2026-06-01,2026-05-01,", "left", "left-before-joined"),
        ("h3,Cy,floorhand,day-1,,,", "joined", "joined-missing"),
        ("h3,Cy,floorhand,day-1,03/04/2026,,", "joined", "day-order"),
        ("h3,Cy,floorhand,day-1,24/11/2026,,", "joined", "day-turned"),
        ("h3,Cy,floorhand,day-1,24/13/2026,,", "joined", "day-none"),
        ("h3,Cy,floorhand,day-1,2026-02-30,,", "joined", "day-none"),
        ("h3,Cy,floorhand,day-1,20260201,,", "joined", "day-form"),
        ("h3,Cy,floorhand,day-1,0026-02-01,,", "joined", "day-far"),
        ("h3,Cy,roustabout,day-1,2026-02-01,,", "position", "position-unknown"),
        ("h3,Cy,,day-1,2026-02-01,,", "position", "position-missing"),
        ("h3,Cy,floorhand,day-9,2026-02-01,,", "crew", "crew-unknown"),
        ("h3,Cy,floorhand,day-1,2026-02-01,,fr", "language", "language-unknown"),
        ("h3,,floorhand,day-1,2026-02-01,,", "name", "name-missing"),
        ("h 3,Cy,floorhand,day-1,2026-02-01,,", "hand_id", "hand-form"),
        (f"{'h' * 33},Cy,floorhand,day-1,2026-02-01,,", "hand_id", "hand-form"),
        ("Console,Cy,floorhand,day-1,2026-02-01,,", "hand_id", "hand-taken"),
        (",Cy,floorhand,day-1,2026-02-01,,", "hand_id", "hand-missing"),
    ],
)
def test_what_cannot_be_is_refused_by_its_cell_and_nothing_is_written(
    desk: Desk, line: str, column: str, code: str
) -> None:
    run(desk, "h1,Ann,floorhand,day-1,2025-06-01,,", "h2,Bo,floorhand,day-1,2025-06-01,2025-09-01,")
    assert refused(desk, "n1,Newcomer,floorhand,day-1,2026-02-01,,", line) == [(3, column, code)]


def test_every_bad_row_is_told_at_once_in_row_order(desk: Desk) -> None:
    told = refused(
        desk, "h 1,,rigger,day-1,2025-06-01,2025-05-31,", ANN, "h2,Bo,floorhand,day-1,soon,,",
        "h1,Ann,floorhand,,2025-06-01,,",
    )  # fmt: skip
    assert told == [
        (2, "hand_id", "hand-form"),
        (2, "name", "name-missing"),
        (2, "position", "position-unknown"),
        (2, "left", "left-before-joined"),
        (4, "joined", "day-form"),
        (5, "hand_id", "hand-twice"),
    ]


def test_a_day_on_record_is_told_beside_what_else_is_wrong_with_the_row(desk: Desk) -> None:
    run(desk, "h1,Ann,floorhand,day-1,2025-06-01,,", "h2,Bo,floorhand,day-1,2025-06-01,2025-09-01,")
    assert refused(desk, "h1,Ann,florhand,day-1,2025-05-20,2025-05-10,", "h2,Bo,florhand,,2025-06-01,2025-09-01,") == [
        (2, "position", "position-unknown"),
        (2, "joined", "joined-changed"),
        (2, "left", "left-before-joined"),
        (3, "position", "position-unknown"),
    ]


def test_a_last_day_before_the_last_move_is_refused(desk: Desk) -> None:
    run(desk, ANN)
    run(desk, "h1,Ann Webb,floorhand,night-1,2025-06-01,,en")
    assert refused(desk, "h1,Ann Webb,floorhand,night-1,2025-06-01,2026-03-01,en") == [(2, "left", "left-before-moved")]


def test_a_day_on_record_is_changed_by_voiding_it_first(desk: Desk) -> None:
    run(desk, "h1,Ann,floorhand,day-1,2025-06-01,2025-09-01,")
    left = next(record for record in desk.store.records(kinds=("left",)))
    voiding.void(desk, left.record_id, "typed wrong")
    run(desk, "h1,Ann,floorhand,day-1,2025-06-01,2025-10-01,")
    assert stays(desk)[-1] == ("h1", "left", "2025-10-01", "", "")


def test_somebody_erased_is_not_brought_back_by_an_old_file(desk: Desk) -> None:
    run(desk, ANN)
    with desk.store.transaction() as writing:
        writing.forget("h1")
    assert refused(desk, ANN) == [(2, "hand_id", "hand-erased")]


def test_the_same_name_under_another_id_is_pointed_out_and_accepted(desk: Desk) -> None:
    run(desk, "h1,José Ruiz,floorhand,day-1,2025-06-01,,")
    plan = run(desk, "h2,jose  ruiz,floorhand,day-1,2025-06-01,,")
    assert [(cell.row, cell.column, cell.code) for cell in plan.remarks] == [(2, "name", "name-near")]
    assert "h2" in desk.store.people()


def test_a_plan_is_made_again_on_what_the_ledger_holds_by_then(desk: Desk) -> None:
    plan = people.preview_roster(desk, rows(ALL, ANN))
    run(desk, ANN)
    before = desk.store.heads_digest()
    people.apply_roster(desk, plan)
    assert desk.store.heads_digest() == before


def test_one_person_at_a_time_follows_the_same_rules(desk: Desk, store: Store) -> None:
    people.add_person(desk, "h1", "Ann", "floorhand", "day-1", date(2026, 1, 5))
    people.move(desk, "h1", "night-1", "derrickhand")
    people.rename(desk, "h1", "Ann Webb", "es")
    people.leave(desk, "h1", date(2026, 4, 1))
    assert [row[1:] for row in stays(desk)] == [
        ("joined", "2026-01-05", "day-1", "floorhand"),
        ("moved", "2026-03-02", "night-1", "derrickhand"),
        ("left", "2026-04-01", "", ""),
    ]
    assert (desk.store.people()["h1"].name, desk.store.people()["h1"].language) == ("Ann Webb", "es")
    later = desk_of(store, now=NOON + timedelta(days=60))
    with pytest.raises(BadTable):
        people.move(later, "h1", "day-1", "derrickhand")
    with pytest.raises(Refused, match="hand-exists"):
        people.add_person(desk, "h1", "Ann", "floorhand")
    with pytest.raises(NotFound, match="no-hand"):
        people.move(desk, "nobody", "", "floorhand")


def test_somebody_added_without_a_day_joins_today(desk: Desk) -> None:
    people.add_person(desk, "h1", "Ann", "floorhand")
    assert stays(desk) == [("h1", "joined", TODAY.isoformat(), "", "floorhand")]


def test_everybody_is_listed_by_name_with_pin_and_open_code(desk: Desk, store: Store) -> None:
    run(desk, "h2,bea,floorhand,day-1,2026-01-05,,en", ANN, "h3,Cy,floorhand,,2026-03-01,2026-03-02,en")
    with store.transaction() as writing:
        writing.put_pin("h1", store.keys.pin_hash("739154"), desk.at)
    signing_in.new_code(desk, "h2")
    listed = people.listed(desk)
    assert [(each.hand, each.has_pin, each.code_until is not None) for each in listed] == [
        ("h1", True, False),
        ("h2", False, True),
        ("h3", False, False),
    ]
    assert [each.is_here(TODAY + timedelta(days=1)) for each in listed] == [True, True, False]
    a_day_later = desk_of(store, now=NOON + timedelta(hours=24, seconds=1))
    assert all(each.code_until is None for each in people.listed(a_day_later))
