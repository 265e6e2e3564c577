"""`service/deploy/compose.yaml` as docker compose reads it: merged, with what `.env` holds put in, and nothing said twice."""

from __future__ import annotations

import re
from collections.abc import Hashable
from pathlib import Path
from typing import Any

import yaml

DEPLOY = Path(__file__).parents[2] / "service" / "deploy"
ENV_FILE = {
    "POSTGRES_PASSWORD": "a-word-for-tests", "S3_KEY": "a-key", "S3_SECRET": "a-secret", "TOKEN_SECRET": "t" * 32,
    "CALLBACK_SECRET": "whsec_" + "Y2hhb3M" * 8,
}  # fmt: skip
_VARIABLE = re.compile(r"\$\{(\w+)(:\?|:-|)([^}]*)\}")


class _Strict(yaml.SafeLoader):
    """PyYAML takes the last of two equal keys; a compose file with two of them is refused."""

    def construct_mapping(self, node: yaml.MappingNode, deep: bool = False) -> dict[Hashable, Any]:
        keys = [key.value for key, _ in node.value if key.tag != "tag:yaml.org,2002:merge"]
        if len(keys) != len(set(keys)):
            raise ValueError(f"said twice in line {node.start_mark.line + 1}: {sorted(keys)}")
        return super().construct_mapping(node, deep)


def compose_text() -> str:
    return (DEPLOY / "compose.yaml").read_text()


def asked_for(text: str) -> dict[str, bool]:
    """Names that stand for what `.env` holds → whether compose refuses to start without."""
    return {name: how == ":?" for name, how, _ in _VARIABLE.findall(text)}


def composed(given: dict[str, str]) -> dict[str, Any]:
    """With this as `.env`. Raises LookupError where something is required that is not given, ValueError where a key is twice."""

    def put_in(found: re.Match[str]) -> str:
        name, how, other = found.groups()
        if value := given.get(name):
            return value
        if how == ":-":
            return other
        raise LookupError(name)

    loaded = yaml.load(compose_text(), _Strict)

    def filled(part: Any) -> Any:
        if isinstance(part, dict):
            return {key: filled(value) for key, value in part.items()}
        if isinstance(part, list):
            return [filled(one) for one in part]
        return _VARIABLE.sub(put_in, part) if isinstance(part, str) else part

    whole: dict[str, Any] = filled(loaded)
    return whole
