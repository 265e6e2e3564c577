"""The OpenAPI description as rows that the page under /docs shows."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

_METHODS = ("get", "post", "put", "patch", "delete")


def operations_of(description: dict[str, Any]) -> list[dict[str, Any]]:
    return [
        {
            "method": method.upper(),
            "path": path,
            "anchor": f"{method}-{path}".replace("/", "-").replace("{", "").replace("}", ""),
            "summary": operation.get("summary", ""),
            "parameters": [*map(_parameter, [*item.get("parameters", []), *operation.get("parameters", [])])],
            "bodies": [
                {"type": kind, "rows": rows_of(one.get("schema", {}), description)}
                for kind, one in operation.get("requestBody", {}).get("content", {}).items()
            ],
            "needs": [scope for one in operation.get("security", []) for scopes in one.values() for scope in scopes],
            "responses": [*_responses(operation, description)],
        }
        for path, item in description["paths"].items()
        for method, operation in item.items()
        if method in _METHODS
    ]


def schemas_of(description: dict[str, Any]) -> list[dict[str, Any]]:
    return [
        {"name": name, "rows": rows_of(schema, description)}
        for name, schema in sorted(description["components"].get("schemas", {}).items())
    ]


def rows_of(schema: dict[str, Any], description: dict[str, Any]) -> list[dict[str, Any]]:
    """The keys of an object: name, kind, sentence, and the schema that it points to."""
    schema = _followed(schema, description)
    needed = set(schema.get("required", []))
    return [
        {"name": name, "required": name in needed, "sentence": value.get("description", ""), **_kind(value)}
        for name, value in schema.get("properties", {}).items()
    ]


def _parameter(parameter: dict[str, Any]) -> dict[str, Any]:
    return {
        "name": parameter["name"], "where": parameter["in"], "required": parameter.get("required", False),
        "sentence": parameter.get("description", ""), **_kind(parameter.get("schema", {})),
    }


def _responses(operation: dict[str, Any], description: dict[str, Any]) -> Iterator[dict[str, Any]]:
    for status, answer in sorted(operation["responses"].items()):  # "default" comes last
        full = _followed(answer, description)
        kinds = [{"type": kind, **_kind(one.get("schema", {}))} for kind, one in full.get("content", {}).items()]
        yield {"status": status, "sentence": full.get("description", ""), "kinds": kinds}


def _followed(schema: dict[str, Any], description: dict[str, Any]) -> dict[str, Any]:
    for _ in range(5):
        if "$ref" not in schema:
            break
        target: Any = description
        for step in schema["$ref"].removeprefix("#/").split("/"):
            target = target[step]
        schema = target
    return schema


def _kind(schema: dict[str, Any]) -> dict[str, str]:
    """'kind' in words, 'see' the name of the schema that it points to."""
    if "$ref" in schema:
        name = schema["$ref"].rsplit("/", 1)[-1]
        return {"kind": name, "see": name}
    for combined in ("anyOf", "allOf", "oneOf"):
        if combined in schema:
            inner = [_kind(one) for one in schema[combined]]
            return {
                "kind": " or ".join(one["kind"] for one in inner),
                "see": next((one["see"] for one in inner if one["see"]), ""),
            }
    if "items" in schema:
        inside = _kind(schema["items"])
        return {"kind": f"list of {inside['kind']}{' or null' if 'null' in schema.get('type', []) else ''}", "see": inside["see"]}
    types = schema.get("type", "any")
    kind = types if isinstance(types, str) else " or ".join(types)
    if "enum" in schema:
        kind = " | ".join("null" if one is None else str(one) for one in schema["enum"])
    return {"kind": kind, "see": ""}
