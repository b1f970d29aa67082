"""A person's name and free text go for good, or are kept from most eyes where the law wants the record kept.

The chain holds neither, so it verifies as before, and the matrix goes on with an erased person's records.
"""

from __future__ import annotations

from trainer.actions import may
from trainer.actions.desk import Desk
from trainer.core.crewlist import known_people
from trainer.core.records import Erased, Record, Restricted
from trainer.core.rows import tidy
from trainer.errors import BadInput, NotFound, Refused

__all__ = ["erase", "restrict", "restricted"]

_LONGEST = 200


def erase(desk: Desk, hand: str, reason: str) -> Record:
    """The ``erased`` record; name, texts, PIN, drafts and sessions of ``hand`` are nowhere in the data afterwards.

    Raises ``NotFound("no-hand")``, ``BadInput`` for a reason that is missing or holds the name, and
    ``Refused("erase-here")`` for somebody who has not left yet.
    """
    may.require(desk, "erasing.erase")
    with desk.store.transaction() as writing:
        person = writing.person(hand)
        if person is None:
            raise NotFound("no-hand", hand=hand)
        why = _plain_reason(reason, person.name, hand)
        stay = known_people({}, writing.stay_rows(hands=(hand,))).get(hand)
        if stay is not None and (stay.left is None or stay.left >= desk.today):
            raise Refused("erase-here", hand=hand)
        record = writing.append(desk.new_record(Erased(hand, why), hand=hand))
        writing.forget(hand)
    desk.store.scrub()
    return record


def restrict(desk: Desk, hand: str, reason: str) -> Record:
    """The ``restricted`` record: from now on only the office sees whose records these are.

    Raises ``NotFound("no-hand")`` and ``BadInput`` as above.
    """
    may.require(desk, "erasing.restrict")
    with desk.store.transaction() as writing:
        person = writing.person(hand)
        if person is None:
            raise NotFound("no-hand", hand=hand)
        why = _plain_reason(reason, person.name, hand)
        return writing.append(desk.new_record(Restricted(hand, why), hand=hand))


def restricted(desk: Desk) -> frozenset[str]:
    """The hand_ids whose names only the office sees."""
    voids = desk.store.voids()
    found = (each for each in desk.store.records(kinds=("restricted",)) if each.record_id not in voids)
    return frozenset(each.body.person for each in found if isinstance(each.body, Restricted))


def _plain_reason(reason: str, name: str, hand: str) -> str:
    """``reason`` tidied. It stays in the ledger for good, so no part of the name may be in it."""
    why = tidy(reason)
    if not why or len(why) > _LONGEST:
        raise BadInput("no-reason")
    said = {word.strip(".,;:()").casefold() for word in why.split()}
    if said & {word.casefold() for word in (*name.split(), hand)}:
        raise BadInput("reason-names")
    return why
