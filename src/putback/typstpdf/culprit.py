"""Which picture or page the press could not cope with, found by pressing each of them apart.

A press that runs out of time or memory cannot say what it was at. So halves are tried, and halves of those: with one
culprit among 300 pictures, nine times.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import NamedTuple, TypeVar

from putback.typstpdf.album import Album
from putback.typstpdf.escape import literal
from putback.typstpdf.press import SMALL, PressLimits, Printed, Reason, Remark, StoppedError, compile_manual
from putback.typstpdf.translator import PLACE, TypstTranslator

_T = TypeVar("_T")

_PICTURE = re.compile(r'image\("((?:[^"\\]|\\.)*)"')

MOST = 3
"""So many culprits are looked for: each costs its author the same walk again."""


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

    def search(self, press: Press, head: str, reason: str) -> list[Reason]:
        """Return which pictures, or else which pages, a press that stopped could not cope with."""
        names = {path: address for address, path in self.album.names.items()}
        found = [self.picture(names[path], f"{_own(why)}") for path, why in bad_pictures([*names], press)]
        found = found or [
            Reason(f"this page cannot be printed: the press gave up, {why}", self.page_of(source))
            for (_, source), why in _search(self.pages, lambda pages: _stops(pages, head, press))
        ]
        return found or [no_cause(reason)]

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


def no_cause(reason: str) -> Reason:
    """Return why a press stopped when nothing of the author's is known to be the cause."""
    return Reason(f"the press gave up: {reason}; no single page or picture is the cause")


def _own(why: str) -> str:
    return f"the press gave up on it, {why}" if why else "the press gave up on it"


class Press(NamedTuple):
    """How to press a trial: in which folder, with which fonts, within which limits."""

    root: Path
    fonts: Path
    limits: PressLimits = SMALL

    def trial(self, body: str) -> Printed:
        """Press a text and throw the result away. Raises `StoppedError`."""
        source, output = self.root / "trial.typ", self.root / "trial.pdf"
        source.write_text(body, encoding="utf-8", newline="\n")
        try:
            return compile_manual(source, output, self.root, self.fonts, 0, self.limits)
        finally:
            source.unlink(missing_ok=True)
            output.unlink(missing_ok=True)


def bad_pictures(names: Sequence[str], press: Press) -> list[tuple[str, str]]:
    """Return the pictures (paths below the press's folder) that cannot be printed, each with the reason."""

    def why(group: Sequence[str]) -> str:
        shown = "".join(f"#image({literal(name)}, alt: {literal('trial')}, width: 100%)\n" for name in group)
        try:
            printed = press.trial(f"#set document(title: {literal('trial')})\n{shown}")
        except StoppedError as error:
            return error.reasons[0].message
        return "it cannot be read" if printed.errors else ""

    return _search(names, why)


def _stops(pages: Sequence[tuple[str, str]], head: str, press: Press) -> str:
    body = "\n".join(source for _, source in pages)
    try:
        press.trial(f"{head}\n#{{\n{body}\n}}\n")
    except StoppedError as error:
        return error.reasons[0].message
    # Pages apart may lack what others have: that is no reason to stop.
    return ""


def _search(things: Sequence[_T], why: Callable[[Sequence[_T]], str]) -> list[tuple[_T, str]]:
    found: list[tuple[_T, str]] = []
    waiting = [things] if things else []
    while waiting and len(found) < MOST:
        group = waiting.pop()
        reason = why(group)
        if reason and len(group) == 1:
            found.append((group[0], reason))
        elif reason:
            middle = len(group) // 2
            waiting += [group[middle:], group[:middle]]
    return found
