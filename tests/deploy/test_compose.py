"""The compose file for several machines, held against what it stands on: settings, commands, the Dockerfile, the proxy.

No docker is asked: what it would refuse of the file is looked for here, and that its parts would find each other.
"""

from __future__ import annotations

import json
import re
import tomllib
from typing import Any
from urllib.parse import urlsplit

import pytest
from sqlalchemy import make_url

from service.cli.commands import parser_for
from service.setting_values import KEYS as ASKS_FOR_KEYS
from service.settings import Settings, near_misses, read_settings
from tests.deploy.compose_file import DEPLOY, ENV_FILE, asked_for, compose_text, composed
from tests.deploy.image.building import ROOT
from tests.deploy.image.dockerfile import Stage, stages_of
from tests.s3 import environment as for_a_store

APIS, WORKERS = {"api-1", "api-2"}, {"worker-1", "worker-2"}
KNOWN = {
    "build", "cap_drop", "command", "configs", "depends_on", "entrypoint", "environment", "healthcheck", "image", "networks",
    "ports", "read_only", "restart", "security_opt", "stop_grace_period", "tmpfs", "volumes",
}  # fmt: skip
"""Attributes of a service that the Compose Specification has and that are used here: a misspelled one is refused."""


@pytest.fixture(scope="module")
def whole() -> dict[str, Any]:
    return composed(ENV_FILE)


@pytest.fixture(scope="module")
def image() -> Stage:
    return stages_of((ROOT / "Dockerfile").read_text())[-1]


@pytest.fixture(scope="module")
def proxy() -> str:
    return (DEPLOY / "nginx.conf").read_text()


def settings_of(whole: dict[str, Any], image: Stage, name: str) -> tuple[dict[str, str], Settings]:
    """What that part is given, by the image and by the file, and as it is read."""
    own = {key: value for step in image.steps if step.name == "ENV" for key, value in step.values.items()}
    given = own | whole["services"][name]["environment"]
    return given, read_settings(given)


def depends_on(part: dict[str, Any]) -> dict[str, str]:
    """Name → what is waited for, in either way of writing it."""
    named = part.get("depends_on", {})
    if isinstance(named, list):
        return dict.fromkeys(named, "service_started")
    return {name: how["condition"] for name, how in named.items()}


def command_of(part: dict[str, Any], image: Stage) -> list[str]:
    command: list[str] = part.get("command", image.last("CMD").command)
    return command


def test_it_has_two_apis_and_two_workers_and_what_they_stand_on(whole: dict[str, Any]) -> None:
    assert set(whole["services"]) == {"proxy", "database", "files", "files-bucket"} | APIS | WORKERS
    assert {key for key in whole if not key.startswith("x-")} == {"services", "configs", "networks", "volumes"}
    for name, part in whole["services"].items():
        assert set(part) <= KNOWN, name
        assert ("image" in part, "latest" in part["image"]) == (True, False), name


def test_what_an_env_file_is_to_hold_is_said_at_its_head(whole: dict[str, Any]) -> None:
    asked = asked_for(compose_text())
    head = "".join(line for line in compose_text().splitlines() if line.startswith("#"))
    assert asked == dict.fromkeys(ENV_FILE, True) | {"CALLBACK_SECRET": False}
    assert set(re.findall(r"\b[A-Z][A-Z0-9]*_[A-Z_]+\b", head)) == set(asked)
    assert "$" not in json.dumps(whole), "nothing is left to be put in"
    for name in asked:
        given = {one: value for one, value in ENV_FILE.items() if one != name}
        if asked[name]:
            with pytest.raises(LookupError, match=name):
                composed(given)
        else:
            assert composed(given)["services"]["worker-1"]["environment"]["PRINT_SPEC_CALLBACK_SECRET"] == ""


@pytest.mark.parametrize("name", sorted(APIS | WORKERS))
def test_a_part_of_the_service_can_begin_with_its_settings(whole: dict[str, Any], image: Stage, name: str) -> None:
    given, settings = settings_of(whole, image, name)
    assert near_misses(given) == []
    assert settings.access == ASKS_FOR_KEYS
    assert (settings.workers == 0) == (name in APIS), "APIs run none"
    assert (bool(settings.callback_secrets), settings.sandbox) == (True, "required")
    assert str(settings.data) in whole["services"][name]["volumes"], "its root is read-only"
    assert [key for key in given if key.startswith("AWS_")] != []
    assert {key for key in given if key.startswith("AWS_")} == set(for_a_store(""))


@pytest.mark.parametrize("name", sorted(APIS | WORKERS))
def test_a_part_of_the_service_is_a_command_of_the_image_that_may_write_nowhere(
    whole: dict[str, Any], image: Stage, name: str
) -> None:
    part = whole["services"][name]
    program, *arguments = command_of(part, image)
    assert (program, arguments[0]) == ("print-spec", "serve" if name in APIS else "work")
    assert parser_for(arguments).parse_args(arguments).run
    assert (part["read_only"], part["cap_drop"], part["tmpfs"]) == (True, ["ALL"], ["/tmp"])
    assert part["security_opt"] == ["no-new-privileges:true"]
    _, settings = settings_of(whole, image, name)
    grace = float(part["stop_grace_period"].removesuffix("s"))
    assert grace >= 2 * settings.stop_seconds, "it is not killed while it lets its checks finish"
    assert (part.get("healthcheck") == {"disable": True}) == (name in WORKERS), "the image's asks for HTTP"


