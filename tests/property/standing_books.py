"""Random rule books, rosters and evidence with the calendar's edges in them."""

from __future__ import annotations

from datetime import date, timedelta

from hypothesis import strategies as st

from tests.property.naive_standing import Book
from trainer.core.catalogue import Catalogue, Competency, Knowledge, Needs, Position, Practical, Rotation, Site
from trainer.core.durations import Duration, after
from trainer.core.records import Effect, EvidenceRow, Part, StayRow

HANDS = ("h1", "h2")
POSITIONS = ("floorhand", "derrickhand", "driller", "coordinator", "stranger")
CREWS = ("day", "night", "", "unknown")

EDGES = (
    date(2023, 2, 28),
    date(2023, 3, 31),
    date(2023, 12, 31),
    date(2024, 1, 31),
    date(2024, 2, 29),
    date(2024, 3, 1),
    date(2024, 4, 30),
    date(2025, 2, 28),
    date(2025, 3, 1),
)

durations = st.sampled_from(
    (
        Duration(),
        Duration(days=1),
        Duration(days=30),
        Duration(weeks=2),
        Duration(months=1),
        Duration(months=2),
        Duration(months=1, weeks=1),
        Duration(months=11, days=29),
        Duration(years=1),
        Duration(months=12),
    )
)

days = st.builds(
    lambda edge, later, shift: after(edge, later) + timedelta(days=shift),
    st.sampled_from(EDGES),
    st.just(Duration()) | durations,
    st.sampled_from((0, 0, 0, -1, 1)),
)


@st.composite
def knowledge(draw: st.DrawFn) -> Knowledge:
    good_for = draw(durations)
    cap = draw(st.none() | durations)
    return Knowledge("quiz", good_for, draw(st.none() | durations), cap)


few = st.sampled_from((1, 1, 1, 2, 2, 3))

practicals = st.builds(Practical, st.just("sheet"), durations, first=few, assessors=few)


needs = st.one_of(
    st.builds(Needs, knowledge(), practicals),
    st.builds(Needs, knowledge(), st.none()),
    st.builds(Needs, st.none(), practicals),
    st.builds(Needs, st.none() | knowledge(), st.none() | practicals),
)


@st.composite
def competencies(draw: st.DrawFn) -> tuple[Competency, ...]:
    """Up to three, in an order in which what comes first need not stand first."""
    made: list[Competency] = []
    for number in range(draw(st.sampled_from((1, 2, 2, 3)))):
        before = draw(st.sets(st.sampled_from([each.id for each in made]), max_size=2)) if made else set()
        made.append(
            Competency(
                id=f"c{number}",
                title={"en": "A competency"},
                positions=tuple(draw(st.sets(st.sampled_from(POSITIONS), min_size=2))),
                needs=draw(needs),
                after=tuple(sorted(before)),
                within=draw(st.none() | durations),
                notice=draw(durations),
            )
        )
    return tuple(draw(st.permutations(made)))


@st.composite
def rotations(draw: st.DrawFn) -> Rotation:
    if draw(st.integers(0, 4)) == 0:
        return Rotation()
    return Rotation(draw(days), draw(st.sampled_from((2, 3, 14, 28))), draw(st.sampled_from((0, 1, 14, 28))))


@st.composite
def catalogues(draw: st.DrawFn) -> Catalogue:
    roles = {"floorhand": "hand", "derrickhand": "hand", "driller": "driller", "coordinator": "coordinator"}
    site = Site(
        positions={name: Position(role) for name, role in roles.items()},
        crews={"day": draw(rotations()), "night": draw(rotations())},
        outside_good_for=draw(durations),
    )
    return Catalogue(draw(competencies()), site, {}, {}, {}, "")


def stamp(minute: int) -> str:
    """A time of writing; few different ones, so that ties are broken by site and place in the chain."""
    return f"2024-01-01T00:{minute:02d}:00.000Z"


@st.composite
def evidence_rows(draw: st.DrawFn, names: tuple[str, ...], number: int) -> EvidenceRow:
    part = draw(st.sampled_from([each for each in Part if each is not Part.NONE]))
    effect = draw(st.sampled_from([Effect.PASS] * 16 + [Effect.FAIL, Effect.DOWN, Effect.UP]))
    return EvidenceRow(
        hand=draw(st.sampled_from(HANDS)),
        competency=draw(st.sampled_from(names)),
        part=Part.NONE if effect in (Effect.DOWN, Effect.UP) else part,
        effect=effect,
        day=draw(days),
        at=stamp(draw(st.integers(0, 2))),
        site=draw(st.sampled_from(("a", "b"))),
        seq=number,
        by=draw(st.sampled_from(("x", "y", "z"))),
        record_id=f"e{number}",
    )


@st.composite
def stay_rows(draw: st.DrawFn, hand: str, kind: str, number: int) -> StayRow:
    return StayRow(
        hand=hand,
        kind=kind,
        day=EDGES[0] if kind == "joined" and draw(st.booleans()) else draw(days),
        crew="" if kind == "left" else draw(st.sampled_from(CREWS)),
        position="" if kind == "left" else draw(st.sampled_from(POSITIONS)),
        at=stamp(draw(st.integers(0, 2))),
        site=draw(st.sampled_from(("a", "b"))),
        seq=number,
        record_id=f"s{number}",
    )


@st.composite
def books(draw: st.DrawFn) -> Book:
    """A rule book, a roster, evidence and an as-of day."""
    catalogue = draw(catalogues())
    names = (*(each.id for each in catalogue.competencies), *draw(st.just(()) | st.just(("not-in-the-catalogue",))))
    evidence = [draw(evidence_rows(names, number)) for number in range(draw(st.sampled_from((0, 8, 16, 24))))]
    kinds = ["joined", *draw(st.lists(st.sampled_from(("joined", "moved", "moved", "left")), max_size=3))]
    stays = [
        draw(stay_rows(hand, kind, 100 * person + number))
        for person, hand in enumerate(HANDS, start=1)
        for number, kind in enumerate(kinds)
    ]
    return Book(catalogue, evidence, stays, draw(days))
