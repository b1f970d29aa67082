"""A new, empty site."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path

import pytest
from argon2 import PasswordHasher

from tests.unit.actions import desks
from tests.unit.actions.desks import NOON, SITE_YAML, ids, settings_in
from trainer.actions import setup
from trainer.actions.desk import Desk, console
from trainer.actions.opening import open_desk, open_site
from trainer.core.catalogue import Catalogue
from trainer.core.records import Joined, SiteFigures
from trainer.errors import BadContent, BadInput, StoreExists, StoreMissing
from trainer.store import Person, keys


@pytest.fixture
def desk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Desk]:
    """The console's desk on a new site, at noon on 2 March 2026; what hashes cost is asked in the tests of the keys."""
    monkeypatch.setattr(keys, "_HASHER", PasswordHasher(time_cost=1, memory_cost=8, parallelism=1))
    made = desks.new_site(tmp_path / "data")
    yield made
    made.store.close()


def init(
    folder: Path, *, site: str = "RIG-7", tz: str = "UTC", name: str = "", pin: str = desks.COORDINATOR_PIN
) -> None:
    setup.init(settings_in(folder), site, tz, name, pin, NOON, ids(), SITE_YAML)


def test_a_new_site_holds_its_figures_its_key_and_its_coordinator(desk: Desk) -> None:
    figures, key, joined = desk.store.records()
    assert [record.kind for record in (figures, key, joined)] == ["site", "key", "joined"]
    assert figures.body == SiteFigures(SITE_YAML, "UTC")
    assert (joined.hand, joined.body, joined.by) == ("coordinator", Joined("", "coordinator"), "console")
    assert desk.store.people() == {"coordinator": Person("coordinator", "Coordinator", "en", at=joined.at)}
    assert (desk.store.site, desk.store.evidence_rows(), desk.store.verify()) == ("RIG-7", [], [])


def test_its_records_count_on_the_sites_own_day(tmp_path: Path) -> None:
    late = datetime(2026, 3, 2, 23, 30, tzinfo=UTC)
    setup.init(settings_in(tmp_path), "R", "Asia/Dubai", "Noor", "274913", late, ids(), SITE_YAML, "es")
    desk = open_desk(settings_in(tmp_path), desks.catalogue, console(), late, ids())
    assert {record.day for record in desk.store.records()} == {date(2026, 3, 3)} == {desk.today}
    assert desk.store.person("coordinator") == Person("coordinator", "Noor", "es", at="2026-03-02T23:30:00.000Z")
    desk.store.close()


@pytest.mark.parametrize("site", ["", "a rig", "x" * 33, "rig/7", "rïg", "rig\n"])
def test_a_site_id_that_cannot_be_one_is_refused(tmp_path: Path, site: str) -> None:
    with pytest.raises(BadInput, match="site-id"):
        init(tmp_path / "data", site=site)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("tz", ["", "Mars/Base", "UTC+3", "../etc", "America"])
def test_a_zone_that_iana_does_not_name_is_refused(tmp_path: Path, tz: str) -> None:
    with pytest.raises(BadInput, match="time-zone"):
        init(tmp_path / "data", tz=tz)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(("pin", "code"), [("12345", "pin-form"), ("123456", "pin-weak"), ("", "pin-form")])
def test_a_pin_that_may_not_be_is_refused(tmp_path: Path, pin: str, code: str) -> None:
    with pytest.raises(BadInput, match=code):
        init(tmp_path / "data", pin=pin)
    assert list(tmp_path.iterdir()) == []


def test_a_name_that_cannot_be_one_leaves_nothing_behind(tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="name-form"):
        init(tmp_path / "data", name="A\x00na")
    assert list(tmp_path.iterdir()) == []
    with pytest.raises(StoreMissing):
        open_site(settings_in(tmp_path / "data"))


def test_where_a_site_is_no_other_is_set_up(desk: Desk, tmp_path: Path) -> None:
    before = desk.store.heads()
    with pytest.raises(StoreExists):
        init(tmp_path / "data", site="OTHER")
    assert (desk.store.heads(), desk.store.verify()) == (before, [])


def test_a_catalogue_that_cannot_be_used_leaves_no_store_open(desk: Desk, tmp_path: Path) -> None:
    seen: list[SiteFigures] = []

    def broken(figures: SiteFigures) -> Catalogue:
        seen.append(figures)
        raise BadContent(())

    with pytest.raises(BadContent):
        open_desk(settings_in(tmp_path / "data"), broken, console(), NOON)
    assert seen == [SiteFigures(SITE_YAML, "UTC")]


def test_a_desk_draws_ids_of_its_own_when_none_are_given(desk: Desk, tmp_path: Path) -> None:
    made = open_desk(settings_in(tmp_path / "data"), desks.catalogue, console(), NOON)
    assert made.new_id() != made.new_id()
    assert replace(made, new_id=desk.new_id).today == desks.TODAY
    made.store.close()
