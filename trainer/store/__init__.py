"""One store for everything that lasts: SQLite in the data folder, PostgreSQL by URL.

Start at ``open_store`` and ``Store``; write in ``with store.transaction() as writing``. May import ``trainer.core``,
``trainer.mechanics``, ``trainer.errors`` and ``trainer.settings``; only ``trainer.actions`` imports it.

=============  =====================================================================================================
store          ``open_store``, ``create``, ``Store``
transaction    ``Transaction``: one action's writes, all or none
reading        what both of them can read
shapes         the small types that go in and come out
schema         the tables and the schema's version
dialects       SQLite and PostgreSQL: opening, locks, triggers
driver_errors  what drivers and disk raise, as the project's own errors
appending      what every append does, straight to either driver
coding         bodies to JSON and back, RFC 8785, hashes
ledger heads   append-only: the records and the last one of each site
projection     pure: the rows that a record gives
evidence       those rows, as the matrix reads them
bundles        one signed file with everything, for a site without a network
merging        other sites' records taken in; ``foreign`` keeps their heads, forks and doubtful clocks
backups        all tables and keys in one file, for either dialect
upgrades       older stores brought forward
verify         chains, heads and rows worked out again; ``verify_beside`` forks, clocks and texts
people texts   erasable: names, free text
drafts views   mutable: what was begun, what was chosen
pins codes     mutable: what signing in needs
tries
sessions
rows           one helper of the mutable tables
keys           the secrets beside the database
=============  =====================================================================================================
"""

from __future__ import annotations

from trainer.store.backups import restore as restore_backup
from trainer.store.bundles import Bundle, pack, unpack
from trainer.store.coding import record_json
from trainer.store.keys import in_folder as keys_in
from trainer.store.merging import Left, Merged
from trainer.store.reading import Reading
from trainer.store.shapes import Code, Draft, Fault, Head, Moment, NewRecord, News, Person, Session, SignedHead, Tries
from trainer.store.store import Store, create, open_store
from trainer.store.transaction import Transaction

__all__ = [
    "Bundle",
    "Code",
    "Draft",
    "Fault",
    "Head",
    "Left",
    "Merged",
    "Moment",
    "NewRecord",
    "News",
    "Person",
    "Reading",
    "Session",
    "SignedHead",
    "Store",
    "Transaction",
    "Tries",
    "create",
    "keys_in",
    "open_store",
    "pack",
    "record_json",
    "restore_backup",
    "unpack",
]
