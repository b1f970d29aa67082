"""Bodies to JSON and back, and the one canonical form."""

from __future__ import annotations

import hashlib
import json
import uuid
from collections.abc import Mapping
from dataclasses import dataclass, field, fields
from typing import Any, cast

import jcs
import pytest
import uuid6
from hypothesis import example, given
from hypothesis import strategies as st

from tests.contract import ledgers
from trainer.actions.opening import new_id
from trainer.core.records import BODIES, Body, Gear, Joined, Json, Outside
from trainer.errors import StoreDamaged
from trainer.store.coding import LARGEST, canonical, canonical_plain, decode, digest, encode, hash_of, kind_of, plain

TEXT = st.text(st.characters(exclude_categories=["Cs"]))
PLAIN = st.recursive(
    st.none() | st.booleans() | st.integers(-LARGEST, LARGEST) | TEXT,
    lambda inner: st.lists(inner) | st.dictionaries(TEXT, inner),
)


@given(PLAIN)
def test_two_implementations_agree_on_the_canonical_form(value: Json) -> None:
    assert canonical(value) == jcs.canonicalize(value)
    assert json.loads(canonical(value)) == value


def test_the_published_example_of_strings_and_literals_is_met() -> None:
    read = json.loads(r'{"string": "€$\u000F\u000aA\u0027\u0042\u0022\u005c\\\"\/", "literals": [null, true, false]}')
    expected = r'{"literals":[null,true,false],"string":"€$\u000f\nA' + "'" + r'B\"\\\\\"/"}'
    assert canonical(read).decode() == expected


def test_the_published_example_of_sorting_is_met() -> None:
    # RFC 8785, 3.2.3: by UTF-16 code units, so that the emoji (a surrogate pair) stands before U+FB33.
    names = ["\u20ac", "\r", "\ufb33", "1", "\U0001f600", "\u0080", "\u00f6"]
    order = ["\r", "1", "\u0080", "\u00f6", "\u20ac", "\U0001f600", "\ufb33"]
    assert list(json.loads(canonical(dict.fromkeys(names, "")))) == order


