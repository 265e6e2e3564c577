"""Every problem that the service answers with, met once: by calls that are wrong, and by services that are in trouble."""

from __future__ import annotations

import json
import re
import resource
import signal
import socket
import sqlite3
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

from tests.examples.calls import BOOKLET, CARD, SHOP
from tests.examples.recorder import Recorder
from tests.recorded.files import heavy
from tests.recorded.served import Served, environment, served

_SECONDS = 120
_LATER = "2026-11-27T13:00:00+00:00"
AT_ONCE = {"Prefer": "respond-async"}


def play(here: Recorder, work: Path) -> None:
    """`work`: the folder of the data of services, that of `here` in `data`."""
    (here.files / "heavy.pdf").write_bytes(heavy())
    (here.files / "letter.pdf").write_bytes(b"Dear Copperbeck Press")
    right = (here.files / "card-right.pdf").read_bytes()
    (here.files / "card-cut-off.pdf").write_bytes(right[:200])
    card = here.name(_sent(here, "card-right.pdf"), "problems")
    _wrong_calls(here, card)
    _wrong_sheets(here)
    _wrong_catalogues(here)
    _uploads(here)
    _pieces(here)
    _from_a_page(here, work)
    _with_keys(here, work)
    _troubled(here, work)
    _broken(here, work / "data", card)


def _sent(here: Recorder, file: str, spec: str = CARD, headers: dict[str, str] | None = None) -> str:
    answer = here.call(None, "", "POST /v1/checks", file=file, form={"spec": spec}, headers=headers)
    return str(answer.json()["id"])


def _wrong_calls(here: Recorder, card: str) -> None:
    here.call(None, "A body that is no JSON", "POST /v1/upload-tokens", body='{"spec": ')
    here.call(None, "An address that is none", "GET /v1/check")
    here.call(None, "A check that there is not", "GET /v1/checks/forgotten-long-ago")
    here.call(None, "A name that is nearly right", "GET /v1/specs/business-card-85x54")
    here.call(None, "A third page of two", f"GET /v1/checks/{card}/pages/3/picture")
    here.call(None, "An ink that is not there", f"GET /v1/checks/{card}/pages/1/plates/Gold")
    here.call(None, "A problem that there is not", "GET /problems/out-of-paper")
    here.call(None, "A method that is not taken", f"PATCH /v1/checks/{card}")
    here.call(None, "A report as a picture", f"GET /v1/checks/{card}/report", headers={"Accept": "image/png"})
    here.call(None, "An address without an end", f"GET /v1/specs?q={'x' * 9000}")
    here.call(None, "Headers without an end", "GET /v1/specs", headers={"Cookie": "x" * 70000})
    here.call(None, "A value that is not known", "GET /v1/specs?purpose=wrapping")


def _wrong_sheets(here: Recorder) -> None:
    own = {"id": "halyard-flyer", "extends": "flyer-a6"}
    kept = here.call(None, "", "POST /v1/specs", body=own)
    address = "/v1/specs/halyard-flyer"
    here.call(None, "An id that is taken", "POST /v1/specs", body=own)
    here.call(None, "A sheet that came with the service", f"DELETE /v1/specs/{CARD}")
    here.call(None, "A write without the ETag", f"PUT {address}", body=own)
    here.call(None, "A write over somebody else's", f"PUT {address}", body=own, headers={"If-Match": '"of-long-ago"'})
    wrong = {**own, "id": "two", "bleeds": {}, "trim": {"width": "8"}}
    here.call(None, "A wrong length and a wrong key", "POST /v1/specs", body=wrong)
    bare = {"id": "halyard-bare", "title": "Bare", "product": "flyer", "purpose": "print", "bleed": {"minimum": "3 mm"}}
    here.call(None, "", "POST /v1/specs", body=bare)
    here.call(None, "A sheet without a size", "GET /v1/specs/halyard-bare/drawing")
    here.call(None, "", f"DELETE {address}", headers={"If-Match": kept.headers["ETag"]})
    here.call(None, "A sheet that was deleted", f"GET {address}")


