"""Earlier evidence comes in row by row, each row once."""

from __future__ import annotations

import pytest

from tests.unit.office.small_site import rows
from trainer.actions import importing, people, voiding
from trainer.actions.desk import Desk
from trainer.actions.importing import Imported
from trainer.core.records import Outside, Record, Reinstated, StoodDown
from trainer.errors import BadTable

ALL = "hand_id,competency,part,day,outcome,by,note"
CREW = (
    "h1,Ann Webb,floorhand,day-1,2025-06-01",
    "h2,Bo,derrickhand,day-1,2025-06-01",
    "d1,Di,driller,day-1,2025-06-01",
)


@pytest.fixture(autouse=True)
def crew(desk: Desk) -> None:
    people.apply_roster(desk, people.preview_roster(desk, rows("hand_id,name,position,crew,joined", *CREW)))


def run(desk: Desk, *lines: str, columns: str = ALL) -> Imported:
    return importing.import_evidence(desk, rows(columns, *lines))


def written(desk: Desk) -> list[Record]:
    return list(desk.store.records(kinds=("outside", "stood-down", "reinstated")))


def observers(desk: Desk) -> list[str]:
    return [
        record.body.observer for record in written(desk) if isinstance(record.body, Outside) and record.body.observer
    ]


def refused(desk: Desk, *lines: str, columns: str = ALL) -> list[tuple[int, str, str]]:
    before = desk.store.heads_digest()
    with pytest.raises(BadTable) as caught:
        run(desk, *lines, columns=columns)
    assert desk.store.heads_digest() == before
    return [(cell.row, cell.column, cell.code) for cell in caught.value.cells]


def test_each_row_is_one_record_of_its_kind_in_file_order(desk: Desk) -> None:
    run(
        desk,
        "h1,grip,practical,2025-07-02,pass,d1,",
        "h1,grip,stood-down,2025-07-01,pass,d1,let go late",
        "h1,grip,reinstated,2025-07-03,,d1,talked through",
        "h1,grip,outside-knowledge,2024-01-01,fail,h1,",
    )
    records = written(desk)
    assert [record.kind for record in records] == ["outside", "stood-down", "reinstated", "outside"]
    assert [(record.by, record.hand) for record in records] == [("console", "h1")] * 4
    first, down, up, last = (record.body for record in records)
    assert first == Outside("grip", "practical", "pass", "d1")
    assert isinstance(down, StoodDown)
    assert isinstance(up, Reinstated)
    assert (desk.store.text(down.why or ""), desk.store.text(up.done or "")) == ("let go late", "talked through")
    assert last == Outside("grip", "outside-knowledge", "fail", "h1")


def test_evidence_is_by_whom_the_file_names(desk: Desk) -> None:
    run(desk, "h1,grip,practical,2025-07-02,pass,d1,", "h1,grip,stood-down,2025-07-01,,h2,")
    assert [row.by for row in desk.store.evidence_rows()] == ["h2", "d1"]


def test_one_outside_person_is_one_person_however_spelt_and_in_whatever_file(desk: Desk) -> None:
    run(
        desk,
        "h1,grip,practical,2025-07-01,pass,José Pérez,",
        "h2,grip,practical,2025-07-02,pass,JOSE  PEREZ,",
        "h2,grip,practical,2025-07-02,pass,Sam Ito,",
    )
    run(desk, "h2,grip,practical,2025-07-03,pass,José Pérez,")
    first, second, other, again = observers(desk)
    assert first == second == again != other
    assert desk.store.text(first) == "José Pérez"
    assert not any("rez" in repr(record) or "Ito" in repr(record) for record in desk.store.records())


def test_a_second_run_writes_nothing(desk: Desk) -> None:
    lines = (
        "h1,grip,practical,2025-07-01,pass,Sam Ito,good",
        "h1,grip,practical,2025-07-01,pass,Sam Ito,good",
        "h1,grip,stood-down,2025-07-05,,d1,",
        "h1,grip,reinstated,2025-07-06,,d1,why",
    )
    assert run(desk, *lines) == Imported(4, 0, ())
    before = desk.store.heads_digest()
    assert run(desk, *lines) == Imported(0, 4, ())
    assert desk.store.heads_digest() == before


def test_the_nth_equal_row_matches_the_nth_already_there(desk: Desk) -> None:
    line = "h1,grip,practical,2025-07-01,pass,d1,"
    run(desk, line)
    assert run(desk, line, line, line) == Imported(2, 1, ())


@pytest.mark.parametrize(
    "other",
    [
        "h1,grip,practical,2025-07-01,pass,d1,second go",
        "h1,grip,practical,2025-07-01,fail,d1,",
        "h1,grip,practical,2025-07-01,pass,h2,",
        "h1,grip,outside-practical,2025-07-01,pass,d1,",
        "h1,grip,practical,2025-07-02,pass,d1,",
        "h2,grip,practical,2025-07-01,pass,d1,",
    ],
)
def test_a_row_that_differs_anywhere_is_another_row(desk: Desk, other: str) -> None:
    run(desk, "h1,grip,practical,2025-07-01,pass,d1,")
    assert run(desk, other).written == 1


