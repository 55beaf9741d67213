"""What a person does with a page: points at something and presses it, types, chooses a file, comes back later."""

from __future__ import annotations

import time
from pathlib import Path

from tests.browser.devtools import PATIENCE, Browser, BrowserError

_PLACE = """
(it => {
  if (!it) return null;
  it.scrollIntoView({block: "center", behavior: "instant"});
  const box = it.getBoundingClientRect();
  const at = [box.left + box.width / 2, box.top + box.height / 2];
  const hit = document.elementFromPoint(...at);
  return [...at, Boolean(hit && (it.contains(hit) || hit.contains(it)))];
})
"""
"""Where an element is once it is in sight, and whether a finger there would hit it; without a promise, for pages whose
scripts are switched off."""

_STILL = 3
"""So many times, an element must have been found in one place before it is pressed."""


def found(selector: str) -> str:
    """Return the expression of the first element of a selector."""
    return f"document.querySelector({selector!r})"


def place_of(browser: Browser, selector: str) -> tuple[float, float]:
    """Return where to press an element, once nothing moves any more; fail when something lies over it."""
    limit = time.monotonic() + PATIENCE
    seen: list[list[float | bool] | None] = []
    while time.monotonic() < limit:
        seen.append(browser.run(f"{_PLACE}({found(selector)})"))
        last = seen[-1]
        if last is None:
            raise BrowserError(f"{selector} is not there")
        if last[2] and seen[-_STILL:] == [last] * _STILL:
            return last[0], last[1]
        time.sleep(0.02)
    x, y, _ = seen[-1] or (0, 0, False)
    over = browser.run(f"document.elementFromPoint({x}, {y})?.outerHTML.slice(0, 200)")
    raise AssertionError(f"{selector} is covered, or never still: {over}")


def press_at(browser: Browser, selector: str, *, touch: bool = False) -> None:
    """Bring an element into sight and press it there with a mouse or a finger."""
    x, y = place_of(browser, selector)
    if touch:
        browser.send("Input.dispatchTouchEvent", type="touchStart", touchPoints=[{"x": x, "y": y}])
        browser.send("Input.dispatchTouchEvent", type="touchEnd", touchPoints=[])
        return
    for kind in ("mousePressed", "mouseReleased"):
        browser.send("Input.dispatchMouseEvent", type=kind, x=x, y=y, button="left", clickCount=1)


def write_in(browser: Browser, selector: str, text: str, *, leave: bool = True) -> None:
    """Type a text into a place to write, instead of what is there, and go on to the next place."""
    press_at(browser, selector)
    browser.run(f"{found(selector)}.select()")
    browser.send("Input.insertText", text=text)
    if leave:
        browser.run("document.activeElement.blur()")


def reload(browser: Browser) -> None:
    """Load the page again, and wait until it is there: what the browser tells of loading may be of the page before."""
    browser.run("window.before = true")
    browser.events.clear()
    browser.send("Page.reload")
    wait_until(browser, "!window.before && document.readyState === 'complete'")


def wait_until(browser: Browser, condition: str) -> None:
    """Wait until an expression holds in the page."""
    limit = time.monotonic() + PATIENCE
    while not browser.run(condition):
        if time.monotonic() > limit:
            raise BrowserError(f"never true: {condition}")
        time.sleep(0.03)


def downloads_to(browser: Browser, folder: Path) -> None:
    """Let the browser put what it downloads into a folder."""
    browser.send("Browser.setDownloadBehavior", behavior="allow", downloadPath=str(folder), eventsEnabled=True)


def downloaded(folder: Path) -> Path:
    """Wait for a file that is there as a whole, and return it."""
    limit = time.monotonic() + PATIENCE
    while True:
        files = [file for file in folder.iterdir() if file.suffix == ".json" and file.stat().st_size]
        if files:
            return files[0]
        if time.monotonic() > limit:
            raise BrowserError("nothing was downloaded")
        time.sleep(0.05)


def choose_file(browser: Browser, selector: str, file: Path) -> None:
    """Choose a file in the place for it."""
    root = browser.send("DOM.getDocument")["root"]["nodeId"]
    node = browser.send("DOM.querySelector", nodeId=root, selector=selector)["nodeId"]
    browser.send("DOM.setFileInputFiles", nodeId=node, files=[str(file)])