def test_it_is_built_from_the_dockerfile_with_extras_that_there_are(whole: dict[str, Any]) -> None:
    extras = tomllib.loads((ROOT / "pyproject.toml").read_text())["project"]["optional-dependencies"]
    for name in APIS | WORKERS:
        build = whole["services"][name]["build"]
        assert ((DEPLOY / build["context"]).resolve(), (ROOT / "Dockerfile").is_file()) == (ROOT, True)
        assert set(build["args"]["EXTRAS"].split(",")) == {"postgres", "s3"} <= set(extras)


def test_database_and_store_are_those_that_the_parts_are_told_of(whole: dict[str, Any], image: Stage) -> None:
    services, own = whole["services"], whole["services"]["database"]["environment"]
    told = json.loads(whole["configs"]["s3"]["content"])
    (identity,) = told["identities"]
    for name in APIS | WORKERS:
        given, settings = settings_of(whole, image, name)
        url = make_url(settings.database_url)
        assert url.host in services
        assert (url.username, url.password, url.database) == (
            own["POSTGRES_USER"], own["POSTGRES_PASSWORD"], own["POSTGRES_DB"],
        )  # fmt: skip
        assert urlsplit(given["AWS_ENDPOINT_URL"]).hostname == "files"
        keys = {"accessKey": given["AWS_ACCESS_KEY_ID"], "secretKey": given["AWS_SECRET_ACCESS_KEY"]}
        assert identity["credentials"] == [keys]
        assert f"-name {urlsplit(settings.files).hostname}'" in services["files-bucket"]["entrypoint"][-1]
    assert services["files-bucket"]["image"] == services["files"]["image"]
    (config,) = services["files"]["configs"]
    assert config["source"] in whole["configs"]
    assert f"-s3.config={config['target']}" in services["files"]["command"]


def test_what_is_waited_for_can_come(whole: dict[str, Any]) -> None:
    for name, part in whole["services"].items():
        for other, condition in depends_on(part).items():
            awaited = whole["services"][other]
            if condition == "service_healthy":
                assert "test" in awaited["healthcheck"], name
            elif condition == "service_completed_successfully":
                assert "restart" not in awaited, "it ends"
            else:
                assert condition == "service_started"


def test_each_part_reaches_those_it_needs_and_no_others(whole: dict[str, Any]) -> None:
    networks = {name: set(part["networks"]) for name, part in whole["services"].items()}
    assert set().union(*networks.values()) == set(whole["networks"])
    assert whole["networks"]["back"] == {"internal": True}

    def reach(one: str, other: str) -> bool:
        return bool(networks[one] & networks[other])

    assert all(reach(one, other) for one in APIS | WORKERS for other in ("database", "files"))
    assert reach("files-bucket", "files")
    assert all(reach("proxy", api) for api in APIS)
    assert not any(reach("proxy", other) for other in {"database", "files"} | WORKERS)
    assert [name for name in networks if "out" in networks[name]] == sorted(WORKERS), "they deliver callbacks"
    assert [name for name, part in whole["services"].items() if "ports" in part] == ["proxy"]


def test_what_is_kept_lies_in_volumes_that_are_declared(whole: dict[str, Any]) -> None:
    named = set()
    for name, part in whole["services"].items():
        for volume in part.get("volumes", []):
            source, _, rest = volume.partition(":")
            if not rest:
                assert volume == "/data", "a folder of the container's own"
            elif source.startswith("."):
                assert ((DEPLOY / source).is_file(), rest.endswith(":ro")) == (True, True), name
            else:
                named.add(source)
    assert named == set(whole["volumes"])


def test_the_proxy_is_the_one_that_is_tried_with_a_real_nginx(whole: dict[str, Any], image: Stage, proxy: str) -> None:
    part = whole["services"]["proxy"]
    (volume,) = part["volumes"]
    source, target, rights = volume.split(":")
    assert ((DEPLOY / source).resolve(), target, rights) == (DEPLOY / "nginx.conf", "/etc/nginx/nginx.conf", "ro")
    (published,) = part["ports"]
    assert re.findall(r"listen (\d+);", proxy) == [published.rpartition(":")[2]]
    ports = {image.last("EXPOSE").rest, command_of({}, image)[-1]}
    assert set(re.findall(r"server ([\w-]+):(\d+) ", proxy)) == {(api, port) for api in APIS for port in ports}
    assert set(depends_on(part)) == APIS


def test_the_proxy_lets_through_what_the_service_takes_and_waits_as_long(
    whole: dict[str, Any], image: Stage, proxy: str
) -> None:
    _, settings = settings_of(whole, image, "api-1")
    ((megabytes, seconds),) = re.findall(r"client_max_body_size (\d+)m;.*?proxy_read_timeout (\d+)s;", proxy, re.DOTALL)
    assert int(megabytes) * 2**20 > settings.maximum_upload_bytes + 10**6, "and a form around it"
    assert int(seconds) > settings.wait_seconds
    assert "proxy_set_header X-Forwarded-For $remote_addr;" in proxy
    assert settings.proxies == 1, "that one is believed"
