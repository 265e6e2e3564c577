"""The description as it is given out: what the views say of themselves, in the order of the job, with calls that were made."""

from __future__ import annotations

import copy
from collections.abc import Mapping
from typing import Any

from service.answers.problems import PROBLEMS
from service.api.description.code import code_samples
from service.api.description.exchanges import Exchange, exchanges_of, problems_met
from service.api.description.operations import BY_CALL, GROUPS

_BYTES = ("application/pdf", "image/png")
_PLAIN_FORM = "application/x-www-form-urlencoded"
METHODS = ("get", "put", "post", "delete", "patch")
_OTHER = "Other calls"
"""Where a call is shown that `service/api/description/operations.py` does not name; a test keeps that from happening."""
_IN_THE_ADDRESS = {"spec_id": "business-card-85x55", "page": 1, "ink": "Cyan", "slug": "not-a-pdf"}
"""What works at once where the address is tried out; a check has to be made first."""


def completed(views: Mapping[str, Any]) -> dict[str, Any]:
    """`views`: the description as the library gathers it from the views."""
    whole = copy.deepcopy(dict(views))
    paths = dict(whole["paths"])
    named = [(path, method) for method, path in BY_CALL]
    order = {path: number for number, (path, _) in enumerate(reversed(named))}
    for path, item in paths.items():
        _share_out(item)
        for method in METHODS:
            if method in item:
                _mend_bodies(item[method], whole["components"]["schemas"])
                _complete(method, path, item[method])
    whole["paths"] = dict(sorted(paths.items(), key=lambda one: -order.get(one[0], -1)))
    met = [{"name": group.name, "description": group.purpose} for group in GROUPS]
    others = any(_OTHER in item[method]["tags"] for item in paths.values() for method in METHODS if method in item)
    whole["tags"] = met + ([{"name": _OTHER, "description": "New here."}] if others else [])
    _show_problems(whole["components"]["responses"])
    return whole


def _share_out(item: dict[str, Any]) -> None:
    """Parameters of an address stand at each of its calls: some generators look for them nowhere else."""
    shared = item.pop("parameters", [])
    for method in METHODS:
        if method in item and shared:
            item[method]["parameters"] = [*copy.deepcopy(shared), *item[method].get("parameters", [])]


def _complete(method: str, path: str, operation: dict[str, Any]) -> None:
    found = BY_CALL.get((method, path))
    if found is None:
        operation["tags"] = [_OTHER]
        return
    group, known = found
    operation["operationId"], operation["tags"] = known.id, [group.name]
    operation["description"] = "\n\n".join(filter(None, (operation.get("description"), known.purpose)))
    for parameter in operation.get("parameters", []):
        if parameter.get("in") == "path" and parameter["name"] in _IN_THE_ADDRESS:
            parameter["example"] = _IN_THE_ADDRESS[parameter["name"]]
    exchanges = exchanges_of(known.id)
    for exchange in exchanges:
        _show(exchange, operation)
    if exchanges:
        operation["x-codeSamples"] = code_samples(exchanges[0], with_key=bool(operation.get("security")))


def _mend_bodies(operation: dict[str, Any], schemas: dict[str, Any]) -> None:
    """What generators of clients stumble over: bytes that are not called so, and two kinds of form with one schema."""
    bodies = [operation.get("requestBody", {}), *operation["responses"].values()]
    for content in (body["content"] for body in bodies if "content" in body):
        for kind, one in content.items():
            if kind in _BYTES:
                one["schema"] = {"type": "string", "format": "binary", "contentMediaType": kind}
        name = content.get(_PLAIN_FORM, {}).get("schema", {}).get("$ref", "").rsplit("/", 1)[-1]
        if name:
            fields = {field: one for field, one in schemas[name]["properties"].items() if "contentMediaType" not in one}
            schemas[f"{name}WithoutFile"] = {**schemas[name], "properties": fields}
            content[_PLAIN_FORM]["schema"] = {"$ref": f"#/components/schemas/{name}WithoutFile"}


def _show(exchange: Exchange, operation: dict[str, Any]) -> None:
    request, answer = exchange.request, exchange.answer
    sent = operation.get("requestBody", {}).get("content", {}).get(request.type or "")
    if sent is not None and request.body is not None:
        _add(sent, exchange.says, request.body)
    told = operation["responses"].get(str(answer.status), {}).get("content", {}).get(answer.type or "")
    if told is not None and answer.body is not None:
        _add(told, exchange.says + (" (long lists are cut)" if answer.is_shortened else ""), answer.body)


def _add(content: dict[str, Any], says: str, value: Any) -> None:
    examples = content.setdefault("examples", {})
    examples[f"example-{len(examples) + 1}"] = {"summary": says, "value": value}


def _show_problems(responses: dict[str, Any]) -> None:
    """With each status the problems that come with it, as they came."""
    for code, exchange in problems_met().items():
        for response in responses.values():
            content = response["content"].get("application/problem+json")
            if content is not None and code in response["description"].split(";")[0].replace(":", ",").split(", "):
                content.setdefault("examples", {})[code] = {"summary": PROBLEMS[code].title, "value": exchange.answer.body}
