"""Tables that come in: bytes of an unknown file in, checked rows out.

Start at ``reading.read_table``. It guards (size, encoding, what is no table at all), finds the delimiter, maps the
headers and strips the guard that our exports put before a formula sign. What the cells mean is decided by
``trainer.actions``. May import ``trainer.core`` and ``trainer.errors``.
"""

from trainer.tables.reading import COMMAND_LIMIT, UPLOAD_LIMIT, read_table

__all__ = ["COMMAND_LIMIT", "UPLOAD_LIMIT", "read_table"]
