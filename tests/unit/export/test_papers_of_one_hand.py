"""One hand on paper: the card, the sheet of a watch, and the first day."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from graphlib import TopologicalSorter

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.unit.export import pdfs
from tests.unit.export.sheets import (
    CONTENT,
    NAMES,
    NOW,
    SEVENTEEN,
    SOURCE,
    TODAY,
    WORDS,
    catalogue,
    first_day,
    held,
    seen,
    titles,
)
from trainer.core.firstdays import STAGES, FirstDays, Stage, Subject, in_learning_order
from trainer.core.matrix import Reason, Rule, Standing
from trainer.export.printed import orientation, record, watch
from trainer.export.printed.orientation import calls_said, learned
from trainer.export.printed.watch import Void

ENGLISH = WORDS["en"]


@pdfs.needs_pdftotext
def test_a_card_says_what_is_held_through_when_and_on_which_records() -> None:
    told = pdfs.text(record.render(held(), ENGLISH, NOW))
    assert NAMES[0] in told
    for title in SEVENTEEN[:6]:
        assert title in told
    assert "Mar 2, 2026: Quiz passed. rig-9 no. 7 (decides)" in told
    assert "On the job: clean, María Fernanda" in told
    assert "No. 41" in told
    assert "and 3 older records" in told
    assert "On the job: 1 more watch" in told
    assert "Off the slips. Evidence from before counts no more." in told


@pdfs.needs_pdftotext
def test_card_and_sheet_name_the_procedures_and_nothing_where_there_are_none() -> None:
    report = held(2)
    told = pdfs.text_as_set(record.render(report, ENGLISH, NOW))
    assert "Procedure OP-101, revision B" in told
    assert "Procedure OP-102, revision B" in told
    bare = replace(report, titles=replace(titles(), procedures={}))
    assert "Procedure" not in pdfs.text(record.render(bare, ENGLISH, NOW))
    told = pdfs.text_as_set(watch.render(seen(), ENGLISH, NOW))
    assert "Procedures now in force: OP-102, revision B; OP-103, revision B" in told
    none = replace(seen(), titles=replace(titles(), procedures={}))
    assert "now in force" not in pdfs.text(watch.render(none, ENGLISH, NOW))


@pdfs.needs_pdftotext
def test_a_card_with_nothing_asked_or_nothing_on_record_says_so() -> None:
    assert "Nothing is asked of this position." in pdfs.text(record.render(held(0), ENGLISH, NOW))
    assert "No record yet." in pdfs.text(record.render(replace(held(2), proofs={}), ENGLISH, NOW))


@pdfs.needs_pdftotext
def test_what_waits_for_another_competency_says_for_which() -> None:
    report = held(1)
    waiting = replace(report.cells[0], standing=Standing.LEARNING, reason=Reason(Rule.AFTER, "c1", None, None))
    told = pdfs.text(record.render(replace(report, cells=(waiting,), titles=titles()), ENGLISH, NOW))
    assert "First comes Calls and signals." in told


@pdfs.needs_pdftotext
def test_a_long_card_says_on_every_page_whose_it_is() -> None:
    told = pdfs.pages(record.render(held(17), ENGLISH, NOW))
    assert len(told) > 1
    assert all(page.startswith(f"{NAMES[0]} · Record card · as of Mar 2, 2026") for page in told[1:])


@pdfs.needs_pdftotext
def test_a_signed_sheet_tells_steps_notes_judgement_and_signatures() -> None:
    told = pdfs.pages(watch.render(seen(), ENGLISH, NOW))[0]
    assert "CRITICAL Answers every call Met" in told
    assert "Repeats it back Not observed" in told
    assert "Hands only on the handles" in told
    assert "Note: Left hand" in told
    assert "Note: Slipped once" in told
    assert "Would you let them do this alone? Not yet" in told
    assert "called a stop" in told
    assert "Calls and signals: Clean" in told
    assert "Hand placement: Off the slips" in told
    assert "Somebody else" in told
    assert f"{NAMES[3]}, Mar 2, 2026, 10:30: I watched this myself" in told
    assert "did not want to sign" in told
    assert "Record 01a2, rig-7 number 528. Hash 9f9f" in told
    assert "Tour began on: Mar 1, 2026" in told
    assert "Entered on: Mar 2, 2026" in told


@pdfs.needs_pdftotext
def test_a_sheet_reworded_since_says_so_and_keeps_steps_that_are_gone() -> None:
    told = pdfs.text(watch.render(seen(), ENGLISH, NOW))
    assert "The wording of this sheet was changed since." in told
    assert "Steps that this sheet no longer has: gone: Met" in told
    same = pdfs.text(watch.render(seen(content="now"), ENGLISH, NOW))
    assert "changed since" not in same


@pdfs.needs_pdftotext
def test_a_sheet_that_the_site_no_longer_has_is_printed_with_its_steps_ids() -> None:
    told = pdfs.text(watch.render(replace(seen(), checklist=None), ENGLISH, NOW))
    assert "a: Met, c: Not met, gone: Met" in told


@pdfs.needs_pdftotext
def test_a_voided_sheet_says_so_first_and_on_every_page() -> None:
    void = Void("Pat Vance", TODAY, "Wrong hand")
    long = seen(void).checklist
    assert long is not None
    many = replace(long, steps=tuple(replace(long.steps[0], id=f"s{number}") for number in range(60)))
    told = pdfs.pages(watch.render(replace(seen(void), checklist=many), ENGLISH, NOW))
    assert "VOID, Mar 2, 2026, by Pat Vance: Wrong hand" in told[0]
    assert len(told) > 1
    assert all(page.startswith("VOID · Connections") for page in told[1:])


@pdfs.needs_pdftotext
def test_practice_and_what_was_another_s_act_are_said() -> None:
    steps = tuple(replace(each, own_act=False) for each in seen().body.steps)
    told = pdfs.text(watch.render(seen(purpose="practice", outcomes={}, steps=steps), ENGLISH, NOW))
    assert "It counts neither for nor against." in told
    assert "Not met, not the hand's own act" in told


@pdfs.needs_pdftotext
def test_a_critical_miss_says_that_it_was_the_hand_s_own_act() -> None:
    told = pdfs.text(watch.render(seen(), ENGLISH, NOW))
    assert told.count("own act") == 1
    assert "Not met, own act" in told


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("competencies", [0, 1, 9, 17])
def test_the_first_day_is_one_page(competencies: int, language: str, paper: str) -> None:
    report = replace(first_day(competencies), source=replace(SOURCE, paper=paper), called=calls_said(ENGLISH))
    assert len(pdfs.sizes(orientation.render(report, WORDS[language], NOW))) == 1


@pdfs.needs_pdftotext
def test_the_first_day_asks_for_briefing_equipment_mentor_and_signatures() -> None:
    told = pdfs.text(orientation.render(first_day(), ENGLISH, NOW))
    for said in (
        "Briefed by", "In which language", "Spanish", "Knows the calls in English:", "STOP", "the hand signals",
        "Protective equipment issued", "hearing protection", "Name of the mentor", "with two who hold it",
        "Hands off until it is signed off", "Anybody may call STOP", "line 1", "I may stop the job",
    ):  # fmt: skip
        assert said in told
    assert [title for title in SEVENTEEN if title not in told] == []


@pdfs.needs_pdftotext
def test_the_calls_stand_in_the_crews_language_with_the_readers_own_beside_them() -> None:
    report = replace(first_day(), called=calls_said(ENGLISH))
    told = " ".join(pdfs.text(orientation.render(report, WORDS["es"], NOW)).split())
    for said in ("set (poner)", "hold (aguantar)", "clear (libre)", "pick up (levantar)", "STOP (ALTO)", "las señas"):
        assert said in told
    assert "(" not in " ".join(
        pdfs.text(orientation.render(report, ENGLISH, NOW)).split("Protective")[0].split("calls in")[1:]
    )


@pdfs.needs_pdftotext
def test_only_what_was_held_runs_out_on_the_card_too() -> None:
    cell = replace(held(1).cells[0], standing=Standing.LEARNING, late=False)
    told = {}
    for rule in (Rule.NEVER, Rule.AFTER):
        report = replace(held(1), cells=(replace(cell, reason=Reason(rule, "c1", None, None)),))
        told[rule] = pdfs.text(record.render(report, WORDS["es"], NOW))
    assert "Aprendiendo · A más tardar el " in told[Rule.NEVER]
    assert "Aprendiendo · Vence el " in told[Rule.AFTER]


NUMBERS = st.integers(0, 7)
RULES = st.lists(st.tuples(NUMBERS, NUMBERS), max_size=12)


@given(rules=RULES, days=st.lists(st.none() | st.dates(date(2026, 1, 1), date(2026, 12, 31)), min_size=8, max_size=8))
def test_whatever_comes_first_is_learnt_first(rules: list[tuple[int, int]], days: list[date | None]) -> None:
    # Only an earlier one comes before a later one, so that there is no circle.
    after = {high: {low for low, other in map(sorted, rules) if other == high and low != high} for high in range(8)}
    made = catalogue(*((f"c{number}", tuple(f"c{each}" for each in after[number])) for number in range(8))).competencies
    found = [each.id for each in in_learning_order(made, {f"c{number}": day for number, day in enumerate(days)})]
    assert sorted(found) == [f"c{number}" for number in range(8)]
    for each in made:
        assert all(found.index(first) < found.index(each.id) for first in each.after)


def test_among_what_may_come_now_the_first_due_is_first() -> None:
    made = catalogue(("late", ()), ("soon", ()), ("never", ()), ("behind", ("late",)))
    due = {"late": date(2026, 5, 1), "soon": date(2026, 4, 1), "behind": date(2026, 3, 1)}
    assert [each.id for each in in_learning_order(made.competencies, due)] == ["soon", "late", "behind", "never"]
    assert list(TopologicalSorter({"behind": ["late"]}).static_order()) == ["late", "behind"]


def test_what_is_learnt_names_its_lesson_and_what_comes_before() -> None:
    whole = catalogue(("hand-placement", ()), ("set-slips", ("hand-placement",)))
    way = FirstDays(tuple(subject(each.id) for each in whole.competencies))
    first, second = learned(whole, way, ENGLISH)
    assert (first.title, first.after, first.lesson) == ("hand-placement", (), "Where your hands go")
    assert first.minutes > 0
    assert second.after == ("hand-placement",)
    assert first.until == "hands off"
    [held] = learned(whole, FirstDays((subject("set-slips", is_held=True),)), ENGLISH)
    assert held.until == ""


def subject(name: str, *, is_held: bool = False) -> Subject:
    """One subject of the way."""
    standing = Standing.CURRENT if is_held else Standing.NOT_STARTED
    return Subject(name, Stage.TOUCH, standing, TODAY, (), (), {"en": "hands off"}, is_held, not is_held)


def with_untils(competencies: int, language: str, paper: str) -> bytes:
    """The first day of a hand of whom so much is asked, each subject with a sentence of the catalogue."""
    sentences = [each.until[language] for each in CONTENT.competencies if each.until]
    report = replace(
        first_day(competencies), name="Ray Dunn", source=replace(SOURCE, paper=paper), called=calls_said(ENGLISH)
    )
    steps = tuple(
        replace(each, until=sentences[number % len(sentences)], stage=STAGES[min(number // 3, 3)])
        for number, each in enumerate(report.steps)
    )
    return orientation.render(replace(report, steps=steps), WORDS[language], NOW)


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("subjects", [10, 13, 14, 17])
def test_the_first_day_says_what_stays_undone_and_is_one_page_for_any_position(
    subjects: int, language: str, paper: str
) -> None:
    assert len(pdfs.sizes(with_untils(subjects, language, paper))) == 1


@pdfs.needs_pdftotext
def test_nothing_of_what_stays_undone_is_left_out_on_two_pages_either(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(orientation, "_SIZES", ((9.0, 8.0),))
    told = " ".join(pdfs.text(with_untils(17, "es", "Letter")).split())
    for each in CONTENT.competencies:
        if each.until:
            assert each.until["es"] in told
    heads = [" ".join(page.split()) for page in pdfs.pages(with_untils(17, "es", "Letter"))]
    assert len(heads) == 2
    assert all("Firmado" in page for page in heads)
    assert "Antes de tocar por primera vez" in heads[0]
