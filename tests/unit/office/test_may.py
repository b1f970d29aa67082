"""Every action asks who may: the table names each of them, and each of them asks."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

from tests.unit.office.small_site import acting
from trainer.actions import may
from trainer.actions.desk import COORDINATOR, DRILLER, HAND, ROLES, Desk
from trainer.errors import Refused

ACTIONS = Path(may.__file__).parent


def asked() -> set[str]:
    """Each action's name as the code asks for it."""
    calls = (node for path in ACTIONS.glob("*.py") for node in ast.walk(ast.parse(path.read_text("utf-8"))))
    return {
        node.args[1].value
        for node in calls
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Attribute)
        and node.func.attr == "require"
        and len(node.args) == 2
        and isinstance(node.args[1], ast.Constant)
    }


def is_let(desk: Desk, action: str) -> bool:
    try:
        may.require(desk, action)
    except Refused as refused:
        return refused.code != "may-not"
    return True


def test_the_table_names_exactly_the_actions_that_ask() -> None:
    assert sorted(action for action, _ in may.MAY) == sorted(asked())


def test_no_action_stands_in_the_table_twice() -> None:
    assert len(dict(may.MAY)) == len(may.MAY)


@pytest.mark.parametrize("role", ROLES)
def test_each_role_may_do_exactly_what_the_table_says(desk: Desk, role: str) -> None:
    at_desk = acting(desk, "h1", role)
    assert {action for action, _ in may.MAY if is_let(at_desk, action)} == {
        action for action, roles in may.MAY if role in roles
    }


def test_nobody_may_do_anything_before_signing_in() -> None:
    assert not any(may.is_allowed("", action) for action, _ in may.MAY)


@pytest.mark.parametrize("action", ["look.matrix", "look.people", "look.records"])
def test_a_hand_sees_no_list_of_others(action: str) -> None:
    assert not may.is_allowed(HAND, action)


@pytest.mark.parametrize("action", ["people.apply_roster", "importing.import_evidence", "people.issue_code"])
def test_people_and_earlier_evidence_are_the_offices_business(action: str) -> None:
    assert may.is_allowed(COORDINATOR, action)
    assert not may.is_allowed(DRILLER, action)


def test_a_hand_gets_his_own_rows_and_nobody_elses(desk: Desk) -> None:
    hand = acting(desk, "h1", HAND)
    may.require_rows_of(hand, "h1")
    with pytest.raises(Refused, match="not-yours"):
        may.require_rows_of(hand, "h2")
    may.require_rows_of(acting(desk, "d1", DRILLER), "h2")
