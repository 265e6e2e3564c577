"""What the grammar makes of words, nothing kept for a person to confirm: `read_prose` asks about what is often read wrongly."""

from __future__ import annotations

from dataclasses import replace

from service.sheets.prose import reading
from service.sheets.prose.claims.claim import Claim
from service.sheets.prose.combining import combined, with_levels, with_the_least_edge
from service.sheets.prose.documents import drafted
from service.sheets.prose.doubting import NONE
from service.sheets.prose.drafts import Reading
from service.sheets.prose.gathering import gathered
from service.sheets.prose.products import common_claims
from service.sheets.prose.words.statements import statements_of
from tests.sheets.readings_score import leaves


def read_prose(text: str, media_type: str = "text/plain") -> Reading:
    return reading.read_prose(text, media_type, NONE)


def extracted(text: str) -> dict[str, object]:
    """What the sentences say of everything, whether or not a sign of doubt would ask about it."""
    claims = [_for_all(claim) for claim in gathered(text, statements_of(text), NONE).claims]
    kept, _ = combined(common_claims(claims))
    document, _, _ = drafted(with_levels(with_the_least_edge(kept)))
    return dict(leaves(document))


def _for_all(claim: Claim) -> Claim:
    scope = claim.scope
    doubted = scope is not None and scope.kind == "unsure" and scope.family == "" and scope.words != ""
    return replace(claim, scope=None) if doubted else claim
