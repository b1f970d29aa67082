"""A crew's matrix opened at first in a process of its own, as after a start of the program: ``python -m … FOLDER``.

Prints the seconds that the processor took from the closed store to the table.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path
from time import thread_time

import uuid6

from tests.bench import big_store, rigs
from tests.bench.lines import Wrong
from tests.contract import ledgers
from trainer.actions import look
from trainer.actions.desk import Desk, console
from trainer.core.matrix import Matrix
from trainer.store import Store, open_store

__all__ = ["desk_on", "opened", "seconds"]

NOW = datetime(2026, 6, 1, 12, 0, tzinfo=UTC)


def desk_on(store: Store) -> Desk:
    """The console's desk on ``store``."""
    return Desk(store, rigs.catalogue(), NOW, lambda: str(uuid6.uuid7()), console())


def opened(desk: Desk) -> Matrix:
    """All that the page asks of the store for its table."""
    desk.store.heads_digest()
    look.places(desk)
    matrix = look.crew_matrix(desk, big_store.CREW)
    names = look.names(desk, matrix.hands)
    if len(matrix.hands) != big_store.HANDS or len(names) != big_store.HANDS:
        raise Wrong(f"{len(matrix.hands)} hands and {len(names)} names for a crew of {big_store.HANDS}")
    return matrix


def seconds(folder: Path) -> float:
    """How long it takes to open the store in ``folder`` and its first crew's table."""
    rigs.catalogue()
    began = thread_time()
    store = open_store(ledgers.settings_in(folder))
    opened(desk_on(store))
    took = thread_time() - began
    store.close()
    return took


def main(arguments: Sequence[str]) -> int:
    """Print the seconds for the one folder named."""
    print(seconds(Path(arguments[0])))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
