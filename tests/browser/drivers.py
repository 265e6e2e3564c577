"""One way to use different browsers, as far as a story needs it: open a page, run a script in it, choose a file.

Chromium by Playwright, as all other pages; Debian's Firefox, which Playwright cannot drive, by WebDriver BiDi (W3C) itself;
WebKit, as Debian has it, by WebDriver (W3C).
"""

from __future__ import annotations

import json
import os
import re
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any, Protocol

import requests
from playwright.sync_api import Page
from websockets.sync.client import ClientConnection, connect

from tests.outside_tools import MINI_BROWSER, program
from tests.patience import PATIENCE_SECONDS, until
from tests.running import child, free_port

_PREFERENCES = """
user_pref("app.update.auto", false);
user_pref("browser.shell.checkDefaultBrowser", false);
user_pref("datareporting.policy.dataSubmissionEnabled", false);
user_pref("dom.ipc.processCount", 1);
user_pref("dom.ipc.processPrelaunch.enabled", false);
user_pref("network.captive-portal-service.enabled", false);
user_pref("network.connectivity-service.enabled", false);
user_pref("services.settings.server", "data:,");
user_pref("toolkit.telemetry.enabled", false);
"""
"""Nothing asks anybody but the pages of the test, and little runs beside them."""


class Driver(Protocol):
    name: str

    def open(self, address: str) -> None: ...

    def run(self, script: str) -> Any:
        """The value of an expression, awaited."""

    def choose(self, element: str, file: Path) -> None:
        """In the file field that the expression names."""


def eventually(driver: Driver, script: str) -> Any:
    return until(lambda: driver.run(script), script)


class Chromium:
    name = "chromium"

    def __init__(self, page: Page) -> None:
        self.page = page

    def open(self, address: str) -> None:
        self.page.goto(address)

    def run(self, script: str) -> Any:
        return self.page.evaluate(script)

    def choose(self, element: str, file: Path) -> None:
        field = self.page.evaluate_handle(element).as_element()
        assert field is not None, element
        field.set_input_files(file)


class Firefox:
    name = "firefox"

    def __init__(self, line: ClientConnection) -> None:
        self._line, self._asked = line, 0
        self._call("session.new", capabilities={})
        self._page = self._call("browsingContext.getTree")["contexts"][0]["context"]

    def open(self, address: str) -> None:
        self._call("browsingContext.navigate", context=self._page, url=address, wait="complete")

    def run(self, script: str) -> Any:
        told = self._evaluate(f"(async () => JSON.stringify(await ({script})) ?? 'null')()")
        return json.loads(told["value"])

    def choose(self, element: str, file: Path) -> None:
        field = {"sharedId": self._evaluate(element)["sharedId"]}
        self._call("input.setFiles", context=self._page, element=field, files=[str(file.resolve())])

    def close(self) -> None:
        self._call("browser.close")

    def _evaluate(self, script: str) -> Any:
        target = {"context": self._page}
        told = self._call("script.evaluate", expression=script, target=target, awaitPromise=True, resultOwnership="root")
        assert told["type"] == "success", told["exceptionDetails"]["text"]
        return told["result"]

    def _call(self, method: str, **values: Any) -> Any:
        self._asked += 1
        self._line.send(json.dumps({"id": self._asked, "method": method, "params": values}))
        while True:
            told = json.loads(self._line.recv(PATIENCE_SECONDS))
            if told.get("id") == self._asked:
                assert told["type"] == "success", told
                return told["result"]


@contextmanager
def firefox(profile: Path) -> Iterator[Firefox]:
    profile.mkdir()
    (profile / "user.js").write_text(_PREFERENCES)
    log = profile / "firefox.log"
    command = [program("firefox-esr"), "--headless", "--no-remote", "--profile", str(profile), "--remote-debugging-port", "0"]
    with log.open("wb") as output, child(command, stdout=output, stderr=subprocess.STDOUT):
        found = until(lambda: re.search(r"BiDi listening on (ws://\S+)", log.read_text("utf-8", "replace")), "Firefox ready")
        with connect(f"{found[1]}/session", max_size=None, proxy=None) as line:
            driver = Firefox(line)
            yield driver
            driver.close()


_ELEMENT = "element-6066-11e4-a52e-4f735466cecf"
"""How WebDriver names an element in JSON (W3C WebDriver, 12.1)."""


class WebKit:
    name = "webkit"

    def __init__(self, address: str) -> None:
        options = {"binary": str(MINI_BROWSER), "args": ["--automation"]}
        wish = {"capabilities": {"alwaysMatch": {"webkitgtk:browserOptions": options}}}
        self._session = f"{address}/session"
        self._session += "/" + str(self._post("", wish)["sessionId"])

    def open(self, address: str) -> None:
        self._post("/url", {"url": address})

    def run(self, script: str) -> Any:
        told = self._post("/execute/async", self._script(f"JSON.stringify(await ({script})) ?? 'null'"))
        return json.loads(told)

    def choose(self, element: str, file: Path) -> None:
        found = self._post("/execute/sync", {"script": f"return {element}", "args": []})[_ELEMENT]
        self._post(f"/element/{found}/value", {"text": str(file.resolve())})

    def close(self) -> None:
        requests.delete(self._session, timeout=PATIENCE_SECONDS)

    def _script(self, value: str) -> dict[str, Any]:
        return {"script": f"const done = arguments[0]; (async () => done({value}))()", "args": []}

    def _post(self, path: str, body: object) -> Any:
        told = requests.post(self._session + path, json=body, timeout=PATIENCE_SECONDS)
        assert told.ok, told.text
        return told.json()["value"]


@contextmanager
def webkit(folder: Path) -> Iterator[WebKit]:
    """On a screen that nobody sees."""
    folder.mkdir()
    number = folder / "screen"
    port = free_port()
    with number.open("w") as screen, child([program("Xvfb"), "-displayfd", "1", "-nolisten", "tcp"], stdout=screen):
        shown = until(lambda: number.read_text().strip(), "a screen")
        sandbox = {"WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS": "1"}  # which needs what a container has not
        environment = {**os.environ, **sandbox, "DISPLAY": f":{shown}", "LIBGL_ALWAYS_SOFTWARE": "1", "HOME": str(folder)}
        with child([program("WebKitWebDriver"), f"--port={port}"], env=environment, stderr=subprocess.DEVNULL):
            address = f"http://127.0.0.1:{port}"
            until(lambda: _is_there(address), "WebKit's driver ready")
            driver = WebKit(address)
            yield driver
            driver.close()


def _is_there(address: str) -> bool:
    try:
        return requests.get(f"{address}/status", timeout=PATIENCE_SECONDS).ok
    except requests.ConnectionError:
        return False
