"""The site's procedure behind a competency on the pages about it: the content's number, or the site's own."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from tests.app.conftest import signed_in
from tests.app.learning import LESSON, of, open_page, page_words, rig_at, tapping
from tests.app.office_pages import go
from tests.e2e import rig
from trainer.actions import learning, watching
from trainer.actions.desk import Desk
from trainer.core.catalogue import Procedure
from trainer.core.marking import right_answer
from trainer.core.shown import to_handles
from trainer.core.workings import FUNCTIONS

OWN = Procedure("OP-114", "3")
PAGES = pytest.mark.parametrize(
    ("page", "steps"),
    [
        ("card", {}),
        ("lesson", {"lesson": LESSON}),
        ("quiz", {"quiz": LESSON}),
        ("evidence", {"hand": "ray", "competency": LESSON}),
    ],
    ids=["card", "lesson", "quiz", "evidence"],
)


@pytest.fixture
def site(data: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Desk]:
    """A rig on a known day."""
    tapping(monkeypatch)
    with rig_at(data, monkeypatch) as desk:
        yield desk


def said_on(app: AppTest, site: Desk, who: str, page: str, /, **steps: str) -> str:
    """Everything readable on the page, as ``who`` reads it."""
    signed_in(app, site, who)
    app.run()
    return page_words(go(app, page, **steps)).replace("\\", "")


def usual(site: Desk, name: str = LESSON) -> Procedure:
    """The one that the content names."""
    found = site.catalogue.competency(name)
    assert found is not None
    assert found.procedure is not None
    return found.procedure


def write_own(site: Desk, number: str = OWN.number, revision: str = OWN.revision) -> None:
    """Let the site name its own behind hand placement."""
    rig.write_figures(site, {"procedures": {LESSON: {"number": number, "revision": revision}}})


@PAGES
def test_it_stands_there_with_its_revision(app: AppTest, site: Desk, page: str, steps: dict[str, str]) -> None:
    one = usual(site)
    assert one.example
    assert f"Procedure {one.number}, revision {one.revision} (example)" in said_on(app, site, "ray", page, **steps)


@PAGES
def test_the_site_s_own_takes_its_place(app: AppTest, site: Desk, page: str, steps: dict[str, str]) -> None:
    before = usual(site)
    write_own(site)
    said = said_on(app, site, "ray", page, **steps)
    assert "Procedure OP-114, revision 3" in said
    assert "revision 3 (example)" not in said
    assert f"{before.number}," not in said


@PAGES
def test_an_empty_number_shows_nothing_there(app: AppTest, site: Desk, page: str, steps: dict[str, str]) -> None:
    before = usual(site)
    write_own(site, number="")
    said = said_on(app, site, "ray", page, **steps)
    assert before.number not in said
    assert page == "card" or "Procedure" not in said


def test_it_is_said_in_the_language_on_screen(app: AppTest, site: Desk) -> None:
    write_own(site)
    assert "Procedimiento OP-114, revisión 3" in said_on(app, site, "luis", "card")


def test_what_stands_in_a_number_is_shown_as_it_is_written(app: AppTest, site: Desk) -> None:
    write_own(site, number="*<b>OP</b>* [7]", revision="")
    assert r"Procedure \*\<b\>OP\</b\>\* \[7\]" in [each.value for each in open_page(app, site, "ray", "card").caption]


def test_a_lesson_says_it_on_its_first_scene_only(app: AppTest, site: Desk) -> None:
    mine = of(site, "ray")
    playing = learning.open_lesson(mine, LESSON)
    first = playing.scene
    assert first is not None
    assert first.task is not None
    right = right_answer(first.task, playing.play.parameters(first), FUNCTIONS)
    learning.choose(mine, playing.draft_id, first.id, to_handles(first.task, playing.play.order(first), right))
    said = said_on(app, site, "ray", "lesson", lesson=LESSON, seen="1")
    assert "Scene 2 of" in "\n".join(each.proto.text for each in app.get("progress"))
    assert "Procedure" not in said


def test_somebody_of_whom_nothing_is_asked_sees_it_beside_the_lessons(app: AppTest, site: Desk) -> None:
    assert f"Procedure {usual(site).number}," in said_on(app, site, "coordinator", "card")


def test_a_sheet_begins_with_those_of_everything_it_covers(app: AppTest, site: Desk) -> None:
    rig.bring_all(site, "bill")
    write_own(site)
    sheet = watching.open_sheet(rig.at_desk_of(site, "bill"), "connections", "ray")
    said = said_on(app, site, "bill", "signoff", sheet=sheet.sheet_id)
    named = [OWN if name == LESSON else usual(site, name) for name in sheet.checklist.competencies()]
    assert len(named) > 1
    entries = [f"{each.number}, revision {each.revision}{' (example)' * each.example}" for each in named]
    assert f"Procedures {'; '.join(entries)}" in said
