"""The way of a new hand on his card and where his driller and the office look at him."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from tests.app.conftest import signed_in
from tests.app.core_subjects import core_root
from tests.app.learning import open_page, page_words, passed, rig_at, stood_down
from tests.app.office_pages import go
from tests.e2e import rig
from trainer.actions import starting
from trainer.actions.desk import Desk
from trainer.core.records import Part
from trainer.errors import Refused

HEADS = ["Before the first touch", "In the first hitch", "Later"]


@pytest.fixture
def site(data: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Desk]:
    """A rig on a known day, with six subjects."""
    monkeypatch.setenv("TRAINER_ROOT", str(core_root(tmp_path / "root")))
    with rig_at(data, monkeypatch) as desk:
        yield desk


def holds(site: Desk, hand: str, competency: str) -> None:
    """``hand`` holds it."""
    passed(site, hand, Part.KNOWLEDGE, date(2026, 3, 1), competency=competency)
    for day, by in ((date(2026, 3, 1), "bill"), (date(2026, 3, 2), "ana")):
        passed(site, hand, Part.PRACTICAL, day, by=by, competency=competency)


def way(site: Desk) -> list[str]:
    """The subjects of Ray's way in their order."""
    return [each.competency for each in starting.newcomer(site, "ray").way.subjects]


def test_a_new_hand_sees_the_order_with_what_stays_undone(app: AppTest, site: Desk) -> None:
    open_page(app, site, "ray", "card")
    said = page_words(app)

    assert "What comes first" in [each.value for each in app.header]
    assert [each.value for each in app.subheader if each.value in HEADS] == [
        head for head in HEADS if head in [each.value for each in app.subheader]
    ]
    assert HEADS[0] in [each.value for each in app.subheader]
    competencies = {each.id: each for each in site.catalogue.competencies}
    titles = [site.catalogue.competency(name) for name in way(site)]
    places = [said.index(f"**{title.title['en']}**") for title in titles if title]
    assert places == sorted(places)
    assert "**Until then:** Hands off the slips" in said
    assert said.count("**Until then:**") == sum(bool(competencies[name].until) for name in way(site))
    assert "Lesson: next" in said
    assert "Watch 0 of 2: later" in said
    assert "First comes: " in said


def test_what_is_held_is_told_in_one_line_and_keeps_nothing_undone(app: AppTest, site: Desk) -> None:
    holds(site, "ray", "hand-placement")
    open_page(app, site, "ray", "card")

    said = page_words(app)
    assert "Held already: Hand placement." in said
    assert "only as the third, with two who hold it, the mentor" not in said.replace("\\", "")


def test_once_the_first_hitch_is_done_the_way_is_gone(app: AppTest, site: Desk) -> None:
    for each in starting.newcomer(site, "ray").way.subjects:
        holds(site, "ray", each.competency)
    open_page(app, site, "ray", "card")
    assert "What comes first" not in page_words(app)


def test_a_hand_off_the_slips_gets_nothing_to_do_next_in_that_subject(site: Desk) -> None:
    stood_down(site, "ray", date(2026, 3, 2))
    found = next(each for each in starting.newcomer(site, "ray").way.subjects if each.competency == "hand-placement")
    assert {step.state for step in found.steps} == {"later"}
    assert not found.is_held


@pytest.mark.parametrize(("who", "page"), [("bill", "slips"), (rig.COORDINATOR, "slips"), (rig.COORDINATOR, "people")])
def test_driller_and_office_see_it_where_they_look_at_him_with_the_sheet(
    app: AppTest, site: Desk, who: str, page: str
) -> None:
    signed_in(app, site, who)
    go(app, page, hand="ray")
    assert f"{rig.NAMES['ray']}: what comes first" in page_words(app)
    offered = [button for button in app.get("download_button") if button.proto.label == "Orientation sheet (PDF)"]
    assert len(offered) == 1


def test_it_is_said_in_spanish(app: AppTest, site: Desk) -> None:
    open_page(app, site, "luis", "card")
    said = page_words(app)
    assert "Antes de tocar por primera vez" in said
    assert "**Hasta entonces:** Manos fuera de las cuñas" in said
    assert "Lección: ahora" in said


def test_the_office_has_no_way_of_its_own(app: AppTest, site: Desk) -> None:
    open_page(app, site, rig.COORDINATOR, "card")
    assert "What comes first" not in page_words(app)


def test_nobody_sees_the_way_of_another_hand(site: Desk) -> None:
    with pytest.raises(Refused, match="not-yours"):
        starting.newcomer(rig.at_desk_of(site, "luis"), "ray")
    assert starting.newcomer(rig.at_desk_of(site, "luis"), "luis").name == rig.NAMES["luis"]
