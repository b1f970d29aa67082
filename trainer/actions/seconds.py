"""Who may judge somebody's work here today, and the second person who agrees to something with his own PIN."""

from __future__ import annotations

from collections.abc import Callable, Collection
from dataclasses import dataclass

from trainer.actions import signing_in
from trainer.actions.desk import COORDINATOR, Desk
from trainer.actions.meetings import people_on
from trainer.core.catalogue import Position
from trainer.core.crewlist import Known, known_people

__all__ = ["Second", "agreed", "is_judge", "named", "others", "place_of", "position_of"]


@dataclass(frozen=True, slots=True)
class Second:
    """The second observer or coordinator who agrees, with the PIN he typed on that device."""

    hand: str
    pin: str
    device: str


def place_of(desk: Desk, person: str) -> Known | None:
    """Where ``person`` works today; ``None`` for somebody not here."""
    stays = (stay for stay in desk.store.stay_rows(hands=(person,)) if stay.day <= desk.today)
    place = known_people({}, stays).get(person)
    return place if place is not None and place.is_here(desk.today) else None


def position_of(desk: Desk, person: str) -> Position | None:
    """Today's position of ``person``; ``None`` for somebody not here, or whose position the site does not name."""
    place = place_of(desk, person)
    return desk.catalogue.site.position(place.position) if place else None


def is_judge(desk: Desk, person: str) -> bool:
    """Whether ``person`` is here today as an observer or a coordinator."""
    return _judges(position_of(desk, person))


def others(desk: Desk, hand: str | None) -> tuple[tuple[str, str], ...]:
    """Whoever can be the second beside the actor about ``hand``: (hand_id, name), as ``named`` orders them."""
    return named(desk, _judges, but=(desk.actor.hand, hand))


def named(
    desk: Desk, fits: Callable[[Position | None], bool], but: Collection[str | None] = ()
) -> tuple[tuple[str, str], ...]:
    """Everybody here today whose position ``fits``, without ``but``: (hand_id, name), the actor's crew first."""
    site, names, own = desk.catalogue.site, desk.store.people(), desk.actor.crew
    here = people_on(desk.store, desk.today)
    found = [hand for hand, place in here.items() if hand not in but and fits(site.position(place.position))]

    def order(hand: str) -> tuple[bool, str, str]:
        return not own or here[hand].crew != own, names[hand].name.casefold(), hand

    return tuple((hand, names[hand].name) for hand in sorted(found, key=order))


def agreed(desk: Desk, hand: str | None, second: Second) -> str | None:
    """The hand_id of the second, whose PIN fits; ``None`` for somebody who cannot be it. Raises as ``check_pin``."""
    if second.hand in (desk.actor.hand, hand) or not is_judge(desk, second.hand):
        return None
    signing_in.check_pin(desk, second.hand, second.pin, second.device)
    return second.hand


def _judges(position: Position | None) -> bool:
    return position is not None and (position.observes or position.role == COORDINATOR)
