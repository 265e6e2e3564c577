"""`service.client`, the door for scripts."""

from __future__ import annotations

import io
import json
from collections.abc import Callable
from typing import Any

from service.client import Check, PrintSpec, ProblemError
from tests.recorded.files import Made
from tests.recorded.recorder import Recorder
from tests.recorded.spec_calls import CARD

CARD_ID = "business-card-85x55"


def play(here: Recorder, made: Made) -> None:
    here = here.inside("client")
    sheet = {**CARD, "id": "client-card"}
    with PrintSpec(here.address) as service:

        def record(name: str, ask: Callable[[], Any]) -> Any:
            try:
                answer = ask()
            except ProblemError as problem:
                answer = {"status": problem.status, "code": problem.code, "errors": problem.errors, "said": str(problem)}
            if isinstance(answer, Check):
                here.volatile.learn(answer.id, f"check client/{name}")
            here.write(name, json.dumps(answer.answer if isinstance(answer, Check) else answer, ensure_ascii=False))
            return answer

        def file() -> io.BytesIO:
            return io.BytesIO(made.pdf)

        record("specs", lambda: service.specs(product="business-card"))
        record("spec", lambda: service.spec(CARD_ID, units="in", revision=3))
        record("spec-unknown", lambda: service.spec("nothing"))
        record("keep", lambda: service.keep_spec(sheet))
        record("keep-again", lambda: service.keep_spec(sheet))
        digest = record("revisions", lambda: service.revisions("client-card"))[0]["digest"]
        record("replace", lambda: service.replace_spec("client-card", {**sheet, "bleed": {"minimum": "4 mm"}}, digest=digest))
        record("replace-again", lambda: service.replace_spec("client-card", sheet, digest=digest))
        record("matches", lambda: service.matches(file(), most="2"))
        record("reading", lambda: service.reading("Bleed 3 mm, trim 85 x 55 mm"))
        check = record("check", lambda: service.check(file(), spec="client-card", idempotency_key="client"))
        record("check-again", lambda: service.check(check=check.id, spec_sheet={"bleed": {"minimum": "9 mm"}}))
        record("check-order", lambda: service.check(file(), spec="book-a5-cover", order={"inner_pages": 96, "caliper_mm": 0.11}))
        record("check-refused", lambda: service.check(file(), spec="nothing"))
        record("token", lambda: service.upload_token("https://shop.example", spec=CARD_ID, maximum_size="1 MB"))
        record("result", lambda: service.result(check.id))
        record("forget", lambda: service.forget(check.id))
        record("result-forgotten", lambda: service.result(check.id))
        record("delete", lambda: service.delete_spec("client-card"))
