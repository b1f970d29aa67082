"""Laws of standing, and the whole rule against a slow, obvious one over random books."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from uuid import UUID

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.property import naive_standing, standing_books
from tests.property.naive_standing import Book
from trainer.core.columns import EvidenceColumns, StayColumns, added, evidence_columns, stay_columns, without
from trainer.core.matrix import Matrix
from trainer.core.records import Effect, EvidenceRow, Part
from trainer.core.standing import fold, fold_hand, holds, is_practical_valid, is_stood_down, refold

LAWS = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
COMPARED = settings(LAWS, max_examples=400)


def folded(book: Book) -> Matrix:
    return fold(book.catalogue, evidence_columns(book.evidence), stay_columns(book.stays), book.as_of)


def said(matrix: Matrix) -> dict[tuple[str, str], naive_standing.Expected]:
    return {
        (cell.hand, cell.competency): naive_standing.Expected(
            cell.standing.value, cell.due, cell.do_by, cell.late, cell.position, cell.crew
        )
        for cell in matrix.cells()
    }


def same_columns(one: EvidenceColumns | StayColumns, other: EvidenceColumns | StayColumns) -> bool:
    return all(np.array_equal(getattr(one, name), getattr(other, name)) for name in type(one).__slots__)


@COMPARED
@given(standing_books.books)
def test_the_fold_says_of_every_cell_what_the_plain_rule_says(book: Book) -> None:
    expected = naive_standing.matrix(book)
    assert said(folded(book)) == expected
    for as_of in turning_days(expected):
        moved = replace(book, as_of=as_of)
        assert said(folded(moved)) == naive_standing.matrix(moved)


def turning_days(expected: dict[tuple[str, str], naive_standing.Expected]) -> list[date]:
    """Up to five of the due days and days to do by, each with the day before and after."""
    days = {
        day + timedelta(days=shift)
        for each in expected.values()
        for day in (each.due, each.do_by)
        if isinstance(day, date)
        for shift in (-1, 0, 1)
    }
    return sorted(days)[:: max(len(days) // 4, 1)]


@LAWS
@given(standing_books.books)
def test_refolding_one_hand_gives_the_cells_of_the_whole_fold(book: Book) -> None:
    evidence, stays = evidence_columns(book.evidence), stay_columns(book.stays)
    whole = fold(book.catalogue, evidence, stays, book.as_of).cells()
    alone = [
        cell
        for hand in standing_books.HANDS
        for cell in fold_hand(book.catalogue, evidence, stays, hand, book.as_of).cells()
    ]
    assert alone == whole


@LAWS
@given(standing_books.books, st.data())
def test_a_matrix_with_some_hands_folded_again_is_the_whole_fold(book: Book, data: st.DataObject) -> None:
    new = data.draw(st.lists(st.sampled_from(book.evidence), unique=True)) if book.evidence else []
    stays, old = stay_columns(book.stays), [row for row in book.evidence if row not in new]
    if data.draw(st.booleans()):
        # Ids of the usual form, to which others come.
        old = [replace(row, record_id=str(UUID(int=number))) for number, row in enumerate(old)]
    before = fold(book.catalogue, evidence_columns(old), stays, book.as_of)
    evidence = evidence_columns([*old, *new])
    again = refold(before, book.catalogue, evidence, stays, {row.hand for row in new})
    assert again.cells() == fold(book.catalogue, evidence, stays, book.as_of).cells()
    with pytest.raises(ValueError, match="read-only"):
        again.standing[...] = 0


@LAWS
@given(standing_books.books)
def test_a_record_dated_after_the_as_of_day_changes_nothing(book: Book) -> None:
    known = replace(
        book,
        evidence=[row for row in book.evidence if row.day <= book.as_of],
        stays=[row for row in book.stays if row.day <= book.as_of],
    )
    assert folded(known).cells() == folded(book).cells()


@LAWS
@given(standing_books.books, st.sampled_from(standing_books.HANDS))
def test_rows_of_one_hand_change_no_cell_of_another(book: Book, hand: str) -> None:
    others = replace(
        book,
        evidence=[row for row in book.evidence if row.hand != hand],
        stays=[row for row in book.stays if row.hand != hand],
    )
    assert folded(others).cells() == [cell for cell in folded(book).cells() if cell.hand != hand]


@LAWS
@given(standing_books.books, st.randoms(use_true_random=False))
def test_the_same_rows_in_another_order_give_the_same_columns(book: Book, shuffler: object) -> None:
    evidence, stays = list(book.evidence), list(book.stays)
    shuffler.shuffle(evidence)  # type: ignore[attr-defined]
    shuffler.shuffle(stays)  # type: ignore[attr-defined]
    assert same_columns(evidence_columns(evidence), evidence_columns(book.evidence))
    assert same_columns(stay_columns(stays), stay_columns(book.stays))


@LAWS
@given(standing_books.books, st.integers(0, 25))
def test_columns_grown_row_by_row_are_the_columns_of_all_rows_at_once(book: Book, known: int) -> None:
    first, new = book.evidence[:known], book.evidence[known:]
    grown = added(evidence_columns(first), evidence_columns(new))
    assert same_columns(grown, evidence_columns(book.evidence))
    half = len(book.stays) // 2
    assert same_columns(
        added(stay_columns(book.stays[:half]), stay_columns(book.stays[half:])), stay_columns(book.stays)
    )


@LAWS
@given(standing_books.books)
def test_voiding_every_stand_down_undoes_it_as_if_it_had_never_been_written(book: Book) -> None:
    downs = [row.record_id for row in book.evidence if row.effect is Effect.DOWN]
    voided = without(evidence_columns(book.evidence), downs)
    never = evidence_columns([row for row in book.evidence if row.effect is not Effect.DOWN])
    assert same_columns(voided, never)
    matrix = fold(book.catalogue, voided, stay_columns(book.stays), book.as_of)
    assert "stood down" not in {cell.standing for cell in matrix.cells()}


@LAWS
@given(standing_books.books)
def test_a_reason_names_a_record_of_that_hand_and_competency(book: Book) -> None:
    rows = {row.record_id: row for row in book.evidence}
    for cell in folded(book).cells():
        if cell.reason.record_id is not None:
            row = rows[cell.reason.record_id]
            assert (row.hand, row.competency, row.day) == (cell.hand, cell.competency, cell.reason.day)


@LAWS
@given(standing_books.books)
def test_what_a_hand_holds_on_a_day_is_what_the_plain_rule_says(book: Book) -> None:
    evidence = evidence_columns(book.evidence)
    for hand in standing_books.HANDS:
        for competency in book.catalogue.competencies:
            rows = naive_standing.evidence_of(book, hand, competency.id)
            is_down, since, _ = naive_standing.split(rows)
            through = naive_standing.needed_through(book, competency, since)
            is_valid = all(day is not None and day >= book.as_of for day in through)
            asked = (evidence, hand, competency.id, book.as_of)
            assert is_stood_down(*asked) == is_down
            assert holds(book.catalogue, *asked) == (bool(through) and is_valid and not is_down)
            if competency.needs.practical is not None:
                practical = naive_standing.practical_through(book, competency, since)
                is_held = practical is not None and practical >= book.as_of
                assert is_practical_valid(book.catalogue, *asked) == is_held


@LAWS
@given(standing_books.books)
def test_a_pass_never_makes_a_due_date_earlier_once_every_part_has_held(book: Book) -> None:
    day = max(row.day for row in (*book.evidence, *book.stays))
    before = {(cell.hand, cell.competency): cell for cell in folded(book).cells()}
    extra = [
        EvidenceRow(hand, each.id, part, Effect.PASS, day, standing_books.stamp(59), "z", place, "x", f"n{place}")
        for place, (hand, each, part) in enumerate(
            (hand, each, part)
            for hand in standing_books.HANDS
            for each in book.catalogue.competencies
            for part in (Part.PRACTICAL, Part.OUTSIDE_KNOWLEDGE, Part.OUTSIDE_PRACTICAL)
        )
    ]
    for cell in folded(replace(book, evidence=[*book.evidence, *extra])).cells():
        old = before[cell.hand, cell.competency]
        if old.standing in ("current", "due", "overdue") and old.due is not None:
            assert cell.due is not None
            assert cell.due >= old.due
