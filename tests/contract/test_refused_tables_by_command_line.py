"""Roster and evidence files that are refused: each bad row told with its row and column, and nothing written."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import pytest

from tests.contract.rule_books import RuleBook
from tests.contract.shell import RECORDS, Said, Shell, start

NOW = "2026-03-31T17:00:00Z"
"""Already the first of April in Sydney, where the site is."""

RULES = [
    {
        "id": "grip",
        "title": {"en": "Grip", "es": "Agarre"},
        "for": ["floorhand", "derrickhand"],
        "needs": {"knowledge": {"quiz": "grip", "good_for": "P12M"}},
    },
    {
        "id": "setting",
        "title": {"en": "Setting", "es": "Poner"},
        "for": ["floorhand"],
        "needs": {"practical": {"checklist": "watch", "good_for": "P12M"}},
        "after": ["grip"],
    },
]
SITE = {
    "positions": {
        "floorhand": {"role": "hand"},
        "derrickhand": {"role": "hand", "observes": True},
        "driller": {"role": "driller", "observes": True},
        "coordinator": {"role": "coordinator"},
    },
    "crews": {"day-1": {"start": date(2026, 1, 5), "on": 14, "off": 14, "tour": "06:00-18:00"}, "relief": {}},
    "outside_good_for": "P90D",
}
ROSTER_HEAD = "hand_id,name,position,crew,joined,left,language\n"
EVIDENCE_HEAD = "hand_id,competency,part,day,outcome,by,note\n"
GONE = "r2,Bo Old,floorhand,day-1,2026-01-10,2026-02-01,en\n"
PEOPLE = f"r1,Ann Lee,floorhand,day-1,2026-01-10,,en\n{GONE}r3,Cy Far,derrickhand,relief,2026-01-10,2026-06-01,es\n"
PROOFS = "r1,grip,knowledge,2026-02-28,pass,r1,\nr1,setting,practical,2026-03-01,pass,Ned Far,\n"
GOOD_PERSON = "n1,New One,floorhand,day-1,2026-03-01,,en\n"
GOOD_PROOF = "r1,setting,practical,2026-03-02,pass,r3,\n"

# What is wrong, the row after a good one, and the column that must be named with it.
BAD_ROSTER = [
    ("position unknown", "n2,New Two,cook,day-1,2026-03-01,,en", "position"),
    ("position missing", "n2,New Two,,day-1,2026-03-01,,en", "position"),
    ("crew unknown", "n2,New Two,floorhand,day-9,2026-03-01,,en", "crew"),
    ("coordinator in a crew", "n2,New Two,coordinator,day-1,2026-03-01,,en", "crew"),
    ("hand id with a space", "n 2,New Two,floorhand,day-1,2026-03-01,,en", "hand_id"),
    ("hand id with an accent", "ñ2,New Two,floorhand,day-1,2026-03-01,,en", "hand_id"),
    ("hand id of 33 letters", f"{'n' * 33},New Two,floorhand,day-1,2026-03-01,,en", "hand_id"),
    ("hand id missing", ",New Two,floorhand,day-1,2026-03-01,,en", "hand_id"),
    ("name missing", "n2,,floorhand,day-1,2026-03-01,,en", "name"),
    ("joined missing", "n2,New Two,floorhand,day-1,,,en", "joined"),
    ("joined without a day order", "n2,New Two,floorhand,day-1,03/04/2026,,en", "joined"),
    ("joined on no day there is", "n2,New Two,floorhand,day-1,2026-02-29,,en", "joined"),
    ("joined in words", "n2,New Two,floorhand,day-1,soon,,en", "joined"),
    ("left on no day there is", "n2,New Two,floorhand,day-1,2026-03-01,2026-04-31,en", "left"),
    ("joined changed to earlier", "r1,Ann Lee,floorhand,day-1,2026-01-09,,en", "joined"),
    ("joined changed to later", "r1,Ann Lee,floorhand,day-1,2026-01-11,,en", "joined"),
    ("left changed", "r3,Cy Far,derrickhand,relief,2026-01-10,2026-06-02,es", "left"),
    ("left changed in the past", "r2,Bo Old,floorhand,day-1,2026-01-10,2026-02-02,en", "left"),
    ("joined of one who has left", "r2,Bo Old,floorhand,day-1,2026-01-11,2026-02-01,en", "joined"),
]
BAD_EVIDENCE = [
    ("hand unknown", "r9,grip,knowledge,2026-02-28,pass,r9,", "hand_id"),
    ("competency unknown", "r1,griip,knowledge,2026-02-28,pass,r1,", "competency"),
    ("part unknown", "r1,grip,theory,2026-02-28,pass,r1,", "part"),
    ("outcome unknown", "r1,grip,knowledge,2026-02-28,good,r1,", "outcome"),
    ("outcome missing", "r1,grip,knowledge,2026-02-28,,r1,", "outcome"),
    ("tomorrow at the site", "r1,grip,knowledge,2026-04-02,pass,r1,", "day"),
    ("a stand-down to come", "r1,grip,stood-down,2026-05-02,,r3,", "day"),
    ("no day there is", "r1,grip,knowledge,2026-02-30,pass,r1,", "day"),
    ("day without its order", "r1,grip,knowledge,03/02/2026,pass,r1,", "day"),
    ("watched by himself", "r1,setting,practical,2026-03-02,pass,r1,", "by"),
]


@dataclass(frozen=True)
class Tried:
    """What a bad file got said, and the ledger before and after it."""

    said: Said
    before: str
    after: str


@pytest.fixture(scope="module")
def tried(tmp_path_factory: pytest.TempPathFactory) -> Iterator[dict[str, Tried]]:
    folder = tmp_path_factory.mktemp("refused")
    shell = start(folder, RuleBook(0, "Australia/Sydney", RULES, SITE), NOW)
    good = [("roster", ROSTER_HEAD + PEOPLE), ("evidence", EVIDENCE_HEAD + PROOFS)]
    bad = [("roster", what, ROSTER_HEAD + GOOD_PERSON + row + "\n") for what, row, _ in BAD_ROSTER]
    bad += [("evidence", what, EVIDENCE_HEAD + GOOD_PROOF + row + "\n") for what, row, _ in BAD_EVIDENCE]
    bad += [(name, what, text) for what, name, text, _ in OTHERS]
    found = _try_all(folder, shell, good, bad)
    yield found
    shutil.rmtree(folder)


def _try_all(
    folder: Path, shell: Shell, good: list[tuple[str, str]], bad: list[tuple[str, str, str]]
) -> dict[str, Tried]:
    commands: list[tuple[str, list[str]]] = []
    for number, (name, text) in enumerate([*good, *((name, text) for name, _, text in bad)]):
        path = folder / f"{name}-{number}.csv"
        path.write_text(text, encoding="utf-8")
        commands += [(NOW, [name, str(path)]), (NOW, list(RECORDS))]
    said = shell.run_all(commands)
    assert [each.code for each in said[: 2 * len(good)]] == [0] * 2 * len(good), said[: 2 * len(good)]
    steps = list(
        zip(said[2 * len(good) :: 2], said[2 * len(good) - 1 :: 2], said[2 * len(good) + 1 :: 2], strict=False)
    )
    return {
        f"{name}: {what}": Tried(step[0], step[1].out, step[2].out)
        for (name, what, _), step in zip(bad, steps, strict=True)
    }


# Files whose faults are not one row: what is wrong, the command, the file, and each row and column to be told.
OTHERS = [
    (
        "every bad row is told",
        "roster",
        ROSTER_HEAD + "n2,,floorhand,day-1,2026-03-01,,en\n" + GOOD_PERSON + "n3,New Three,cook,day-9,soon,,en\n",
        [(2, "name"), (4, "position"), (4, "crew"), (4, "joined")],
    ),
    (
        "every bad row is told",
        "evidence",
        EVIDENCE_HEAD + "r9,grip,knowledge,2026-02-28,pass,x,\n" + GOOD_PROOF + "r1,no,knowledge,2027-02-28,no,r3,\n"
        + "r1,grip,no,2026-13-01,pass,r3,\n",
        [(2, "hand_id"), (4, "competency"), (4, "day"), (4, "outcome"), (5, "part"), (5, "day")],
    ),
    ("one who has left is moved", "roster", ROSTER_HEAD + GONE.replace("floorhand", "driller"), [(2, "")]),
    ("one who has left changes crew", "roster", ROSTER_HEAD + GONE.replace("day-1", "relief"), [(2, "")]),
    ("one hand twice", "roster", ROSTER_HEAD + GOOD_PERSON + GOOD_PERSON.replace("day-1", "relief"), [(3, "hand_id")]),
    ("no column for the hand", "roster", "name,position,crew,joined\nNew,driller,,2026-03-01\n", [(1, "hand_id")]),
    ("no column for the day", "evidence", "hand_id,competency,part,outcome,by\nr1,grip,tailgate,pass,\n", [(1, "day")]),
]  # fmt: skip


@pytest.mark.parametrize(("what", "column"), [(what, column) for what, _, column in BAD_ROSTER])
def test_a_bad_roster_row_is_told_with_its_column_and_nothing_is_written(
    tried: dict[str, Tried], what: str, column: str
) -> None:
    _require_refused(tried[f"roster: {what}"], [(3, column)])


@pytest.mark.parametrize(("what", "column"), [(what, column) for what, _, column in BAD_EVIDENCE])
def test_a_bad_evidence_row_is_told_with_its_column_and_nothing_is_written(
    tried: dict[str, Tried], what: str, column: str
) -> None:
    _require_refused(tried[f"evidence: {what}"], [(3, column)])


@pytest.mark.parametrize("number", range(len(OTHERS)), ids=[f"{name}-{what}" for what, name, _, _ in OTHERS])
def test_a_file_with_several_faults_tells_all_of_them(tried: dict[str, Tried], number: int) -> None:
    what, name, _, told = OTHERS[number]
    _require_refused(tried[f"{name}: {what}"], told)


def _require_refused(tried: Tried, told: list[tuple[int, str]]) -> None:
    assert (tried.said.code, tried.said.out) == (1, "")
    for row, column in told:
        lines = [line for line in tried.said.err.splitlines() if f"row {row}," in line and f"column {column}" in line]
        assert len(lines) == 1, tried.said.err
    assert tried.before == tried.after
    assert tried.before.count("\n") > 5
