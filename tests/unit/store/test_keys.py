"""The secrets beside the database."""

from __future__ import annotations

import base64
import os
import stat
from pathlib import Path

import pytest
from argon2 import extract_parameters
from argon2.low_level import Type
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey

from trainer.errors import StoreDamaged
from trainer.store import keys


@pytest.fixture
def secrets(tmp_path: Path) -> keys.Keys:
    keys.make(tmp_path / "keys")
    return keys.read(tmp_path / "keys")


def test_a_pin_is_hashed_by_argon2id_above_the_floor_and_with_a_salt(secrets: keys.Keys) -> None:
    pin_hash = secrets.pin_hash("274913")
    cost = extract_parameters(pin_hash)
    assert cost.type is Type.ID
    assert cost.memory_cost >= 19 * 1024
    assert cost.time_cost >= 2
    assert secrets.pin_hash("274913") != pin_hash


def test_only_the_right_pin_under_the_right_pepper_fits(secrets: keys.Keys, tmp_path: Path) -> None:
    pin_hash = secrets.pin_hash("274913")
    assert secrets.pin_fits(pin_hash, "274913")
    assert not secrets.pin_fits(pin_hash, "274914")
    assert not secrets.pin_fits(None, "274913")
    assert not secrets.pin_fits("no hash", "274913")
    keys.make(tmp_path / "other")
    assert not keys.read(tmp_path / "other").pin_fits(pin_hash, "274913")


def test_a_cookie_opens_the_session_that_it_was_signed_for_and_no_other(secrets: keys.Keys) -> None:
    session = secrets.session_of_ticket("ticket")
    cookie = secrets.cookie_of(session)
    assert secrets.session_in(cookie) == session
    another = "1" if cookie.startswith("0") else "0"
    for forged in (None, "", ".", session, f"{session}.", cookie[:-1], another + cookie[1:], f"{cookie} ", "é.é"):
        assert secrets.session_in(forged) is None


def test_a_session_is_worked_out_from_its_ticket_with_the_secret_only(secrets: keys.Keys, tmp_path: Path) -> None:
    keys.make(tmp_path / "other")
    assert secrets.session_of_ticket("ticket") == secrets.session_of_ticket("ticket")
    assert secrets.session_of_ticket("ticket") != keys.read(tmp_path / "other").session_of_ticket("ticket")


def test_the_site_signs_with_the_key_that_it_shows(secrets: keys.Keys) -> None:
    public = Ed25519PublicKey.from_public_bytes(base64.urlsafe_b64decode(secrets.public() + "="))
    public.verify(secrets.sign(b"head"), b"head")


def test_the_secrets_show_in_no_message(secrets: keys.Keys) -> None:
    assert repr(secrets) == "Keys()"


@pytest.mark.skipif(os.name == "nt", reason="Windows has no such modes")
def test_only_their_owner_reads_the_files(tmp_path: Path) -> None:
    made = keys.make(tmp_path / "keys")
    modes = {path.name: stat.S_IMODE(path.stat().st_mode) for path in made}
    assert modes == {"keys": 0o700, "pepper": 0o600, "cookie": 0o600, "signing": 0o600}


def test_secrets_that_are_there_stay(tmp_path: Path) -> None:
    keys.make(tmp_path / "keys")
    before = (tmp_path / "keys" / "pepper").read_bytes()
    (tmp_path / "keys" / "cookie").unlink()
    assert keys.make(tmp_path / "keys") == [tmp_path / "keys" / "cookie"]
    assert (tmp_path / "keys" / "pepper").read_bytes() == before


@pytest.mark.parametrize("content", [None, b"", b"short"])
def test_a_secret_missing_or_cut_short_is_named(tmp_path: Path, content: bytes | None) -> None:
    keys.make(tmp_path)
    (tmp_path / "pepper").unlink()
    if content is not None:
        (tmp_path / "pepper").write_bytes(content)
    with pytest.raises(StoreDamaged, match="pepper"):
        keys.read(tmp_path)
