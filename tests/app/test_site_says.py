"""What a site says of itself reaches the screen: its own Spanish words, its set's weight, its way of two."""

from __future__ import annotations

import html
from collections.abc import Iterator
from pathlib import Path

import pytest
from streamlit.testing.v1 import AppTest

from tests.app.learning import of, open_page, page_words, rig_at
from tests.e2e import rig
from tests.e2e.answers import Asked, play, right
from trainer.actions.desk import Desk
from trainer.core.records import Json
from trainer.core.tasks import Answer

GLOSSARY: dict[str, Json] = {"es": {"perforador": {"one": "maquinista", "many": "maquinistas"}}}


@pytest.fixture
def site(data: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Desk]:
    """A rig on a known day."""
    with rig_at(data, monkeypatch) as desk:
        yield desk


def page_of(app: AppTest, site: Desk, hand: str, address: str) -> str:
    """What ``hand`` reads on the lesson's page at that address."""
    steps = dict(each.split("=") for each in address.partition("?")[2].split("&"))
    return html.unescape(page_words(open_page(app, site, hand, "lesson", **steps))).replace("\\", "")


def in_turn(asked: Asked) -> Answer:
    """Two people on three handles, the first with two of them."""
    one, two, three, four = (each.id for each in asked.task.tokens)  # type: ignore[union-attr]
    return {"handle-1": (one,), "handle-2": (two,), "handle-3": (three, four)}


def test_lesson_and_screen_use_the_sites_own_words(app: AppTest, site: Desk) -> None:
    address = play(of(site, "luis"), "crewing-handles", "man-short")
    before = page_of(app, site, "luis", address)
    assert "el perforador espera" in before

    rig.write_figures(site, {"glossary": GLOSSARY})
    after = page_of(app, site, "luis", address)
    assert "el maquinista espera" in after
    assert "perforador" not in after.casefold()


def test_the_other_language_does_not_change(app: AppTest, site: Desk) -> None:
    rig.write_figures(site, {"glossary": GLOSSARY})
    assert "the driller waits" in page_of(app, site, "ray", play(of(site, "ray"), "crewing-handles", "man-short"))


def test_a_lesson_goes_on_where_it_was_when_the_site_changes_a_word(app: AppTest, site: Desk) -> None:
    address = play(of(site, "luis"), "crewing-handles", "man-short")
    rig.write_figures(site, {"glossary": GLOSSARY})
    assert "Escena 6 de 13" in "".join(each.proto.text for each in page_bars(app, site, address))


def page_bars(app: AppTest, site: Desk, address: str) -> list[object]:
    """The progress bars on the page."""
    page_of(app, site, "luis", address)
    return list(app.get("progress"))


@pytest.mark.parametrize(
    ("figures", "said"),
    [
        ({"slip_mass_kg": "90"}, ("lifts 132 lb (60 kg)", "lifts 66 lb (30 kg)", "says which")),
        ({"slip_mass_kg": "90", "two_on_set": "two-in-turn"}, ("132 lb (60 kg) and 66 lb (30 kg). This is",)),
        ({"slip_mass_kg": "90", "two_on_set": "two-share-middle"}, ("99 lb (45 kg) and 99 lb (45 kg). This is",)),
        ({}, ("lifts 120 lb (54 kg)", "The set weighs 180 lb (82 kg)")),
    ],
)  # fmt: skip
def test_the_shares_are_those_of_the_sites_own_set_and_both_ways_are_said(
    app: AppTest, site: Desk, figures: dict[str, Json], said: tuple[str, ...]
) -> None:
    rig.write_figures(site, {"figures": figures})
    shown = page_of(app, site, "ray", play(of(site, "ray"), "crewing-handles", "two-men", in_turn))
    assert "Each an end handle, both the middle one" in shown
    assert "Two handles for one, one for the other" in shown
    assert [each for each in said if each not in shown] == []


def test_without_a_rig_and_a_figure_the_example_of_ninety_kilograms_is_lifted(app: AppTest, site: Desk) -> None:
    rig.write_figures(site, {"figures": {}, "rig": None})
    shown = page_of(app, site, "ray", play(of(site, "ray"), "crewing-handles", "two-men", in_turn))
    assert "A lifts 60 kg (132 lb). B lifts 30 kg (66 lb)." in shown
    assert "45 kg (99 lb) and 45 kg (99 lb)" in shown


def test_a_handle_that_nobody_holds_tips_the_set(app: AppTest, site: Desk) -> None:
    def empty(asked: Asked) -> Answer:
        one, two, three, four = (each.id for each in asked.task.tokens)  # type: ignore[union-attr]
        return {"handle-1": (one, two), "handle-3": (three, four)}

    shown = page_of(app, site, "ray", play(of(site, "ray"), "crewing-handles", "two-men", empty))
    assert "Nobody holds this: Middle handle 2. The set tips." in shown
    assert "lifts" not in shown


def test_three_people_lift_a_third_each(app: AppTest, site: Desk) -> None:
    shown = page_of(app, site, "ray", play(of(site, "ray"), "crewing-handles", "three-men", right))
    assert shown.count("lifts 60 lb (27 kg).") == 3
    assert "in two ways" not in shown
