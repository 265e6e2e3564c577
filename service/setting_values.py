"""How values of settings are written where it takes more than a number: where files are kept, and where callbacks go.

Each raises ValueError with how to write it.
"""

from __future__ import annotations

import base64
import binascii
import re
from ipaddress import IPv4Network, IPv6Network, ip_network

SECRET_PREFIX = "whsec_"
SHORTEST_SECRET_BYTES, LONGEST_SECRET_BYTES = 24, 64
"""As the Standard Webhooks specification has them."""


def bucket(text: str) -> str:
    if text and not re.fullmatch(r"s3://[^/\s]+(/[^\s]*)?", text.strip()):
        raise ValueError("write an address such as 's3://bucket/folder', or nothing for the data folder")
    return text.strip()


def callback_secrets(text: str) -> tuple[bytes, ...]:
    try:
        secrets = tuple(base64.b64decode(one.removeprefix(SECRET_PREFIX), validate=True) for one in _listed(text))
    except binascii.Error:
        secrets = (b"",)
    right = all(SHORTEST_SECRET_BYTES <= len(one) <= LONGEST_SECRET_BYTES for one in secrets)
    if not right or not all(one.startswith(SECRET_PREFIX) for one in _listed(text)):
        raise ValueError("write secrets such as 'whsec_' and 32 random bytes in base64, separated by commas, or nothing")
    return secrets


def hosts(text: str) -> tuple[str, ...]:
    named = tuple(one.lower() for one in _listed(text))
    if not all(re.fullmatch(r"(\*\.)?[a-z0-9-]+(\.[a-z0-9-]+)*|[0-9a-f:]+", one) for one in named):
        raise ValueError("write names of hosts, such as 'hooks.shop.example, *.press.example', or nothing")
    return named


def networks(text: str) -> tuple[IPv4Network | IPv6Network, ...]:
    try:
        return tuple(map(ip_network, _listed(text)))
    except ValueError as error:
        raise ValueError("write networks such as '10.1.0.0/16, fd00::/8', or nothing") from error


def _listed(text: str) -> list[str]:
    return [one.strip() for one in text.split(",")] if text.strip() else []
