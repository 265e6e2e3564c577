"""What a callback says, signed after the Standard Webhooks specification (standardwebhooks.com, version 1.0.0).

Whoever gets it knows by the signature that it comes from here, and by `webhook-id` whether it has come before: it may come twice.
"""

from __future__ import annotations

import base64
import hashlib
import hmac
import json

from service.store.models import CheckRow


def body_of(row: CheckRow) -> bytes:
    """The same each time, however often it is sent."""
    assert row.finished_at is not None, "only a check that is done with is told of"
    data = {
        "id": row.id,
        "state": row.state,
        "verdict": row.verdict,
        "file": {"name": row.file_name, "sha256": row.sha256},
        "spec": {"id": row.spec_id, "revision": row.spec_revision, "digest": row.spec_digest},
        "links": {"self": f"/v1/checks/{row.id}"},
    }
    said = {"type": f"check.{row.state}", "timestamp": row.finished_at.isoformat(), "data": data}
    return json.dumps(said, separators=(",", ":")).encode()


def headers_of(call_id: str, epoch_seconds: int, body: bytes, secrets: tuple[bytes, ...]) -> dict[str, str]:
    """A signature for each secret, so that one can be changed for another while both hold."""
    signed = f"{call_id}.{epoch_seconds}.".encode() + body
    signatures = (base64.b64encode(hmac.new(secret, signed, hashlib.sha256).digest()).decode() for secret in secrets)
    return {
        "Content-Type": "application/json",
        "webhook-id": call_id,
        "webhook-timestamp": str(epoch_seconds),
        "webhook-signature": " ".join(f"v1,{one}" for one in signatures),
    }
