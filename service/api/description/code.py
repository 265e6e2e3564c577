"""A call as code that makes it: curl, Python with requests, JavaScript (a page or Node).

`tests/examples` runs all of it against a running service.
"""

from __future__ import annotations

import json
import shlex
from pathlib import PurePosixPath
from urllib.parse import urlsplit

from service.api.description.exchanges import ADDRESS, Exchange, Request

_ENDINGS = {
    "application/pdf": ".pdf", "image/png": ".png", "image/svg+xml": ".svg", "text/html": ".html", "application/yaml": ".yaml",
}  # fmt: skip
_EVENTS = "text/event-stream"
_KEY = "PRINT_SPEC_KEY"
"""Where `print-spec check --service` looks for the key as well: it stands in no code."""


def code_samples(exchange: Exchange, *, with_key: bool = False) -> list[dict[str, str]]:
    """For `x-codeSamples`. `with_key`: the call sends an API key, which the code finds in its environment."""
    makers = (("Shell", "curl", _curl), ("Python", "Python", _python), ("JavaScript", "JavaScript", _javascript))
    return [{"lang": language, "label": label, "source": make(exchange, with_key)} for language, label, make in makers]


def _kept_as(exchange: Exchange) -> str | None:
    """The file that an answer goes into where it is for people to look at; None for JSON and for nothing."""
    ending = _ENDINGS.get(exchange.answer.type or "")
    return PurePosixPath(urlsplit(exchange.request.path).path).stem + ending if ending else None


def _headers(request: Request) -> dict[str, str]:
    return {**request.headers, **({"Content-Type": request.type} if request.type else {})}


def _text(request: Request) -> str | None:
    if request.body is None or isinstance(request.body, str):
        return request.body
    return json.dumps(request.body, ensure_ascii=False)


# --- curl -------------------------------------------------------------------------------------------------------------


def _curl(exchange: Exchange, with_key: bool) -> str:
    request, body, kept = exchange.request, _text(exchange.request), _kept_as(exchange)
    words = ["curl -sS"]
    implied = "POST" if request.files or request.form or body is not None else "GET"
    words += [f"-X {request.method}"] if request.method != implied else []
    words += [f"-H {shlex.quote(f'{name}: {value}')}" for name, value in _headers(request).items()]
    words += [f'-H "Authorization: Bearer ${_KEY}"'] if with_key else []
    words += [f"-F {name}=@{shlex.quote(file)}" for name, file in request.files.items()]
    words += [f"-F {shlex.quote(f'{name}={value}')}" for name, value in request.form.items()]
    words += [f"--data-binary {shlex.quote(body)}"] if body is not None else []
    words += [f"-o {kept}"] if kept else []
    words.append(shlex.quote(ADDRESS + request.path))
    line = " ".join(words)
    return line if len(line) <= 100 else " \\\n  ".join(words)


# --- Python -----------------------------------------------------------------------------------------------------------


def _python(exchange: Exchange, with_key: bool) -> str:
    request, kept = exchange.request, _kept_as(exchange)
    given: list[str] = []
    given += ['files={"file": pdf}'] if request.files else []
    given += [f"data={_py(dict(request.form))}"] if request.form else []
    if isinstance(request.body, str):
        given.append(f"data={_py(request.body)}.encode()")
    elif request.body is not None:
        given.append(f"json={_py(request.body)}")
    headers = {name: value for name, value in _headers(request).items() if not (name == "Content-Type" and "json" in value)}
    sent = [f"{_py(name)}: {_py(value)}" for name, value in headers.items()]
    sent += [f"\"Authorization\": f\"Bearer {{os.environ['{_KEY}']}}\""] if with_key else []
    given += [f"headers={{{', '.join(sent)}}}"] if sent else []
    call = _called(f"answer = requests.{request.method.lower()}(", [_py(ADDRESS + request.path), *given, "timeout=60"], ")")
    lines = (["import os"] if with_key else []) + (["from pathlib import Path"] if kept else [])
    lines += [*([""] if lines else []), "import requests", ""]
    for file in request.files.values():
        lines.append(f"with open({_py(file)}, 'rb') as pdf:".replace("'", '"'))
        call = "\n".join(f"    {line}" for line in call.splitlines())
    lines += [call, "answer.raise_for_status()"]
    if kept:
        lines.append(f"Path({_py(kept)}).write_bytes(answer.content)")
    elif exchange.answer.type:
        lines.append("print(answer.text)" if exchange.answer.type == _EVENTS else "print(answer.json())")
    return "\n".join(lines)


def _py(value: object) -> str:
    """As Python writes it, with the marks of JSON."""
    if isinstance(value, dict):
        return "{" + ", ".join(f"{_py(name)}: {_py(one)}" for name, one in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(_py, value)) + "]"
    return json.dumps(value, ensure_ascii=False) if isinstance(value, str) else repr(value)


# --- JavaScript -------------------------------------------------------------------------------------------------------


def _javascript(exchange: Exchange, with_key: bool) -> str:
    request, body, kept = exchange.request, request_body(exchange.request), _kept_as(exchange)
    lines: list[str] = []
    if request.files:
        lines += ['import { openAsBlob } from "node:fs"; // Node; in a page: input.files[0]', ""]
    if request.files or request.form:
        lines.append("const form = new FormData();")
        lines += [f'form.append("{name}", await openAsBlob("{file}"), "{file}");' for name, file in request.files.items()]
        lines += [f"form.append({_js(name)}, {_js(value)});" for name, value in request.form.items()]
    options = [f'method: "{request.method}"'] if request.method != "GET" else []
    sent = [f"{_js(name)}: {_js(value)}" for name, value in _headers(request).items()]
    sent += [f'"Authorization": `Bearer ${{process.env.{_KEY}}}`'] if with_key else []
    options += [f"headers: {{{', '.join(sent)}}}"] if sent else []
    options += [f"body: {body}"] if body else []
    lines.append(_called("const answer = await fetch(", [_js(ADDRESS + request.path), *_object(options)], ");"))
    lines.append("if (!answer.ok) throw new Error((await answer.json()).detail);")
    if kept:
        lines.append(f"const made = await answer.blob(); // {kept}")
    elif exchange.answer.type:
        lines.append(f"console.log(await answer.{'text' if exchange.answer.type == _EVENTS else 'json'}());")
    return "\n".join(lines)


def request_body(request: Request) -> str | None:
    if request.files or request.form:
        return "form"
    if request.body is None:
        return None
    return _js(request.body) if isinstance(request.body, str) else f"JSON.stringify({_js(request.body)})"


def _js(value: object) -> str:
    return json.dumps(value, ensure_ascii=False)


def _object(options: list[str]) -> list[str]:
    return ["{ " + ", ".join(options) + " }"] if options else []


def _called(head: str, given: list[str], end: str) -> str:
    line = head + ", ".join(given) + end
    if len(line) <= 100:
        return line
    inside = ",\n".join(f"    {one}" for one in given)
    return f"{head}\n{inside},\n{end}"
