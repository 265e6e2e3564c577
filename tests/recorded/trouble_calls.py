"""A service in trouble: full, small, interrupted, without its files."""

from __future__ import annotations

import shutil
import time
from pathlib import Path

from tests.recorded.check_calls import CARD, send
from tests.recorded.files import Made, heavy
from tests.recorded.recorder import Recorder
from tests.recorded.served import served

_SECONDS = 300
AT_ONCE = {"Prefer": "respond-async"}


def play(here: Recorder, made: Made, work: Path) -> None:
    slow = Made("heavy", heavy())
    data = work / "trouble"
    with served(data, WORKERS="1", QUEUE_LENGTH="1") as service:
        full = here.inside("trouble/full", service.address)
        running = _running(full, slow)
        waiting = send(full, "queued", made, headers=AT_ONCE, spec=CARD)
        send(full, "one-too-many", made, spec=CARD)
        send(full, "one-too-many-german", made, query="?lang=de", spec=CARD)
        path = f"/v1/checks/{waiting}"
        paths = (
            "",
            "/report",
            "/report?format=pdf",
            "/report?format=json",
            "/pages/1/picture",
            "/pages/1/plates",
            "/preview",
            "/dummy",
            "/single-pages",
        )
        for one in paths:
            full.get(f"waiting{one}", path + one)
        full.get("waiting-page", f"/checks/{waiting}?lang=de")
        full.post("waiting-again", "/v1/checks", data={"check": waiting, "spec": CARD})
        full.call("forget-running", "DELETE", f"/v1/checks/{running}")
        _until(full, waiting, "finished")
        full.get("after-waiting", path)
        for file in data.rglob(f"*{waiting}*"):
            file.unlink()
        for one in paths:
            full.get(f"file-gone{one}", path + one)
        full.post("file-gone-again", "/v1/checks", data={"check": waiting, "spec": "flyer-a6"})
        running = _running(full, slow, "-to-be-interrupted")
    with served(data) as service:
        after = here.inside("trouble/interrupted", service.address)
        _until(after, running, "finished")
        for one in ("", "/report", "/report?format=pdf", "/pages/1/picture", "/preview"):
            after.get(f"check{one}", f"/v1/checks/{running}{one}")
        after.get("page", f"/checks/{running}?lang=fr")
    with served(work / "small", MAXIMUM_UPLOAD="2 kB") as service:
        small = here.inside("trouble/small", service.address)
        send(small, "too-large", Made("large", made.pdf + b"\n" * 2000), spec=CARD)
        send(small, "far-too-large", Made("large", made.pdf + bytes(3_000_000)), spec=CARD, query="?lang=fr")
        small.get("start", "/")
    with served(work / "hasty", CHECK_SECONDS="1") as service:
        hasty = here.inside("trouble/hasty", service.address)
        hasty.get("check", f"/v1/checks/{send(hasty, 'stopped', slow, spec=CARD)}")
    with served(work / "lost") as service:
        shutil.rmtree(work / "lost")
        here.inside("trouble/lost", service.address).get("ready", "/readyz")


def _running(here: Recorder, slow: Made, name: str = "") -> str:
    """Sent, and begun; whether the answer still said queued is luck, so it is not recorded."""
    file = {"file": ("heavy.pdf", slow.pdf)}
    sent = here.session.post(f"{here.address}/v1/checks", files=file, data={"spec": CARD}, headers=AT_ONCE, timeout=60)
    check = str(sent.json()["id"])
    here.volatile.learn(check, f"check {here.room}/heavy{name}")
    _until(here, check, "running")
    return check


def _until(here: Recorder, check: str, state: str) -> None:
    until = time.monotonic() + _SECONDS
    while (found := here.session.get(f"{here.address}/v1/checks/{check}", timeout=60).json()["state"]) != state:
        if time.monotonic() > until:
            raise TimeoutError(f"{check} is {found}, not {state}")
        time.sleep(0.02)
