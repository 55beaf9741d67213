"""Which picture or page the press could not cope with, found by pressing each of them apart.

A press that runs out of time or memory cannot say what it was at. So halves are tried, and halves of those: with one
culprit among 300 pictures, nine times. Each half has the limits of a manual of its size: it stops when something in it
is at fault, and not when there is much of it. The search ends after a while, found or not.
"""

from __future__ import annotations

import re
import time
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import NamedTuple, TypeVar

from putback.typstpdf.album import Album
from putback.typstpdf.escape import literal
from putback.typstpdf.press import (
    SMALL,
    PressLimits,
    Printed,
    Reason,
    Remark,
    SpentError,
    StoppedError,
    compile_manual,
    limits_for,
)
from putback.typstpdf.translator import PLACE, TypstTranslator

_T = TypeVar("_T")

_PICTURE = re.compile(r'image\("((?:[^"\\]|\\.)*)"')

MOST = 3
"""So many culprits are looked for: each costs its author the same walk again."""

LONGEST = 120
"""For so many seconds a culprit is looked for."""


class Blame:
    """Says of a fault of the press what in the author's files it concerns."""

    def __init__(self, text: list[str], translator: TypstTranslator, album: Album) -> None:
        """Take the lines of the source that was pressed, who wrote it, and the pictures."""
        self.text = text
        self.places = translator.places
        self.pages = translator.pages
        self.album = album

    def reason(self, remark: Remark) -> Reason:
        """Return what the press said, with the place in the author's file where one is known.

        Of a picture, the press says things that only its makers understand; so it is named, and that is all.
        """
        line = self.text[remark.line - 1] if 0 < remark.line <= len(self.text) else ""
        shown = _PICTURE.search(line)
        address = self.album.address_of(remark.picture or (shown[1] if shown else ""))
        if address is not None:
            return self.picture(address, "it cannot be read; save it anew as plain SVG or PNG")
        return Reason(remark.message, self.place_of(remark.line))

    def search(self, press: Press, head: str, error: StoppedError) -> list[Reason]:
        """Return which pictures, or else which pages, a press that stopped could not cope with."""
        names = {path: address for address, path in self.album.names.items()}
        end = time.monotonic() + LONGEST
        found = [self.picture(names[path], f"{_own(why)}") for path, why in bad_pictures([*names], press, end)]
        found = found or [
            Reason(f"this page cannot be printed: the press gave up, {why}", self.page_of(source))
            for (_, source), why in _search(self.pages, lambda pages: _stops(pages, head, press), end)
        ]
        return found or [no_cause(error)]

    def picture(self, address: str, why: str) -> Reason:
        """Return why a picture is not printed, at the first place that shows it."""
        file = literal(self.album.names[address])
        line = next((at for at, line in enumerate(self.text, 1) if f"image({file}" in line), 0)
        return Reason(f"picture '{self.album.called(address)}' cannot be printed: {why}", self.place_of(line))

    def place_of(self, line: int) -> str:
        """Return the place in the author's files that a line of the source comes from, `path:line`; may be empty."""
        for before in reversed(self.text[:line]):
            found = PLACE.match(before)
            if found:
                path, number = self.places[int(found[1])]
                return f"{path}:{number}"
        return ""

    def page_of(self, source: str) -> str:
        """Return the file of a page, `path:line`, by its source."""
        found = next(filter(None, map(PLACE.match, source.split("\n"))), None)
        return f"{self.places[int(found[1])][0]}:1" if found else ""


def no_cause(error: StoppedError) -> Reason:
    """Return why a press stopped when nothing of the author's is known to be the cause."""
    # What is no fault of a page is too little memory or time for the book: the author can print less of it.
    instead = ": print the jobs one by one, with `--job`" if isinstance(error, SpentError) else ""
    return Reason(
        f"the press gave up: {error.reasons[0].message}; no single page or picture was found to be the cause{instead}"
    )


def _own(why: str) -> str:
    return f"the press gave up on it, {why}" if why else "the press gave up on it"


class Press(NamedTuple):
    """How to press a trial: in which folder, with which fonts, within which limits."""

    root: Path
    fonts: Path
    limits: PressLimits = SMALL
    """What a trial of a few pictures, or of a text of no length, may take."""

    def limits_of(self, body: str) -> PressLimits:
        """Return what a text may take: more, the longer it is."""
        least, more = limits_for(0, 0, 0), limits_for(len(body.encode()), 0, 0)
        return PressLimits(
            self.limits.seconds + more.seconds - least.seconds, self.limits.size + more.size - least.size
        )

    def trial(self, body: str) -> Printed:
        """Press a text and throw the result away. Raises `StoppedError`."""
        source, output = self.root / "trial.typ", self.root / "trial.pdf"
        source.write_text(body, encoding="utf-8", newline="\n")
        try:
            return compile_manual(source, output, self.root, self.fonts, 0, self.limits_of(body))
        finally:
            source.unlink(missing_ok=True)
            output.unlink(missing_ok=True)


def bad_pictures(names: Sequence[str], press: Press, end: float) -> list[tuple[str, str]]:
    """Return the pictures (paths below the press's folder) that cannot be printed, each with the reason.

    At `end` (of `time.monotonic`), what was found until then.
    """

    def why(group: Sequence[str]) -> str:
        shown = "".join(f"#image({literal(name)}, alt: {literal('trial')}, width: 100%)\n" for name in group)
        try:
            printed = press.trial(f"#set document(title: {literal('trial')})\n{shown}")
        except StoppedError as error:
            return error.reasons[0].message
        return "it cannot be read" if printed.errors else ""

    return _search(names, why, end)


def _stops(pages: Sequence[tuple[str, str]], head: str, press: Press) -> str:
    body = "\n".join(source for _, source in pages)
    try:
        press.trial(f"{head}\n#{{\n{body}\n}}\n")
    except StoppedError as error:
        return error.reasons[0].message
    # Pages apart may lack what others have: that is no reason to stop.
    return ""


def _search(things: Sequence[_T], why: Callable[[Sequence[_T]], str], end: float) -> list[tuple[_T, str]]:
    found: list[tuple[_T, str]] = []
    waiting = [things] if things else []
    while waiting and len(found) < MOST and time.monotonic() < end:
        group = waiting.pop()
        reason = why(group)
        if reason and len(group) == 1:
            found.append((group[0], reason))
        elif reason:
            middle = len(group) // 2
            waiting += [group[middle:], group[:middle]]
    return found
