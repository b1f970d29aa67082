"""The made-up rig is played whole, through the actions, and holds what the trade meets."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from trainer import curriculum, settings
from trainer.actions import dispensed, look
from trainer.actions.desk import Desk, console
from trainer.actions.opening import open_desk
from trainer.core.catalogue import Catalogue
from trainer.core.matrix import Cell
from trainer.core.records import QuizTaken, SiteFigures, Tailgate
from trainer.demo import fresh

# A leap day: the history then runs over every kind of month, and a year ago is no leap day.
NOW = datetime(2028, 2, 29, 15, 0, tzinfo=UTC)


def _quietly(done: int, of: int) -> None:
    """Progress that nobody reads."""


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A data folder with the rig built in it, once for all tests here."""
    made = tmp_path_factory.mktemp("demo")
    assert fresh(replace(settings.read(made), database_url=None), NOW, _quietly)
    return made


@pytest.fixture
def desk(folder: Path) -> Iterator[Desk]:
    """The command line's desk on the rig."""
    where = replace(settings.read(folder), database_url=None)
    content = curriculum.load(where.root, where.app_root)

    def catalogue(figures: SiteFigures) -> Catalogue:
        return curriculum.catalogue(content, curriculum.site_from(figures.site))

    made = open_desk(where, catalogue, console(), NOW)
    yield made
    made.store.close()


def _cell(desk: Desk, hand: str, competency: str = "hand-placement") -> Cell:
    found = look.matrix(desk).cell(hand, competency)
    assert found is not None
    return found


def test_the_rig_verifies_and_has_about_thirty_people(desk: Desk) -> None:
    assert look.verify(desk) == []
    assert 25 <= len(desk.store.people()) <= 35


def test_a_new_hand_is_in_the_middle_of_his_first_days(desk: Desk) -> None:
    assert _cell(desk, "salas").standing == "learning"


def test_one_is_off_the_slips_after_a_critical_step_not_met_on_a_watch(desk: Desk) -> None:
    assert _cell(desk, "castillo").standing == "stood down"


def test_one_was_brought_back_and_passes_it_again(desk: Desk) -> None:
    assert _cell(desk, "quispe").standing == "learning"
    assert _cell(desk, "quispe").reason.rule == "again-after-stand-down"
    told = look.evidence_of(desk, "quispe", "hand-placement")
    assert [each.kind for each in told[:2]] == ["quiz", "reinstated"]


def test_one_is_allowed_for_this_hitch_without_holding_it(desk: Desk) -> None:
    assert [(each.hand, each.competency, each.state) for each in dispensed.shown(desk)] == [
        ("salas", "set-slips", "runs")
    ]
    assert _cell(desk, "salas", "set-slips").standing not in ("current", "due")


def test_the_crew_held_a_tailgate_yesterday(desk: Desk) -> None:
    talks = list(desk.store.records(kinds=("tailgate",)))
    assert {each.by for each in talks} == {"herrera"}
    passed = {each.hand for each in talks if isinstance(each.body, Tailgate) and each.body.passed}
    assert {"abdi", "salas", "minh"} <= passed


def test_one_due_date_falls_in_his_days_off_and_must_be_met_before(desk: Desk) -> None:
    cell = _cell(desk, "abdi")
    assert cell.standing == "due"
    assert cell.due is not None
    assert cell.do_by not in (None, "arrange")
    assert cell.do_by < cell.due  # type: ignore[operator]


def test_one_crew_cannot_put_enough_current_hands_on_the_slips(desk: Desk) -> None:
    team = int(desk.catalogue.site.figures["slip_team"])
    floor = ("floorhand", "motorhand")
    cells = [each for each in look.matrix(desk).cells() if each.crew == "d-night" and each.position in floor]
    current = {each.hand for each in cells if each.competency == "set-slips" and each.standing in ("current", "due")}
    assert len(current) < team


def test_one_failed_a_quiz_twice_and_missed_a_must_know(desk: Desk) -> None:
    taken = [each.body for each in desk.store.records(kinds=("quiz",), hand="singh")]
    assert [isinstance(each, QuizTaken) and each.passed for each in taken] == [False, False]
    assert all(isinstance(each, QuizTaken) and each.critical_missed for each in taken)


def test_one_record_is_void_and_says_why(desk: Desk) -> None:
    told = look.evidence_of(desk, "tau", "hand-placement")
    assert [each.voided.why for each in told if each.voided] == ["Entered for the wrong hand"]


def test_one_hand_has_only_old_paper_that_runs_out(desk: Desk) -> None:
    assert {each.kind for each in look.evidence_of(desk, "delgado", "hand-placement")} == {"outside"}
    assert _cell(desk, "delgado").standing == "due"


def test_a_second_start_on_the_same_day_copies_what_was_built(folder: Path) -> None:
    where = replace(settings.read(folder), database_url=None)
    assert not fresh(where, NOW + timedelta(minutes=5), _quietly)
