"""Chromium without a window, spoken to over a pipe: the DevTools protocol, messages of JSON that end with a zero byte.

A pipe needs no port and no library, and nothing is left listening.
"""

from __future__ import annotations

import base64
import json
import os
import select
import shutil
import signal
import tempfile
import time
from collections.abc import Mapping, Sequence
from contextlib import suppress
from pathlib import Path
from typing import Any

FLAGS = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--disable-dev-shm-usage",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--host-resolver-rules=MAP * ~NOTFOUND",  # nothing is fetched from the network: a page that tries shows it
    "--allow-file-access-from-files",
    "--hide-scrollbars",
    "--remote-debugging-pipe",
)

PATIENCE = 60.0
"""Seconds to wait for an answer."""


class BrowserError(Exception):
    """The browser did not answer, or answered with an error."""


def find_chromium() -> str | None:
    """Return the path of a Chromium, if one is installed."""
    return next(
        (path for name in ("chromium", "chromium-browser", "google-chrome") if (path := shutil.which(name))), None
    )


class Browser:
    """One running Chromium with one page."""

    def __init__(
        self, program: str, *flags: str, profile: Path | None = None, variables: Mapping[str, str] | None = None
    ) -> None:
        """Start a browser with flags of its own and variables of the environment.

        With `profile`, it has what an earlier one with that folder kept; else a new one, which is forgotten.
        """
        self._kept = profile is not None
        self._profile = str(profile) if profile else tempfile.mkdtemp(prefix="putback-browser-")
        # The browser reads from its descriptor 3 and writes to its 4. The pipes may have these numbers themselves, so
        # they go by way of two that nothing else has.
        to_read, self._out = os.pipe()
        self._in, to_write = os.pipe()
        with Path(os.devnull).open("r+b") as null:
            quiet = null.fileno()
            self._pid = os.posix_spawn(
                program,
                [program, *FLAGS, *flags, f"--user-data-dir={self._profile}", "about:blank"],
                {**os.environ, **(variables or {})},
                file_actions=[
                    (os.POSIX_SPAWN_DUP2, quiet, 0),
                    (os.POSIX_SPAWN_DUP2, quiet, 1),
                    (os.POSIX_SPAWN_DUP2, quiet, 2),
                    (os.POSIX_SPAWN_DUP2, to_read, 103),
                    (os.POSIX_SPAWN_DUP2, to_write, 104),
                    (os.POSIX_SPAWN_DUP2, 103, 3),
                    (os.POSIX_SPAWN_DUP2, 104, 4),
                    (os.POSIX_SPAWN_CLOSE, 103),
                    (os.POSIX_SPAWN_CLOSE, 104),
                ],
                setpgroup=0,
            )
        os.close(to_read)
        os.close(to_write)
        self._rest = b""
        self._count = 0
        self._session: str | None = None
        self.events: list[dict[str, Any]] = []
        targets = self.send("Target.getTargets")["targetInfos"]
        self._attach(next(target["targetId"] for target in targets if target["type"] == "page"))

    def _attach(self, page: str) -> None:
        """Speak with a page from now on."""
        self._page = page
        self._session = self.send("Target.attachToTarget", targetId=page, flatten=True)["sessionId"]
        self.send("Page.enable")
        self.send("Runtime.enable")
        self.send("Network.enable")
        self.send("Emulation.setFocusEmulationEnabled", enabled=True)

    def send(self, method: str, **params: Any) -> Any:
        """Send a command and return its result."""
        self._count += 1
        message: dict[str, Any] = {"id": self._count, "method": method, "params": params}
        if self._session:
            message["sessionId"] = self._session
        data = json.dumps(message).encode() + b"\0"
        while data:
            data = data[os.write(self._out, data) :]
        while True:
            answer = self._read(method)
            if answer.get("id") == self._count:
                if "error" in answer:
                    raise BrowserError(f"{method}: {answer['error']}")
                return answer["result"]
            self.events.append(answer)

    def _read(self, waiting_for: str) -> dict[str, Any]:
        limit = time.monotonic() + PATIENCE
        while b"\0" not in self._rest:
            ready, _, _ = select.select([self._in], [], [], max(0.0, limit - time.monotonic()))
            more = os.read(self._in, 1 << 16) if ready else b""
            if not more:
                raise BrowserError(f"no answer to {waiting_for}")
            self._rest += more
        line, _, self._rest = self._rest.partition(b"\0")
        answer: dict[str, Any] = json.loads(line)
        return answer

    def open(self, file: Path, width: int, *, dark: bool = False, touch: bool = False, query: str = "") -> None:
        """Show a file in a window of so many CSS pixels, and wait until it is loaded."""
        self.resize(width, touch=touch)
        scheme = "dark" if dark else "light"
        self.send("Emulation.setEmulatedMedia", features=[{"name": "prefers-color-scheme", "value": scheme}])
        self.events.clear()
        self.send("Page.navigate", url=file.resolve().as_uri() + query)
        limit = time.monotonic() + PATIENCE
        while not any(event.get("method") == "Page.loadEventFired" for event in self.events):
            if time.monotonic() > limit:
                raise BrowserError(f"{file.name} was not loaded")
            self.events.append(self._read("Page.loadEventFired"))

    def forget(self) -> None:
        """Go on in a new page, which finds nothing that a page from a folder has kept."""
        before, self._session = self._page, None
        page = self.send("Target.createTarget", url="about:blank")["targetId"]
        self.send("Target.closeTarget", targetId=before)
        self.events.clear()
        self._attach(page)
        self.send("Storage.clearDataForOrigin", origin="file://", storageTypes="all")

    def resize(self, width: int, *, touch: bool = False) -> None:
        """Make the window so many CSS pixels wide."""
        self.send("Emulation.setDeviceMetricsOverride", width=width, height=900, deviceScaleFactor=1, mobile=touch)

    def sideways(self, pages: Sequence[Path], widths: Sequence[int]) -> list[tuple[str, int, int]]:
        """Return each page that scrolls sideways in a window of some width, with that width and its own."""
        wide: list[tuple[str, int, int]] = []
        for page in pages:
            self.open(page, widths[0])
            for width in widths:
                self.resize(width, touch=width < 1024)
                scroll, inner = self.run("[document.documentElement.scrollWidth, window.innerWidth]")
                if (scroll, inner) != (width, width):
                    wide.append((page.name, width, max(scroll, inner)))
        return wide

    def press(self, key: str, code: int) -> None:
        """Press and let go a key, by its name and by its code on Windows (UI Events, "key" and "keyCode")."""
        for kind in ("rawKeyDown", "keyUp"):
            self.send("Input.dispatchKeyEvent", type=kind, key=key, code=key, windowsVirtualKeyCode=code)

    def requested(self) -> list[str]:
        """Return every address that the page has asked for since it was opened."""
        return [
            event["params"]["request"]["url"]
            for event in self.events
            if event.get("method") == "Network.requestWillBeSent"
        ]

    def run(self, script: str) -> Any:
        """Return the value of a JavaScript expression in the page; a promise is waited for."""
        done = self.send("Runtime.evaluate", expression=script, returnByValue=True, awaitPromise=True)
        if "exceptionDetails" in done:
            raise BrowserError(str(done["exceptionDetails"].get("exception", done["exceptionDetails"])))
        return done["result"].get("value")

    def picture(self) -> bytes:
        """Return the whole page as PNG."""
        size = self.send("Page.getLayoutMetrics")["cssContentSize"]
        clip = {"x": 0, "y": 0, "width": size["width"], "height": min(size["height"], 16000), "scale": 1}
        shot = self.send("Page.captureScreenshot", format="png", captureBeyondViewport=True, clip=clip)
        return base64.b64decode(shot["data"])

    def paper(self, size: str = "a4") -> bytes:
        """Return the page printed as PDF, on A4 or on Letter."""
        wide, high = {"a4": (8.27, 11.69), "letter": (8.5, 11)}[size]
        made = self.send("Page.printToPDF", paperWidth=wide, paperHeight=high, preferCSSPageSize=True)
        return base64.b64decode(made["data"])

    def close(self) -> None:
        """End the browser, if it still runs, and forget its profile."""
        if self._pid == 0:
            return
        with suppress(BrowserError, OSError):
            self._session = None
            self.send("Browser.close")
        for descriptor in (self._out, self._in):
            with suppress(OSError):
                os.close(descriptor)
        limit = time.monotonic() + 10
        while os.waitpid(self._pid, os.WNOHANG) == (0, 0):
            if time.monotonic() > limit:
                os.killpg(self._pid, signal.SIGKILL)
                os.waitpid(self._pid, 0)
                break
            time.sleep(0.05)
        self._forget()

    def kill(self) -> None:
        """End the browser at once, as a flat battery does: it can write nothing more."""
        os.killpg(self._pid, signal.SIGKILL)
        os.waitpid(self._pid, 0)
        self._pid = 0
        for descriptor in (self._out, self._in):
            os.close(descriptor)
        self._forget()

    def _forget(self) -> None:
        if not self._kept:
            shutil.rmtree(self._profile, ignore_errors=True)
