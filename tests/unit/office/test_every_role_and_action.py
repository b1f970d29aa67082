"""Every role tries every action itself, not only the table: what it may not do is refused before anything happens."""

from __future__ import annotations

import importlib
import inspect
from collections.abc import Callable
from typing import Any

import pytest

from tests.unit.office.small_site import acting
from trainer.actions import may
from trainer.actions.desk import ROLES, Desk
from trainer.errors import Refused

# Where the function does not carry the action's name: it says what comes back, the table what it is about.
ELSEWHERE = {"people.issue_code": "signing_in.new_code", "look.people": "look.names"}
OUTSIDERS = (*ROLES, "")
CASES = [(action, role) for action, _ in may.MAY for role in OUTSIDERS]


def function_of(action: str) -> Callable[..., Any]:
    module, _, name = ELSEWHERE.get(action, action).partition(".")
    return getattr(importlib.import_module(f"trainer.actions.{module}"), name)  # type: ignore[no-any-return]


def try_it(desk: Desk, action: str) -> str:
    """The code with which the action refuses a call that names nobody and nothing; empty for any other end."""
    function = function_of(action)
    wanted = list(inspect.signature(function).parameters.values())[1:]
    needed = [each for each in wanted if each.default is inspect.Parameter.empty]
    nothing = {each.name: "nothing-of-that-name" for each in needed}
    try:
        function(desk, **nothing)
    except Refused as refused:
        return refused.code
    except Exception:  # noqa: BLE001 - whatever a call with nothing in it comes to, it was let in
        return ""
    return ""


@pytest.mark.parametrize(("action", "role"), CASES)
def test_an_action_lets_in_exactly_the_roles_of_the_table(desk: Desk, action: str, role: str) -> None:
    before = desk.store.heads()
    is_let_in = try_it(acting(desk, "h1", role), action) != "may-not"
    assert is_let_in == may.is_allowed(role, action)
    if not is_let_in:
        assert desk.store.heads() == before
