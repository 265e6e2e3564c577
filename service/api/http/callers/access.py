"""Who calls, and whether he may: 'Authorization: Bearer psk_…' (RFC 6750), or nothing in open mode.

Each view says what it needs (`Blueprint.needs`); one that says nothing is closed. What somebody may not see is told to him as
what does not exist, and is looked for in the same way.
"""

from __future__ import annotations

from typing import Any

from flask import Flask, current_app, g, request

from service.accounts.callers import ANYBODY, OPEN, SCOPES, Caller, Scope
from service.accounts.keys import LONGEST_SENT, digest_of
from service.accounts.this_machine import is_this_machine, named_in
from service.api.http.blueprint import FORMS, Needs, parts
from service.api.http.callers.signed_in import prefix_signed_in
from service.api.http.problems import Problem
from service.api.http.waiting import asked_anew
from service.jobs.checking import now
from service.language.spoken import say
from service.setting_values import KEYS
from service.setting_values import OPEN as OPEN_HERE
from service.store.accounts.accounts import Found
from service.store.accounts.audit import By
from service.store.database import DatabaseAway

_CLOSED = Needs("administer")
_PAGES_WITH_DATA = frozenset({"web", "sheet_pages", "writing_pages"})
_PAGES = _PAGES_WITH_DATA | {"signing_in", "embedding", "pages", "api-docs", "guides", "reference"}
"""Blueprints of pages: a browser sends no key, so they show what is everybody's, and checks by their address, and to whoever is
signed in what is his."""
_FILES = "web.static_file"
_REALM = 'Bearer realm="print-spec-service"'


def register(app: Flask) -> None:
    app.before_request(_before)


def is_refused(app: Flask, environ: dict[str, Any]) -> bool:
    """Whether a request is refused for its head alone, so that its body need not come. It is not answered by this."""
    with app.request_context(environ):
        try:
            _before()
        except Problem:
            return True
        except DatabaseAway:  # who answers the request tells of it
            return False
        return request.routing_exception is not None


def caller() -> Caller:
    found = g.caller
    assert isinstance(found, Caller)
    return found


def owner() -> str | None:
    """The account whose things the caller sees; None: only what is everybody's."""
    return caller().owner


def owner_and_hand() -> By:
    """For the audit trail. Raises `Problem` for nobody in particular."""
    found = caller()
    if found.owner is None:
        raise key_missing()
    return By(found.owner, found.by)


def sheets_allowed() -> int:
    return (caller().limits or parts().settings.limits).sheets


def act_for(owner: str, by: str) -> None:
    """Whoever has an upload token acts for the account that it is from, whatever else he sent."""
    here = parts()
    keyed = here.settings.access == KEYS
    limits = here.accounts.wished(owner).over(here.settings.limits) if keyed else None
    g.caller = Caller(owner, frozenset({"check"}), by, limits, is_visitor=True)


def key_missing() -> Problem:
    """Of whoever sees only what is everybody's: he sent no key, or one that does not allow to see more."""
    if (not_enough := g.get("not_enough")) is not None:
        return _not_enough(*not_enough)
    detail = say(
        "Send an API key in the header Authorization: Bearer psk_… Whoever runs the service makes one. Without a key only stored "
        "sheets can be read, and checks that were sent to be read by everybody who has their address."
    )
    return Problem("key-missing", detail, headers={"WWW-Authenticate": _REALM})


def _before() -> None:
    g.caller = ANYBODY
    if parts().settings.access != KEYS:
        _hold_to_this_machine()
        g.caller = OPEN
        return
    needs = _needs()
    if request.blueprint in _PAGES_WITH_DATA and request.endpoint != _FILES:
        needs = Needs("edit-sheets" if request.blueprint == "writing_pages" else "read", unless="link")
    if needs.scope is None or request.method == "OPTIONS":
        return
    sent = request.headers.get("Authorization") if request.blueprint not in _PAGES else None
    if sent is not None:
        _hold_scope(_with_key(sent), needs)
    elif (found := _signed_in()) is not None:
        _hold_scope(found, needs)
    elif needs.unless is None or (needs.unless == "token" and request.mimetype not in FORMS):
        raise key_missing()


def _hold_to_this_machine() -> None:
    """A page that has its own name point to this machine (DNS rebinding) would be read all answers by the browser."""
    host = named_in(request.headers.get("Host", ""))
    if _needs().scope is None and request.blueprint not in _PAGES_WITH_DATA:  # the same for all, and no secret
        return
    if parts().settings.access == OPEN_HERE and host and not is_this_machine(host):
        detail = say(
            "The service is open to this machine alone and was called as {host}. Call it by 127.0.0.1 or localhost; where "
            "something in front decides who comes in, whoever runs the service sets {setting}.",
            host=host[:100], setting="PRINT_SPEC_ACCESS=open-anywhere",
        )
        raise Problem("not-this-machine", detail)


def _hold_scope(found: Caller, needs: Needs) -> None:
    """Raises `Problem`."""
    if needs.scope is None or found.may(needs.scope):
        g.caller = found
    elif needs.unless in ("stored", "link"):  # a key never makes one see less
        g.not_enough = (found, needs.scope)
    else:
        raise _not_enough(found, needs.scope)


def _not_enough(found: Caller, scope: Scope) -> Problem:
    allowed = ", ".join(one for one in SCOPES if found.may(one))
    detail = say("This needs a key that allows '{scope}'; yours allows: {allowed}.", scope=scope, allowed=allowed)
    told = f'{_REALM}, error="insufficient_scope", scope="{scope}"'
    return Problem("key-not-enough", detail, headers={"WWW-Authenticate": told})


def _with_key(sent: str) -> Caller:
    """Raises `Problem`, the same one whatever is wrong with it."""
    kind, _, key = sent.partition(" ")
    here = parts()
    found = here.accounts.by_digest(digest_of(key.strip()[:LONGEST_SENT]), now())
    if found is None or kind.lower() != "bearer":
        detail = say("This is no key of this service, or it was turned off. It is sent as: Authorization: Bearer psk_…")
        raise Problem("key-invalid", detail, headers={"WWW-Authenticate": f'{_REALM}, error="invalid_token"'})
    return _caller(found, "key")


def _caller(found: Found, by: str) -> Caller:
    limits = found.wished.over(parts().settings.limits)
    scopes = frozenset(scope for scope in SCOPES if scope in found.scopes)
    return Caller(found.owner, scopes, f"{by} {found.prefix}", limits, found.prefix)


def _signed_in() -> Caller | None:
    prefix = prefix_signed_in()
    found = parts().accounts.by_prefix(prefix, now()) if prefix else None
    g.is_signed_in = found is not None
    return _caller(found, "signed in with key") if found else None


def _needs() -> Needs:
    if request.endpoint is None:
        return Needs(None)  # no such address, or not with this method: said to everybody
    if request.blueprint in _PAGES:
        return Needs(None)
    if asked_anew() == "POST":
        return Needs("check", unless="link")  # who sent a file and waits is told of it
    view: Any = current_app.view_functions[request.endpoint]
    method = "get" if request.method == "HEAD" else request.method.lower()
    described = getattr(getattr(getattr(view, "view_class", None), method, None), "_apidoc", {})
    found = described.get("needs", _CLOSED)
    assert isinstance(found, Needs)
    return found
