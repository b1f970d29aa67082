"""Other site figures: looked at first, written once, and nothing that people stand on is taken away."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date

import pytest

from tests.unit.office.small_site import CATALOGUE, SITE, acting, new_id, rows
from trainer.actions import look, people, siting
from trainer.actions.desk import COORDINATOR, Desk
from trainer.actions.siting import Lost
from trainer.core.catalogue import Catalogue, Position, Rotation, Site
from trainer.core.records import Json, SiteFigures
from trainer.core.sitechanges import Change
from trainer.errors import Refused

CREW = (
    "h1,Ann,floorhand,day-1,2026-02-20",
    "h2,Bo,derrickhand,night-1,2026-02-20",
    "c1,Cy,coordinator,,2025-06-01",
)
DATA: Mapping[str, Json] = {"crews": {"day-1": {"on": 7}}}


@pytest.fixture(autouse=True)
def crew(desk: Desk) -> None:
    people.apply_roster(desk, people.preview_roster(desk, rows("hand_id,name,position,crew,joined", *CREW)))


@pytest.fixture
def office(desk: Desk) -> Desk:
    return acting(desk, "c1", COORDINATOR)


def with_site(**changed: object) -> Catalogue:
    site: Site = replace(SITE, **changed)  # type: ignore[arg-type]
    return replace(CATALOGUE, site=site, hash="another")


def put(desk: Desk, data: Mapping[str, Json], catalogue: Catalogue, record_id: str = "") -> int:
    """Write it on what is in force; the number of the record."""
    based_on = siting.figures(desk).record_id
    return siting.write(desk, data, catalogue, based_on=based_on, record_id=record_id or new_id()).seq


def refused(desk: Desk, catalogue: Catalogue, data: Mapping[str, Json] = DATA, based_on: str = "") -> str:
    """The code of a refusal that leaves the ledger as it was."""
    before = desk.store.heads_digest()
    with pytest.raises(Refused) as caught:
        siting.write(desk, data, catalogue, based_on=based_on or siting.figures(desk).record_id, record_id=new_id())
    assert desk.store.heads_digest() == before
    return caught.value.code


def test_the_figures_in_force_are_those_of_the_last_record(office: Desk) -> None:
    first = siting.figures(office)
    assert (first.number, first.data, first.by) == (1, {}, "console")

    number = put(office, DATA, CATALOGUE)

    now = siting.figures(office)
    assert (now.number, now.data, now.by, now.day) == (number, DATA, "Cy", office.today)
    record = office.store.record(now.record_id)
    assert record is not None
    # The time zone is the site's own and is no figure of the file.
    assert record.body == SiteFigures(DATA, "America/Chicago")


def test_a_preview_tells_what_changes_and_writes_nothing(office: Desk) -> None:
    before = office.store.heads_digest()
    crews = {**SITE.crews, "day-1": Rotation(date(2026, 1, 5), 7, 7)}
    found = siting.preview(office, DATA, with_site(crews=crews))
    assert found.changes == (Change(("crews", "day-1"), None, "on: 7"),)
    # Another rotation, another last working day before the due date: of Ann alone, in both of hers.
    was = {(cell.hand, cell.competency): cell.do_by for cell in look.matrix(office).cells()}
    desk = replace(office, catalogue=with_site(crews=crews))
    now = {(cell.hand, cell.competency): cell.do_by for cell in look.matrix(desk).cells()}
    differ = [key for key in was if was[key] != now[key]]
    assert found.standings.changed == len(differ) > 0
    assert (found.standings.new, found.standings.gone, found.standings.hands) == (0, 0, 1)
    assert [(each.hand, each.competency) for each in found.moved] == differ
    assert found.names == {"h1": "Ann"}
    assert found.is_ready
    assert office.store.heads_digest() == before


def test_the_same_figures_are_not_written_again(office: Desk) -> None:
    put(office, DATA, CATALOGUE)
    assert not siting.preview(office, DATA, CATALOGUE).is_ready
    assert refused(office, CATALOGUE) == "site-same"


def test_a_second_press_is_one_record(office: Desk) -> None:
    record_id = new_id()
    assert put(office, DATA, CATALOGUE, record_id) == put(office, DATA, CATALOGUE, record_id)
    assert len(list(office.store.records(kinds=("site",)))) == 2


def test_other_figures_under_the_id_of_a_written_record_are_refused(office: Desk) -> None:
    record_id = new_id()
    put(office, DATA, CATALOGUE, record_id)
    with pytest.raises(Refused, match="record-differs"):
        put(office, {"crews": {}}, CATALOGUE, record_id)


def test_what_another_has_changed_meanwhile_is_looked_at_first(office: Desk) -> None:
    seen = siting.preview(office, DATA, CATALOGUE).based_on
    put(office, {"languages": ["en"]}, CATALOGUE)
    assert refused(office, CATALOGUE, based_on=seen) == "site-changed"


def test_nobody_loses_position_or_crew(office: Desk) -> None:
    less = with_site(
        positions={name: each for name, each in SITE.positions.items() if name != "derrickhand"},
        crews={"night-1": SITE.crews["night-1"]},
    )
    found = siting.preview(office, DATA, less)
    assert found.lost == (Lost("crew", "day-1", 1), Lost("position", "derrickhand", 1))
    assert not found.is_ready
    assert refused(office, less) == "site-lost"


def test_one_who_has_left_keeps_nothing_and_one_to_come_does(desk: Desk, office: Desk) -> None:
    less = with_site(crews={"day-1": SITE.crews["day-1"]})
    assert [each.name for each in siting.preview(office, DATA, less).lost] == ["night-1"]
    people.leave(desk, "h2", date(2026, 3, 1))
    assert siting.preview(office, DATA, less).lost == ()
    people.add_person(desk, "h3", "Cal", "floorhand", "night-1", date(2026, 4, 1))
    assert [each.name for each in siting.preview(office, DATA, less).lost] == ["night-1"]


def test_somebody_here_stays_a_coordinator(office: Desk) -> None:
    without = with_site(
        positions={**SITE.positions, "coordinator": Position("driller"), "boss": Position("coordinator")}
    )
    assert not siting.preview(office, DATA, without).keeps_office
    assert refused(office, without) == "site-no-office"
