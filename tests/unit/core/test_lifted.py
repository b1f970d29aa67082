"""Who lifts how much of the set: by hand, by person, and as the site's own figures say."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from trainer.core.catalogue import Site
from trainer.core.lifted import HANDLES, LiftedSet, crew_of, lifted_set, mass_written, of_two, way_of_two
from trainer.core.tasks import Picture, PlaceCrew, Token
from trainer.curriculum import load

APP = Path(__file__).parents[3]
WHY = {"en": "Why."}


def crew(*tokens: str) -> PlaceCrew:
    """Hands named ``a-left`` and so on, or whole people named ``a``."""
    made = tuple(Token(each, each[0], {"en": f"{each[0].upper()}, {each[2:]}"}) for each in tokens)
    return PlaceCrew(Picture("slips-above"), made, (*HANDLES, "gap"), ({},), {"gap": WHY}, WHY)


THREE = crew("a", "b", "c")
TWO = crew("a-left", "a-right", "b-left", "b-right")
SET = LiftedSet(90.0)


def masses(task: PlaceCrew, lifted: LiftedSet, **placed: str) -> list[float]:
    """What each person lifts; ``h1="a-left b-left"`` places two hands on handle 1."""
    there = {f"handle-{name[1:]}": tuple(who.split()) for name, who in placed.items()}
    found = crew_of(task, there, lifted)
    assert found
    return [round(each.mass, 6) for each in found.people]


def test_three_people_lift_a_third_each() -> None:
    assert masses(THREE, SET, h1="b", h2="c", h3="a") == [30, 30, 30]


def test_who_has_two_handles_lifts_two_thirds() -> None:
    assert masses(TWO, SET, h1="a-left", h2="a-right", h3="b-left b-right") == [60, 30]
    assert masses(TWO, SET, h1="a-left", h3="a-right", h2="b-left b-right") == [60, 30]


def test_an_end_handle_each_and_the_middle_one_shared_is_half_each() -> None:
    assert masses(TWO, SET, h1="a-left", h2="a-right b-left", h3="b-right") == [45, 45]


def test_both_ways_of_two_come_to_what_their_placings_do() -> None:
    assert of_two(SET, "two-share-middle") == pytest.approx((45, 45))
    assert of_two(SET, "two-in-turn") == pytest.approx((60, 30))


def test_a_handle_that_nobody_holds_is_named_and_nothing_is_lifted() -> None:
    found = crew_of(TWO, {"handle-1": ("a-left", "a-right"), "handle-3": ("b-left", "b-right")}, SET)
    assert found
    assert (found.empty, found.by_token, found.people) == (("handle-2",), {}, ())


@pytest.mark.parametrize(
    "placed",
    [{"handle-1": ("a",), "handle-2": ("b",), "gap": ("c",)}, {"handle-1": ("a",), "handle-2": ("b",)}, {}],
)
def test_nothing_is_said_as_long_as_somebody_is_elsewhere(placed: dict[str, tuple[str, ...]]) -> None:
    assert crew_of(THREE, placed, SET) is None


def test_a_set_whose_weight_lies_toward_one_handle_is_heavier_there() -> None:
    assert masses(THREE, LiftedSet(90.0, off_centre=0.06), h1="a", h2="b", h3="c") == [42, 24, 24]


@given(
    mass=st.floats(10, 400),
    off_centre=st.floats(-0.1, 0.1),
    order=st.permutations(["a-left", "a-right", "b-left", "b-right"]),
    cuts=st.sampled_from([(1, 2), (1, 3), (2, 3)]),
)
def test_the_crew_lifts_the_whole_set_however_it_stands(
    mass: float, off_centre: float, order: list[str], cuts: tuple[int, int]
) -> None:
    one, two = cuts
    placed = dict(zip(HANDLES, (tuple(order[:one]), tuple(order[one:two]), tuple(order[two:])), strict=True))
    found = crew_of(TWO, placed, LiftedSet(mass, off_centre=off_centre))
    assert found
    assert sum(found.by_token.values()) == pytest.approx(mass)
    assert sum(each.mass for each in found.people) == pytest.approx(mass)


def site(**figures: str) -> Site:
    template = load(APP, APP).site
    assert template is not None
    return replace(template, figures=figures)


def test_the_sites_own_figure_wins_then_its_rig_then_an_example() -> None:
    rigged = site()
    assert rigged.rig
    heaviest = max(each.mass for each in rigged.rig.slips.values())
    assert lifted_set(rigged).mass == heaviest
    assert lifted_set(site(slip_mass_kg="75")).mass == 75
    assert lifted_set(replace(rigged, rig=None)).mass == 90
    assert lifted_set(replace(site(slip_mass_kg="75"), rig=None)) == LiftedSet(75)


@pytest.mark.parametrize("figure", ["", "heavy", "0", "-90", "4000", "nan", "inf"])
def test_a_figure_that_is_no_mass_of_a_set_is_not_taken(figure: str) -> None:
    assert mass_written(figure) is None


def test_the_way_of_two_is_the_sites_to_pick() -> None:
    assert [way_of_two(site(two_on_set=each)) for each in ("two-in-turn", "two-share-middle", "both")] == [
        "two-in-turn",
        "two-share-middle",
        "",
    ]
