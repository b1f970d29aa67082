"""The command line: ``python3 -m trainer COMMAND``.

``arguments`` is the table of commands, ``main`` parses, runs one and turns every error into lines and an exit code;
``console`` is what a command is given. One module a family: ``site`` (init, serve, pin), ``importing`` (roster,
evidence), ``exporting`` (matrix, records), ``ledger`` (void, verify), ``check`` (``watching`` runs it at each change),
``testing``. A command's module is imported when it runs, so that help and a wrong argument need nothing installed. May
import ``trainer.actions``, ``curriculum``, ``export``, ``pictures`` and ``tables``; never ``trainer.store``.
"""

from trainer.cli.main import main

__all__ = ["main"]