def _wrong_catalogues(here: Recorder) -> None:
    press = {"id": "halyard-press", "title": "Halyard Lane", "sheets": [CARD]}
    here.call(None, "", "POST /v1/catalogues", body=press)
    address = "/v1/catalogues/halyard-press"
    here.call(None, "An id that is taken", "POST /v1/catalogues", body=press)
    here.call(None, "A write over somebody else's", f"PUT {address}", body=press, headers={"If-Match": '"of-long-ago"'})
    wrong = {**press, "id": "two", "defaults": {"bleed": {"minimum": "3"}}, "sheets": [CARD, "business-card"]}
    here.call(None, "A wrong length for every sheet", "POST /v1/catalogues", body=wrong)
    here.call(None, "", f"DELETE {address}")
    here.call(None, "A catalogue that was deleted", f"GET {address}")
    here.call(None, "A catalogue that there is not", "GET /v1/catalogues/halyard-pres")


def _uploads(here: Recorder) -> None:
    here.call(None, "A letter that is no PDF", "POST /v1/checks", file="letter.pdf", form={"spec": CARD})
    here.call(None, "A body of another kind", "POST /v1/checks", body="<pdf/>", type="application/xml")
    here.call(None, "A sheet that there is not", "POST /v1/checks", file="card-right.pdf", form={"spec": "business-card"})
    key = {"Idempotency-Key": "order-4712"}
    here.call(None, "", "POST /v1/checks", file="card-right.pdf", form={"spec": CARD}, headers=key)
    here.call(None, "One key for two files", "POST /v1/checks", file="card-no-bleed.pdf", form={"spec": CARD}, headers=key)
    cut_off = here.name(_sent(here, "card-cut-off.pdf"), "cut off")
    for what in ("pages/1/plates", "pages/1/picture", "preview"):
        here.call(None, "Of a file that cannot be read", f"GET /v1/checks/{cut_off}/{what}")


def _pieces(here: Recorder) -> None:
    """Uploads piece by piece."""
    kind = "application/offset+octet-stream"
    piece, begun, length = "%PDF-1.7\n", {"Upload-Offset": "0"}, {"Upload-Length": "9"}
    upload = here.call(None, "", "POST /v1/uploads", headers=length, new="in pieces").json()["id"]
    address = f"PATCH /v1/uploads/{upload}"
    digest = {**begun, "Content-Digest": "sha-256=:47DEQpj8HBSa+/TImW+5JCeuQeRkm5NMpJWZG3hSuFU=:"}
    here.call(None, "The digest of nothing, for something", address, headers=digest, body=piece, type=kind)
    here.call(None, "A file that has not come yet", "POST /v1/checks", form={"upload": upload, "spec": CARD})
    here.call(None, "", address, headers=begun, body=piece, type=kind)
    here.call(None, "The same piece once more", address, headers=begun, body=piece, type=kind)
    for _ in range(2):
        here.call(None, "A file that a check has", "POST /v1/checks", form={"upload": upload, "spec": CARD})
    here.call(None, "An upload that there is not", "GET /v1/uploads/forgotten-long-ago")
    old = {**length, "Tus-Resumable": "0.2.2"}
    here.call(None, "A version that is not spoken", "POST /v1/uploads", headers=old)
    while here.call(None, "One upload too many", "POST /v1/uploads", headers=length).ok:
        pass


