"""``python3 -m trainer``: says so where Python is too old, else sets up and hands over.

This file and ``trainer/__init__.py`` compile on any Python 3; nothing newer may stand in either.
"""

import sys

OLDEST = (3, 11)


def main():  # type: () -> int
    """The exit code of the command; one line and 1 where this Python is too old."""
    if sys.version_info < OLDEST:
        found = "%d.%d" % sys.version_info[:2]
        sys.stderr.write(
            "The trainer needs Python 3.11 or newer; this is Python " + found + ". Install a newer one from "
            "python.org or your system's packages, then start it as e.g. python3.11 -m trainer.\n"
        )
        return 1
    from trainer import bootstrap

    return bootstrap.run(sys.argv[1:])


if __name__ == "__main__":
    sys.exit(main())
