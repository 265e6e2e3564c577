"""The description of the service: valid by its standard, and complete."""

from __future__ import annotations

from openapi_spec_validator import OpenAPIV31SpecValidator

from service.answers.problems import PROBLEMS
from service.api.checks.requests import CheckForm
from service.api.http.problem_pages import OR_PAGE
from tests.api.contract import Caller


def test_the_description_is_valid_openapi_3_1(caller: Caller) -> None:
    """OpenAPI Specification 3.1.0, by the validator of another project."""
    assert caller.description["openapi"] == "3.1.0"
    OpenAPIV31SpecValidator(caller.description).validate()


def test_every_route_of_v1_is_described_with_its_methods(caller: Caller) -> None:
    described = {
        (method.upper(), path) for path, item in caller.description["paths"].items() for method in item if method != "parameters"
    }
    routes = {
        (method, str(rule).replace("<spec_id:", "<").replace("<", "{").replace(">", "}"))
        for rule in caller.client.application.url_map.iter_rules()
        for method in (rule.methods or set()) - {"HEAD", "OPTIONS"}
    }
    pages = {("GET", path) for path in ("/", "/docs", "/docs/style.css", "/openapi.json", "/metrics")}
    pages |= {("GET", f"/static/check-upload.{kind}") for kind in ("js", "mjs", "d.ts")}
    pages |= {("GET", path) for path in ("/docs/{name}", "/docs/viewer/{name}")}
    pages |= {("GET", path) for path in ("/checks/{check_id}", "/specs", "/specs/{spec_id}", "/static/{path:name}")}
    pages |= {(method, path) for method in ("GET", "POST") for path in ("/specs/new", "/specs/{spec_id}/edit")}
    pages |= {("GET", "/sign-in"), ("POST", "/sign-in"), ("POST", "/sign-out")}
    assert described == routes - pages


def test_the_upload_is_one_body_with_file_and_fields(caller: Caller) -> None:
    body = caller.description["paths"]["/v1/checks"]["post"]["requestBody"]["content"]
    assert set(body) == {"multipart/form-data", "application/x-www-form-urlencoded", "application/pdf"}
    form = caller.description["components"]["schemas"]["CheckForm"]
    assert set(form["properties"]) == set(CheckForm().fields)
    assert form["properties"]["file"]["contentMediaType"] == "application/pdf"
    assert body["multipart/form-data"]["encoding"]["file"]["contentType"] == "application/pdf"


def test_every_operation_describes_problems_as_problems(caller: Caller) -> None:
    for path, item in caller.description["paths"].items():
        for method, operation in item.items():
            if method == "parameters":
                continue
            assert "default" in operation["responses"], f"{method} {path}"
            assert operation["summary"], f"{method} {path}"
    for name, response in caller.description["components"]["responses"].items():
        page = ["text/html"] if name.endswith(OR_PAGE) else []
        assert list(response["content"]) == ["application/problem+json", *page]


def test_the_list_of_problems_is_closed(caller: Caller) -> None:
    kinds = caller.description["components"]["schemas"]["ProblemAnswer"]["properties"]["type"]["enum"]
    assert kinds == [f"/problems/{code}" for code in PROBLEMS]


def test_query_and_header_parameters_are_described(caller: Caller) -> None:
    def names(path: str, method: str) -> set[str]:
        item = caller.description["paths"][path]
        return {one["name"] for one in [*item.get("parameters", []), *item[method].get("parameters", [])]}

    assert {"product", "region", "purpose", "q", "origin", "trim", "catalogue", "page", "page_size", "If-None-Match"} == names(
        "/v1/specs", "get"
    )
    assert {"spec_id", "revision", "units", "resolved", "If-None-Match", "lang"} == names("/v1/specs/{spec_id}", "get")
    assert {"spec_id", "If-Match", "If-None-Match", "lang"} == names("/v1/specs/{spec_id}", "put")
    assert {"product", "region", "most", "lang", "catalogue"} == names("/v1/specs/matches", "post")
    assert {"Prefer", "Idempotency-Key", "Content-Digest", "spec", "order", "lang"} == names("/v1/checks", "post")
    assert {"check_id", "lang", "Prefer", "If-None-Match"} == names("/v1/checks/{check_id}", "get")
    assert {"check_id", "Last-Event-ID"} == names("/v1/checks/{check_id}/events", "get")
    plates = "/v1/checks/{check_id}/pages/{page}/plates"
    of_plates = {"check_id", "page", "ppi", "area", "lang", "If-None-Match"}
    assert names(plates, "get") == of_plates
    assert names(f"{plates}/total", "get") == {*of_plates, "look"}
    assert names(f"{plates}/{{ink}}", "get") == {*of_plates, "look", "ink"}
    picture = "/v1/checks/{check_id}/pages/{page}/picture"
    assert {"check_id", "page", "ppi", "show", "lang", "If-None-Match"} == names(picture, "get")


def test_a_plate_is_described_as_a_picture(caller: Caller) -> None:
    for last in ("total", "{ink}"):
        answer = caller.description["paths"][f"/v1/checks/{{check_id}}/pages/{{page}}/plates/{last}"]["get"]["responses"]["200"]
        assert list(answer["content"]) == ["image/png"]
        assert {"ETag", "Plate-Black-Percent"} <= set(answer["headers"])


def test_the_picture_of_a_page_is_described_as_one(caller: Caller) -> None:
    answer = caller.description["paths"]["/v1/checks/{check_id}/pages/{page}/picture"]["get"]["responses"]["200"]
    assert list(answer["content"]) == ["image/png"]
    assert {"ETag", "Picture-Made-From", "Picture-Colors", "Picture-Ppi"} <= set(answer["headers"])
