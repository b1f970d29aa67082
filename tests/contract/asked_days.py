"""The days worth asking a drawn site about: those on which something changes or nearly does."""

from __future__ import annotations

import random
from collections.abc import Sequence
from datetime import date, timedelta
from typing import Any

from tests.contract.oracle import Row, subtract
from tests.contract.rule_books import RuleBook

__all__ = ["days_of_evidence", "days_to_ask"]


def days_to_ask(book: RuleBook, rows: Sequence[Row], count: int) -> list[date]:
    """Days on which something changes or nearly does; ``rows`` are cells of the matrix on other days."""
    luck = random.Random(book.seed + 1)
    notices = {rule["id"]: rule.get("notice", "P30D") for rule in book.competencies}
    near = [book.today, book.today + timedelta(days=1), *(phase.today for phase in book.phases)]
    ends: list[date] = []
    hitches: list[date] = []
    for row in (row for row in rows if row["due"]):
        due = date.fromisoformat(row["due"])
        ends += [due, due + timedelta(days=1), subtract(due, notices[row["competency"]])]
        ends.append(ends[-1] - timedelta(days=1))
        hitches += _last_hitch(book.site["crews"][row["crew"]], row["do_by"])
    stays = [row[name] for phase in book.phases for row in phase.roster for name in ("joined", "left") if row[name]]
    edges = [date.fromisoformat(text) + timedelta(days=step) for text in stays for step in (-1, 0, 1)]
    proofs = days_of_evidence(book)
    pools = [(ends, count // 3), (hitches, count // 4), (edges, count // 12), (proofs, count // 6)]
    picked = [day for pool, some in pools for day in luck.sample(sorted({*pool}), min(some, len({*pool})))]
    far = [book.today + timedelta(days=luck.randint(-900, 900)) for _ in range(count - len(near) - len(picked))]
    return sorted({*near, *picked, *far})


def days_of_evidence(book: RuleBook) -> list[date]:
    """Every day on which some evidence falls."""
    return sorted({date.fromisoformat(row["day"]) for phase in book.phases for row in phase.evidence})


def _last_hitch(crew: dict[str, Any], do_by: str) -> list[date]:
    """The cycle's first day, its crew change, and the days beside them, of the hitch in which ``do_by`` lies."""
    if "start" not in crew or do_by in ("", "arrange"):
        return []
    whole = crew["on"] + crew["off"]
    first = crew["start"] + timedelta(days=(date.fromisoformat(do_by) - crew["start"]).days // whole * whole)
    change = first + timedelta(days=crew["on"] - 1)
    return [first - timedelta(days=1), first, change - timedelta(days=1), change, change + timedelta(days=1)]
