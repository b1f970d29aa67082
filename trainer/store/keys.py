"""The secrets beside the database: pepper of the PINs, secret of the cookies, the site's Ed25519 signing key.

They are files in DIR/keys that only their owner reads, and never in the database: a copied database opens nothing.
"""

from __future__ import annotations

import base64
import hashlib
import hmac
import os
import secrets
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError
from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat

from trainer.errors import StoreDamaged
from trainer.settings import Settings
from trainer.store.driver_errors import os_errors

__all__ = ["FOLDER", "NAMES", "Keys", "fits", "in_folder", "make", "put", "read"]

FOLDER = "keys"
"""The folder of the secrets inside the data folder."""

_LENGTH = 32
NAMES = ("pepper", "cookie", "signing")
"""The files of the secrets."""

# 19 MiB and 2 passes, OWASP's floor: a shared tablet is signed in to all day, and the pepper and the counted tries
# guard a PIN more than another pass would.
_HASHER = PasswordHasher(time_cost=2, memory_cost=19 * 1024, parallelism=1)


@dataclass(frozen=True, slots=True)
class Keys:
    """The secrets, each 32 bytes, never shown; what they are used for is done here, so that they stay here."""

    pepper: bytes = field(repr=False)
    cookie: bytes = field(repr=False)
    signing: bytes = field(repr=False)

    def pin_hash(self, pin: str) -> str:
        """The argon2id hash of ``pin`` under the pepper."""
        return _HASHER.hash(_mac(self.pepper, pin))

    def pin_fits(self, pin_hash: str | None, pin: str) -> bool:
        """Whether ``pin`` is the one that was hashed; never for ``None``, which takes as long as a wrong PIN."""
        if pin_hash is None:
            _HASHER.hash(_mac(self.pepper, pin))
            return False
        try:
            return _HASHER.verify(pin_hash, _mac(self.pepper, pin))
        except (VerificationError, InvalidHashError):
            return False

    def session_of_ticket(self, ticket: str) -> str:
        """The session id that belongs to a ticket: no table holds it, and nobody without the secret can work it out."""
        return _mac(self.cookie, f"session {ticket}").hex()

    def cookie_of(self, session_id: str) -> str:
        """The cookie's value for that session: its id and a signature."""
        return f"{session_id}.{_mac(self.cookie, f'cookie {session_id}').hex()}"

    def session_in(self, cookie: str | None) -> str | None:
        """The session id in a cookie that was signed here; ``None`` for any other cookie."""
        session_id, _, _ = (cookie or "").partition(".")
        is_ours = hmac.compare_digest((cookie or "").encode(), self.cookie_of(session_id).encode())
        return session_id if is_ours else None

    def sign(self, data: bytes) -> bytes:
        """The site's Ed25519 signature of ``data``, 64 bytes."""
        return Ed25519PrivateKey.from_private_bytes(self.signing).sign(data)

    def sign_text(self, data: bytes) -> str:
        """``sign`` as base64url without padding."""
        return _text(self.sign(data))

    def public(self) -> str:
        """The site's public signing key, base64url without padding."""
        public = Ed25519PrivateKey.from_private_bytes(self.signing).public_key()
        return _text(public.public_bytes(Encoding.Raw, PublicFormat.Raw))


def fits(key: str, data: bytes, signature: str) -> bool:
    """Whether ``signature`` of ``data`` was made with the private half of ``key``; both base64url without padding."""
    try:
        Ed25519PublicKey.from_public_bytes(_bytes(key)).verify(_bytes(signature), data)
    except (ValueError, InvalidSignature):
        return False
    return True


def _text(raw: bytes) -> str:
    return base64.urlsafe_b64encode(raw).decode().rstrip("=")


def _bytes(text: str) -> bytes:
    raw = base64.b64decode(text + "=" * (-len(text) % 4), altchars=b"-_", validate=True)
    # The last letter has bits that no byte takes; with any of them turned it is another text for the same bytes.
    if _text(raw) != text:
        raise ValueError("base64url")
    return raw


def _mac(key: bytes, text: str) -> bytes:
    return hmac.new(key, text.encode(), hashlib.sha256).digest()


def in_folder(settings: Settings) -> Path:
    """Where the secrets of the site in the data folder are."""
    return settings.data / FOLDER


def read(folder: Path) -> Keys:
    """The secrets in ``folder``.

    Raises ``StoreDamaged("keys-missing")`` where one is missing or cut short, ``StoreUnavailable`` where one cannot be
    read.
    """
    with os_errors(folder):
        found = [_content(folder / name) for name in NAMES]
    return Keys(*found)


def _content(path: Path) -> bytes:
    content = path.read_bytes() if path.exists() else b""
    if len(content) != _LENGTH:
        raise StoreDamaged("keys-missing", file=str(path))
    return content


def make(folder: Path) -> list[Path]:
    """The files and folders that had to be made for the secrets, the folder first; secrets already there stay."""
    return put(folder, {name: secrets.token_bytes(_LENGTH) for name in NAMES})


def put(folder: Path, given: Mapping[str, bytes]) -> list[Path]:
    """The same for secrets that are ``given``, by name, as a backup holds them."""
    made = [] if folder.exists() else [folder]
    with os_errors(folder):
        folder.mkdir(mode=0o700, exist_ok=True)
        for name, secret in given.items():
            if not (folder / name).exists():
                made.append(folder / name)
                _write_secret(folder / name, secret)
    return made


def _write_secret(path: Path, secret: bytes) -> None:
    # Made with its final mode: a secret that anybody could read for a moment is no secret.
    with os.fdopen(os.open(path, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600), "wb") as file:
        file.write(secret)
