"""Every call has its name, its place in the order of the job, and an example that was really exchanged and still holds."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from jsonschema import Draft202012Validator

from service.answers.problems import PROBLEMS
from service.api.description.document import METHODS
from service.api.description.exchanges import FOLDER, Exchange, exchanges_of, problems_met
from service.api.description.operations import BY_CALL, GROUPS
from tests.api.contract import Caller, closed

TO_DO = "add its call to tests/examples/calls.py and run `python -m tests.examples`"


def calls(description: dict[str, Any]) -> Iterator[tuple[str, str, dict[str, Any]]]:
    for path, item in description["paths"].items():
        for method in METHODS:
            if method in item:
                yield method, path, item[method]


def test_every_call_is_named_in_the_order_of_the_job(caller: Caller) -> None:
    described = {(method, path) for method, path, _ in calls(caller.description)}
    assert described - BY_CALL.keys() == set(), "name it in service/api/description/operations.py"
    assert BY_CALL.keys() - described == set(), "take it out of service/api/description/operations.py"
    ids = [operation.id for _, operation in BY_CALL.values()]
    assert len(set(ids)) == len(ids)
    assert [tag["name"] for tag in caller.description["tags"]] == [group.name for group in GROUPS]


def test_every_call_has_an_example(caller: Caller) -> None:
    lacking = [operation.id for _, operation in BY_CALL.values() if not exchanges_of(operation.id)]
    assert lacking == [], TO_DO
    kept = {file.stem for file in FOLDER.glob("*.json")} - {"problems"}
    assert kept == {operation.id for _, operation in BY_CALL.values()}, TO_DO
    for _, _, operation in calls(caller.description):
        assert [one["label"] for one in operation["x-codeSamples"]] == ["curl", "Python", "JavaScript"]


def test_every_problem_has_an_example() -> None:
    assert set(PROBLEMS) - set(problems_met()) == set(), TO_DO.replace("calls", "problem_calls")
    assert {code: one.answer.body["status"] for code, one in problems_met().items()} == {
        code: kind.status for code, kind in PROBLEMS.items() if code in problems_met()
    }


def test_what_was_exchanged_is_still_what_is_described(caller: Caller) -> None:
    components = closed(caller.description["components"])
    for (method, path), (_, known) in BY_CALL.items():
        described = caller.description["paths"][path][method]
        for exchange in exchanges_of(known.id):
            assert re.fullmatch(re.sub(r"\{\w+\}", "[^/]+", path), exchange.request.path.split("?")[0]), exchange.says
            told = described["responses"][str(exchange.answer.status)]
            if exchange.answer.type:
                hold(told["content"][exchange.answer.type]["schema"], exchange.answer.body, exchange, components)
            if exchange.request.type == "application/json":
                sent = described["requestBody"]["content"]["application/json"]
                hold(sent["schema"], exchange.request.body, exchange, components)


def hold(schema: dict[str, Any], body: Any, exchange: Exchange, components: dict[str, Any]) -> None:
    if isinstance(body, dict):
        errors = [*Draft202012Validator({"components": components, **schema}).iter_errors(body)]
        assert [error.message[:200] for error in errors] == [], f"{exchange.says}: run `python -m tests.examples`"