def _from_a_page(here: Recorder, work: Path) -> None:
    asked = {"spec": CARD, "origin": SHOP, "valid_seconds": 60}
    token = here.name(here.call(None, "", "POST /v1/upload-tokens", body=asked).json()["token"], "token")
    page, other = {"Origin": SHOP}, {"Origin": "https://other.example"}
    here.call(None, "Not a token", "POST /v1/checks", file="card-right.pdf", form={"token": "none"}, headers=page)
    once = here.call(None, "", "POST /v1/upload-tokens", body={**asked, "uses": 1}).json()
    for _ in range(2):
        form = {"token": once["token"]}
        here.call(None, "A token for one file", "POST /v1/checks", file="card-right.pdf", form=form, headers=page)
    here.call(None, "A token that there is not", "DELETE /v1/upload-tokens/of-long-ago")
    here.call(None, "By a name that is not this machine's", "GET /v1/specs", headers={"Host": "print.example"})
    here.call(None, "A page of another shop", "POST /v1/checks", file="card-right.pdf", form={"token": token}, headers=other)
    with served(work / "later", _LATER) as service:
        later = here.at(service.address)
        later.call(None, "An hour later", "POST /v1/checks", file="card-right.pdf", form={"token": token}, headers=page)


def _with_keys(here: Recorder, work: Path) -> None:
    """A service that asks for keys, and accounts that have used theirs up."""
    data = work / "keys"
    right, read = (_key(data, "halyard-lane", *scopes) for scopes in (("check", "read"), ("read",)))
    small, quick = (_key(data, name, "check") for name in ("small", "quick"))
    for line in ("small --bytes-per-day 2kB", "quick --requests-per-minute 1"):
        _command(data, "limits", *line.split())
    send: dict[str, Any] = {"file": "card-right.pdf", "form": {"spec": CARD}}
    with served(data, ACCESS="keys") as service:
        shop = here.at(service.address)
        shop.call(None, "Without a key", "POST /v1/checks", **send)
        shop.call(None, "A key that is none", "GET /v1/audit", headers=_bearer("psk_1f2e3d4c_of-another-service"))
        shop.call(None, "A key for something else", "POST /v1/checks", headers=read, **send)
        shop.call(None, "More than there is for a day", "POST /v1/checks", headers=small, **send)
        for _ in range(2):
            shop.call(None, "One too many in a minute", "DELETE /v1/checks/of-long-ago", headers=quick)
        _command(data, "limits", "halyard-lane", "--disk", "2kB")
        shop.call(None, "More than the account may keep", "POST /v1/checks", headers=right, **send)


def _key(data: Path, account: str, *scopes: str) -> dict[str, str]:
    return _bearer(_command(data, "make", account, *(word for scope in scopes for word in ("--scope", scope))))


def _bearer(key: str) -> dict[str, str]:
    return {"Authorization": f"Bearer {key}"}


def _command(data: Path, *words: str) -> str:
    command = [sys.executable, "-m", "service", "keys", *words]
    env = environment(DATA=str(data))
    done = subprocess.run(command, env=env, stdout=subprocess.PIPE, text=True, check=True, timeout=_SECONDS)
    return done.stdout.strip()


def _troubled(here: Recorder, work: Path) -> None:
    with served(work / "small", MAXIMUM_UPLOAD="2 kB", OWN_SHEETS="1") as service:
        small = here.at(service.address)
        small.call(None, "A file that is too large", "POST /v1/checks", file="brochure-12-pages.pdf", form={"spec": BOOKLET})
        for name in ("one", "two"):
            small.call(None, "One sheet too many", "POST /v1/specs", body={"id": name, "extends": CARD})
    with served(work / "full", FREE_SPACE="900000 GB") as service:
        full = here.at(service.address)
        full.call(None, "A disk that is full", "POST /v1/checks", file="card-right.pdf", form={"spec": CARD})
        full.call(None, "A disk that is full", "GET /readyz")
    with served(work / "hurried", CHECK_SECONDS="1") as service:
        here.at(service.address).call(None, "More than is done in time", "POST /v1/specs/template-readings", file="heavy.pdf")
    with served(work / "busy", WORKERS="1", QUEUE_LENGTH="1", STOP_SECONDS="20") as service:
        busy = here.at(service.address)
        running = here.name(_sent(busy, "heavy.pdf", headers=AT_ONCE), "running")
        _until_running(busy, running)
        at_once = {"Idempotency-Key": "order-4713", **AT_ONCE}
        waiting = here.name(_sent(busy, "card-right.pdf", headers=at_once), "waiting")
        send = {"file": "card-right.pdf", "form": {"spec": CARD}, "headers": at_once}
        busy.call("checkFile", "Answered at once: it waits", "POST /v1/checks", **send)
        busy.call(None, "One file too many", "POST /v1/checks", file="card-right.pdf", form={"spec": CARD})
        busy.call(None, "A check that still waits", f"GET /v1/checks/{waiting}/preview")
        _at_the_door(busy, service)