def test_a_hash_is_of_the_canonical_form_without_itself() -> None:
    fields: dict[str, Json] = {"seq": 1, "hand": None, "at": "x", "body": {"v": 1, "note": "é"}, "prev": "0"}
    text = '{"at":"x","body":{"note":"é","v":1},"hand":null,"prev":"0","seq":1}'
    assert canonical(fields).decode() == text
    assert hash_of(fields | {"hash": "anything"}, '{"note":"é","v":1}') == hashlib.sha256(text.encode()).hexdigest()
    assert digest(b"abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"  # FIPS 180


def body_of(body_type: type[Body], text: str) -> Body:
    """A body of that type whose every text is ``text``, empty where it is a list or a map."""
    shapes: Mapping[str, Any] = {"str": text, "str | None": text, "int": 7, "bool": True}
    return body_type(
        **{
            each.name: shapes.get(str(each.type), () if str(each.type).startswith("tuple") else {})
            for each in fields(body_type)
        }
    )


@pytest.mark.parametrize(("kind", "body_type"), BODIES)
@given(text=TEXT)
def test_every_kind_comes_back_as_it_was(kind: str, body_type: type[Body], text: str) -> None:
    body = body_of(body_type, text)
    assert kind_of(body) == kind
    assert decode(kind, encode(body)) == body


@pytest.mark.parametrize("body", [ledgers.quiz(), ledgers.observation({"a": "clean"}), ledgers.tailgate()])
def test_what_is_nested_comes_back_as_it_was(body: Body) -> None:
    assert decode(kind_of(body), encode(body)) == body


@pytest.mark.parametrize(
    ("kind", "change", "where"),
    [
        ("joined", {"crew": 1}, "crew"),
        ("joined", {"crew": None}, "crew"),
        ("joined", {"v": "1"}, "v"),
        ("joined", {"v": True}, "v"),
        ("joined", {"more": "x"}, "more"),
        ("unheard-of", {}, "kind"),
    ],
)
def test_a_field_of_another_type_or_too_many_is_refused(kind: str, change: dict[str, Json], where: str) -> None:
    with pytest.raises(StoreDamaged) as caught:
        decode(kind, encode(Joined("day-1", "floorhand")) | change)
    assert (caught.value.code, caught.value.values["where"]) == ("body-form", where)


@pytest.mark.parametrize("name", ["crew", "position", "v"])
def test_a_field_too_few_is_refused(name: str) -> None:
    data = encode(Joined("day-1", "floorhand"))
    del data[name]
    with pytest.raises(StoreDamaged, match="body-form"):
        decode("joined", data)


def test_a_field_too_many_deep_inside_is_refused() -> None:
    data: dict[str, Any] = encode(ledgers.observation({"a": "clean"}))
    data["steps"][0]["more"] = "x"
    with pytest.raises(StoreDamaged, match="steps"):
        decode("observation", data)


@dataclass(frozen=True, slots=True)
class Spot:
    """Something inside a body, of which the second field came with version 2."""

    place: str
    depth: str = field(default="-", metadata={"since": 2})


@dataclass(frozen=True, slots=True)
class Grown:
    """A body as it stands after two fields came with version 2, one of them inside another."""

    gear: str
    spots: tuple[Spot, ...]
    v: int = 2
    checked: bool = field(default=False, metadata={"since": 2})


@pytest.fixture
def grown(monkeypatch: pytest.MonkeyPatch) -> None:
    """A kind with that body: none of the real ones has grown yet."""
    monkeypatch.setattr("trainer.store.coding._KINDS", {**dict(BODIES), "grown": Grown})


OLD = '{"gear":"set-1","spots":[{"place":"bowl"}],"v":1}'
"""A body as version 1 wrote it: these very bytes were hashed."""


@pytest.mark.usefixtures("grown")
def test_an_old_record_reads_and_hashes_as_it_was_written() -> None:
    body = decode("grown", json.loads(OLD))
    assert cast("object", body) == Grown("set-1", (Spot("bowl"),), v=1)
    assert canonical(encode(body)).decode() == OLD


@pytest.mark.usefixtures("grown")
def test_a_new_record_holds_what_came_later() -> None:
    body = cast("Body", Grown("set-1", (Spot("bowl", "2"),), checked=True))
    text = '{"checked":true,"gear":"set-1","spots":[{"depth":"2","place":"bowl"}],"v":2}'
    assert canonical(encode(body)).decode() == text
    assert decode("grown", json.loads(text)) == body


@pytest.mark.parametrize("change", [{"checked": False}, {"v": 2}, {"v": 3}])
@pytest.mark.usefixtures("grown")
def test_a_field_that_the_version_has_not_or_lacks_is_refused(change: dict[str, Json]) -> None:
    with pytest.raises(StoreDamaged, match="body-form"):
        decode("grown", json.loads(OLD) | change)


@pytest.mark.parametrize("value", [1.0, {"a": 0.5}, {1: "a"}, {"a"}, b"a", LARGEST + 1, -LARGEST - 1])
def test_what_has_no_one_form_is_not_plain(value: object) -> None:
    with pytest.raises((TypeError, ValueError)):
        plain(value)


@given(PLAIN)
@example({"\U00010000": 1, "\uffff": 2, "a": '\x7f\u2028\x00\\"'})
@example({"\U0001f600": {"\ue000": [True, None, -1]}})
def test_the_quick_writer_writes_the_one_form_too(value: Json) -> None:
    assert canonical_plain(value) == canonical(value)


def test_tuples_become_lists_and_enumerations_their_values() -> None:
    assert plain({"a": (1, ("x",)), "b": Gear("set-1", "check", "good", {"gap": "1.5"})}) == {
        "a": [1, ["x"]],
        "b": {"gear": "set-1", "what": "check", "outcome": "good", "figures": {"gap": "1.5"}, "note": None, "v": 1},
    }
    assert plain(Outside("a", "knowledge", "pass", "b")) == encode(Outside("a", "knowledge", "pass", "b"))


def test_record_ids_are_uuids_of_version_7_in_the_order_drawn() -> None:
    # RFC 9562, A.6: this id was drawn at 2022-02-22T19:22:22.000Z.
    assert uuid6.UUID("017f22e2-79b0-7cc3-98c4-dc0c0c07398f").time == 1645557742000
    drawn = [new_id() for _ in range(200)]
    assert {uuid.UUID(each).version for each in drawn} == {7}
    assert drawn == sorted(drawn)
    assert len(set(drawn)) == 200
