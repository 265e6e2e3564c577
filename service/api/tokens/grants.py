"""What an upload token allows, and the token itself: the grant in base64url, a dot, and a signature (HMAC with SHA-256).

The grant is readable, and meant to be: a page can see when its token ends before it sends a large file in vain. It holds
nothing that the page's visitor may not know. Whoever has the secret can tell whether it is right; how often it was used, and
whether it was taken back, is kept (`UploadTokenRow`).
"""

from __future__ import annotations

import hashlib
import json
from base64 import urlsafe_b64decode, urlsafe_b64encode
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

from itsdangerous import BadSignature, Signer

LONGEST_TOKEN = 64 * 1024

_PURPOSE = "print-spec upload token 2"
"""Keeps signatures of other things, and of tokens in another form, from being taken for these."""


@dataclass(frozen=True)
class Grant:
    """One product may be uploaded from one origin until a time."""

    id: str
    owner: str
    """The account that it is from, and that an upload with it is for."""
    spec: str | None
    """'id@revision' of a sheet that is kept."""
    sheet: str | None
    """Else the sheet itself, as JSON in its own format."""
    order: str | None
    """What only this order knows, as JSON."""
    origin: str
    maximum_size_bytes: int
    expires_at: datetime
    """To the second."""


def signed(grant: Grant, secrets: Sequence[str]) -> str:
    """The token; the first secret signs."""
    expires = int(grant.expires_at.timestamp())
    facts = {"id": grant.id, "owner": grant.owner, "origin": grant.origin, "expires": expires}
    facts |= {"maximum_size_bytes": grant.maximum_size_bytes}
    facts |= {key: value for key, value in (("spec", grant.spec), ("sheet", grant.sheet), ("order", grant.order)) if value}
    text = urlsafe_b64encode(json.dumps(facts, separators=(",", ":")).encode()).decode().rstrip("=")
    return _signer(secrets).sign(text).decode()


def read_grant(token: str, secrets: Sequence[str]) -> Grant | None:
    """Whatever its time; None where none of the secrets has signed it."""
    try:
        text = _signer(secrets).unsign(token.encode("ascii")).decode("ascii")
        facts = json.loads(urlsafe_b64decode(text + "=" * (-len(text) % 4)))
    except (BadSignature, ValueError):
        return None
    return Grant(
        id=facts["id"],
        owner=facts["owner"],
        spec=facts.get("spec"),
        sheet=facts.get("sheet"),
        order=facts.get("order"),
        origin=facts["origin"],
        maximum_size_bytes=facts["maximum_size_bytes"],
        expires_at=datetime.fromtimestamp(facts["expires"], UTC),
    )


def _signer(secrets: Sequence[str]) -> Signer:
    """The library signs with the last of its keys and takes every one; comparing takes the same time whatever is wrong."""
    return Signer(list(reversed(secrets)), salt=_PURPOSE, key_derivation="hmac", digest_method=hashlib.sha256)