def _at_the_door(here: Recorder, service: Served) -> None:
    """What the door answers by itself, which an HTTP library does not bring about."""
    with _socket(service) as slow:
        slow.sendall(b"GET /healthz HTTP/1.1\r\nHost: ")
        here.problems["too-slow"] = _raw(slow, "A request that stays half sent")
    soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
    resource.setrlimit(resource.RLIMIT_NOFILE, (min(hard, 4096), hard))
    with ExitStack() as open_sockets:
        for _ in range(1001):
            last = open_sockets.enter_context(_socket(service))
        here.problems["crowded"] = _raw(last, "A thousand connections and one")
    resource.setrlimit(resource.RLIMIT_NOFILE, (soft, hard))
    time.sleep(1)
    with _socket(service) as kept:
        kept.sendall(b"GET /healthz HTTP/1.1\r\nHost: x\r\n\r\n")
        kept.recv(9999)
        kept.sendall(b"GET /healthz HTTP/1.1\r\nHost: ")
        time.sleep(1)
        service.process.send_signal(signal.SIGTERM)
        here.problems["stopping"] = _raw(kept, "A service that is being stopped")


@contextmanager
def _socket(service: Served) -> Iterator[socket.socket]:
    where = urlsplit(service.address)
    with socket.create_connection((where.hostname or "", where.port or 0), timeout=_SECONDS) as one:
        yield one


def _raw(one: socket.socket, says: str) -> dict[str, object]:
    told = b""
    while piece := one.recv(9999):
        told += piece
    head, body = told.split(b"\r\n\r\n", 1)
    status = int(head.split()[1])
    retry = re.search(rb"Retry-After: (\d+)", head)
    answer = {"status": status, "type": "application/problem+json", "body": json.loads(body)}
    if retry:
        answer["headers"] = {"Retry-After": retry[1].decode()}
    return {"says": says, "request": {"method": "GET", "path": "/healthz"}, "answer": answer}


def _until_running(here: Recorder, check: str) -> None:
    until = time.monotonic() + _SECONDS
    while here.call(None, "", f"GET /v1/checks/{check}").json()["state"] != "running":
        if time.monotonic() > until:
            raise TimeoutError("the heavy file is not measured")
        time.sleep(0.05)


def _broken(here: Recorder, data: Path, card: str) -> None:
    """A service whose files and whose database somebody has touched."""
    for file in data.rglob(f"*{card}*"):
        file.unlink()
    here.call(None, "A file that is gone", f"GET /v1/checks/{card}/dummy")
    database = data / "checks.sqlite3"
    with sqlite3.connect(database, timeout=30) as rows:
        rows.execute("update checks set state = 'failed', problem = 'interrupted' where id = ?", (card,))
    failed = here.call(None, "", f"GET /v1/checks/{card}").json()["problem"]
    here.call(None, "A report of a check that failed", f"GET /v1/checks/{card}/report?format=pdf")
    here.problems["interrupted"] = {
        "says": "In the answer of a check, as its `problem`",
        "request": {"method": "GET", "path": f"/v1/checks/{here.made_up(card)}"},
        "answer": {"status": 200, "type": "application/json", "body": failed},
    }
    with sqlite3.connect(database, timeout=30) as rows:
        rows.execute("update checks set state = 'finished', problem = null, judgement = '{' where id = ?", (card,))
    here.call(None, "A fault of the service", f"GET /v1/checks/{card}")
