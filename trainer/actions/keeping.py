"""The records themselves: sealing their end, carrying them between sites, keeping and giving back a copy of them."""

from __future__ import annotations

from pathlib import Path

from trainer.actions import may
from trainer.actions.desk import Desk
from trainer.actions.setup import COORDINATOR_ID
from trainer.errors import BadInput
from trainer.settings import Settings
from trainer.store import Merged, SignedHead, keys_in, pack, restore_backup, unpack

__all__ = ["back_up", "bundle", "merge", "restore", "seal"]

_OWN_NAMES = frozenset({COORDINATOR_ID})
"""Every site has one of these ids for somebody else: a bundle does not bring that name along."""


def seal(desk: Desk) -> SignedHead:
    """This site's last record, signed and kept: whoever holds what was exported can show that nothing went since."""
    may.require(desk, "keeping.seal")
    head = desk.store.signed_head()
    if head not in desk.store.kept_heads():
        with desk.store.transaction() as writing:
            writing.keep_head(head)
    return head


def bundle(desk: Desk) -> bytes:
    """Everything here that another site may take in, as one signed file."""
    may.require(desk, "keeping.bundle")
    seal(desk)
    return pack(desk.store.bundle(desk.at), desk.store.keys)


def merge(desk: Desk, data: bytes) -> Merged:
    """Take a bundle in, all of it that can be believed; what cannot is named in the result and not taken.

    Raises ``BadInput`` for a file that is no bundle, or was changed after it was made: then nothing is taken.
    """
    may.require(desk, "keeping.merge")
    given = unpack(data)
    with desk.store.transaction() as writing:
        merged = writing.merge(given, desk.now, _OWN_NAMES)
    desk.store.scrub()
    return merged


def back_up(desk: Desk, settings: Settings, out: Path) -> None:
    """Write everything, keys too, to ``out`` as it is at this moment; the app may go on meanwhile.

    Raises ``BadInput("backup-inside")`` for a place inside the data folder: a disk that dies would take both.
    """
    may.require(desk, "keeping.back_up")
    seal(desk)
    if out.resolve().is_relative_to(settings.data.resolve()):
        raise BadInput("backup-inside", folder=str(settings.data))
    desk.store.backup(keys_in(settings), out, desk.at)


def restore(settings: Settings, given: Path) -> None:
    """Make the site that a backup holds, where none is yet. There is no desk before it, so nobody is asked who he is.

    Raises ``BadInput("backup-form")``, ``StoreExists``, ``StoreNewer``, ``StoreDamaged("backup-verify")``,
    ``StoreUnavailable``; then nothing was made.
    """
    restore_backup(settings, given)