def test_running_a_file_again_does_not_bring_back_what_was_voided(desk: Desk) -> None:
    run(desk, "h1,grip,practical,2025-07-01,pass,d1,")
    voiding.void(desk, written(desk)[0].record_id, "wrong hand")
    assert run(desk, "h1,grip,practical,2025-07-01,pass,d1,").written == 0


def test_what_the_app_wrote_itself_matches_no_row(desk: Desk) -> None:
    with desk.store.transaction() as writing:
        writing.append(desk.new_record(StoodDown("grip"), hand="h1"))
    assert run(desk, "h1,grip,stood-down,2026-03-02,,console,").written == 1


def test_words_are_found_as_people_write_them(desk: Desk) -> None:
    run(desk, "h1,Grip,Outside practical,2025-07-01,PASS,d1,")
    assert written(desk)[0].body == Outside("grip", "outside-practical", "pass", "d1")


def test_outcome_and_note_may_lack_where_no_row_needs_them(desk: Desk) -> None:
    assert run(desk, "h1,grip,stood-down,2025-07-01,d1", columns="hand_id,competency,part,day,by").written == 1


@pytest.mark.parametrize(
    ("line", "column", "code"),
    [
        ("h9,grip,practical,2025-07-01,pass,d1,", "hand_id", "hand-unknown"),
        (",grip,practical,2025-07-01,pass,d1,", "hand_id", "hand-missing"),
        ("h1,grasp,practical,2025-07-01,pass,d1,", "competency", "competency-unknown"),
        ("h1,,practical,2025-07-01,pass,d1,", "competency", "competency-missing"),
        ("h1,grip,theory,2025-07-01,pass,d1,", "part", "part-unknown"),
        ("h1,grip,,2025-07-01,pass,d1,", "part", "part-missing"),
        ("h1,grip,practical,2026-03-03,pass,d1,", "day", "day-future"),
        ("h1,grip,practical,,pass,d1,", "day", "day-missing"),
        ("h1,grip,practical,1/7/2025,pass,d1,", "day", "day-order"),
        ("h1,grip,practical,2025-07-01,good,d1,", "outcome", "outcome-unknown"),
        ("h1,grip,practical,2025-07-01,,d1,", "outcome", "outcome-missing"),
        ("h1,grip,practical,2025-07-01,pass,,", "by", "by-missing"),
        ("h1,grip,practical,2025-07-01,pass,h1,", "by", "by-himself"),
        ("h1,grip,outside-practical,2025-07-01,pass,h1,", "by", "by-himself"),
        ("h1,grip,practical,2025-07-01,pass,ann  webb,", "by", "by-himself"),
    ],
)
def test_what_cannot_be_is_refused_by_its_cell_and_nothing_is_written(
    desk: Desk, line: str, column: str, code: str
) -> None:
    assert refused(desk, "h1,grip,knowledge,2025-07-01,pass,h1,", line) == [(3, column, code)]


def test_today_is_not_yet_the_future(desk: Desk) -> None:
    assert run(desk, "h1,grip,practical,2026-03-02,pass,d1,").written == 1


def test_evidence_may_be_older_than_joining(desk: Desk) -> None:
    assert run(desk, "h1,grip,practical,2019-07-01,pass,d1,").written == 1


@pytest.mark.parametrize(
    ("line", "column", "code"),
    [
        ("d1,grip,practical,2025-07-01,pass,h2,", "competency", "competency-not-needed"),
        ("h1,calls,knowledge,2025-07-01,pass,h1,", "part", "part-not-needed"),
        ("h1,grip,tailgate,2025-07-01,pass,d1,", "part", "part-not-needed"),
    ],
)
def test_what_is_not_needed_is_kept_with_a_remark(desk: Desk, line: str, column: str, code: str) -> None:
    done = run(desk, line)
    assert [(cell.row, cell.column, cell.code) for cell in done.remarks] == [(2, column, code)]
    assert done.written == 1


def test_a_preview_tells_new_from_known_and_writes_nothing(desk: Desk) -> None:
    line = "h1,grip,practical,2025-07-01,pass,Sam Ito,"
    run(desk, line)
    before = desk.store.heads_digest()
    found = importing.preview_evidence(desk, rows(ALL, line, line, "h1,grip,practical,2025-07-02,pass,nobody,"))
    assert [entry.row for entry in found.fresh] == [3, 4]
    assert (found.same, found.refused) == (1, ())
    bad = importing.preview_evidence(desk, rows(ALL, "h9,grip,practical,2025-07-01,pass,d1,"))
    assert [cell.code for cell in bad.refused] == ["hand-unknown"]
    assert desk.store.heads_digest() == before


def test_how_far_it_is_is_told_until_all_is_done(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(importing, "_TOGETHER", 2)
    file = [f"h1,grip,knowledge,2025-07-{day:02},pass,d1," for day in range(1, 6)]
    told: list[tuple[int, int]] = []
    for _ in range(2):
        told.clear()
        importing.import_evidence(desk, rows(ALL, *file), lambda done, of: told.append((done, of)))
        assert told == sorted(told)
        assert {of for _, of in told} == {10}
    told.clear()
    importing.preview_evidence(desk, rows(ALL, *file), lambda done, of: told.append((done, of)))
    assert told == [(2, 5), (4, 5), (5, 5)]
    assert len(written(desk)) == 5
