"""What a site asks of a watch: connections and people on the set, held against what was noted."""

from __future__ import annotations

from trainer.core.catalogue import Position, Site
from trainer.core.sitewatch import CONNECTIONS_FIGURE, TEAM_FIGURE, Short, asked, short_of

SITE = Site({"hand": Position("hand")}, {}, figures={CONNECTIONS_FIGURE: "10", TEAM_FIGURE: "3"})
BARE = Site({"hand": Position("hand")}, {})


def test_fewer_connections_or_people_than_the_site_asks_for_are_told() -> None:
    assert short_of(SITE, {"connections": "8", "team": "two"}) == (
        Short(CONNECTIONS_FIGURE, 8, 10),
        Short(TEAM_FIGURE, 2, 3),
    )
    # Nine and a half are not ten.
    assert short_of(SITE, {"connections": "9.5"}) == (Short(CONNECTIONS_FIGURE, 9, 10),)


def test_enough_is_not_told_and_neither_is_what_nobody_noted() -> None:
    assert short_of(SITE, {"connections": "10", "team": "three"}) == ()
    assert short_of(SITE, {"connections": "12", "team": "learner"}) == ()
    assert short_of(SITE, {"connections": "", "team": ""}) == short_of(SITE, {}) == ()


def test_a_site_that_asks_for_nothing_gets_no_warning() -> None:
    assert short_of(BARE, {"connections": "1", "team": "two"}) == ()
    assert asked(BARE, TEAM_FIGURE) is None
    assert asked(Site({}, {}, figures={TEAM_FIGURE: "some"}), TEAM_FIGURE) is None
