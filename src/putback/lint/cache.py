"""Results of guides that were checked before, each with all that it depends on.

A result is handed out only when everything that was asked of the files has the same answer again (`source.witness`),
by the same edition of Putback. A file in the folder is data, and believed only when its digest and its whole key are
right; whatever is wrong with one, the guide is checked anew. It is written beside its place and put there by its name,
so that nobody ever reads half of one, and two runs may write the same.
"""

from __future__ import annotations

import hashlib
import json
import os
import re
import time
from collections.abc import Collection
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from putback.lint.edition import edition
from putback.lint.place import NoPlaceError, prepare
from putback.lint.result import GuideResult
from putback.source.intake import Disk, NotReadError, take
from putback.source.plain_data import as_data, from_data
from putback.source.plainly import printable
from putback.source.witness import Answered, Recall, Witness

if TYPE_CHECKING:
    from putback.variants import Choice

MOST = 64_000_000
"""Bytes that are kept; when there are more, those that were of no use for the longest time go, down to half of it."""

_LARGEST = 8_000_000
"""Bytes of one result with what it depends on."""

_NAME = re.compile(r"[0-9a-f]{64}(\.[0-9a-f]{16}\.part)?")
"""A kept result; or one that is being written, or never was to the end."""

_WAITING = 16
"""Results that wait to be written: for those, it is looked once whether Putback itself was changed meanwhile."""

_RESTS = 3600.0
"""Seconds after which it is noted again that a result was of use."""


class GuideRequest(NamedTuple):
    """What was asked for of one guide."""

    folder: Path
    """Its folder, after all links."""
    only: Choice = ()
    """The options that were chosen."""
    wanted: Collection[Path] | None = None
    """The files that were asked for; None for all."""
    catalogues: Collection[str] | None = None
    """The translations that were looked at; None for all."""


class Cache:
    """Kept results. It raises nothing: where something cannot be kept or read, guides are checked anew."""

    def __init__(self, folder: Path | None) -> None:
        self.folder = folder
        self.trouble: str | None = None
        """The first thing that went wrong, in words."""
        self.edition = edition() if folder is not None else None
        self.recall = Recall(Disk())
        self.waiting: list[tuple[GuideRequest, bytes]] = []
        self.wrote = False
        try:
            self.here = os.getcwd()  # noqa: PTH109 - as a text
            if folder is not None:
                prepare(folder)
        except (NoPlaceError, OSError) as error:
            self.give_up(str(error))

    @property
    def is_on(self) -> bool:
        """Whether anything is kept or looked up."""
        return self.folder is not None and self.edition is not None

    def give_up(self, why: str) -> None:
        """Keep nothing more."""
        if self.folder is not None:
            self.trouble = f"results are not kept in '{printable(str(self.folder))}': {why}"
        self.folder = None

    def _key(self, asked: GuideRequest) -> list[Any]:
        wanted = None if asked.wanted is None else sorted(map(str, asked.wanted))
        key = [self.edition, self.here, str(asked.folder), [list(pair) for pair in asked.only], wanted]
        return key if asked.catalogues is None else [*key, sorted(asked.catalogues)]

    def _path(self, folder: Path, asked: GuideRequest) -> Path:
        return folder / hashlib.sha256(json.dumps(self._key(asked)).encode()).hexdigest()

    def find(self, asked: GuideRequest) -> GuideResult | None:
        """Return the result that was kept, if all that it depends on is as it was."""
        if self.folder is None or self.edition is None:
            return None
        path = self._path(self.folder, asked)
        try:
            digest, _, data = take(path, _LARGEST).partition(b"\n")
            if digest != _digest(data):
                return None
            key, kept = json.loads(data)
            answered, result = opened(kept)
            if key != self._key(asked) or answered is None or not self.recall.holds(answered):
                return None
        except (NotReadError, ValueError, TypeError, RecursionError):
            return None
        with suppress(OSError):
            if abs(time.time() - path.stat().st_mtime) > _RESTS:
                os.utime(path)
        return result

    def keep(self, asked: GuideRequest, sealed: bytes) -> None:
        """Keep a result, as `seal` gave it."""
        if not self.is_on:
            return
        self.waiting.append((asked, sealed))
        if len(self.waiting) >= _WAITING:
            self.write()

    def write(self) -> None:
        """Write what waits, unless Putback was changed since the beginning, so that nobody knows who gave it."""
        waiting, self.waiting = self.waiting, []
        if not waiting or self.folder is None or edition() != self.edition:
            return
        try:
            for asked, sealed in waiting:
                data = json.dumps(self._key(asked)).encode()
                _put(self._path(self.folder, asked), b"[" + data + b"," + sealed + b"]")
                self.wrote = True
        except OSError as error:
            self.give_up((error.strerror or str(error)).lower())

    def close(self) -> None:
        """Write what waits, and make room."""
        self.write()
        if self.wrote and self.folder is not None:
            with suppress(OSError):
                _make_room(self.folder)


def seal(witness: Witness | None, result: GuideResult) -> bytes:
    """Return a result with all that it depends on; `opened` gives both back.

    Nobody can tell that of a result without a witness, nor of one whose files changed while they were read.
    """
    answered = witness.answered if witness is not None and witness.steady else None
    return json.dumps([answered, as_data(result)], separators=(",", ":")).encode()


def opened(sealed: Any) -> tuple[tuple[Answered, ...] | None, GuideResult]:
    """Return what `seal` was given, from its JSON. Raises `ValueError` or `TypeError` for something else."""
    answered, result = sealed
    if answered is not None:
        answered = tuple((str(name), str(path), more, str(answer)) for name, path, more, answer in answered)
    return answered, from_data(GuideResult, result)


def _digest(data: bytes) -> bytes:
    return hashlib.sha256(data).hexdigest().encode()


def _put(path: Path, data: bytes) -> None:
    part = path.with_name(f"{path.name}.{os.urandom(8).hex()}.part")
    handle = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o600)
    try:
        with open(handle, "wb") as file:  # noqa: PTH123 - it is open
            file.write(_digest(data) + b"\n" + data)
        part.replace(path)
    except BaseException:
        with suppress(OSError):
            part.unlink()
        raise


def _make_room(folder: Path) -> None:
    """Remove the results that were of no use for the longest time, and what was never written to the end."""
    found = []
    with os.scandir(folder) as entries:
        for entry in entries:
            if _NAME.fullmatch(entry.name) and entry.is_file(follow_symlinks=False):
                facts = entry.stat(follow_symlinks=False)
                found.append((facts.st_mtime, facts.st_size, entry.path, entry.name.endswith(".part")))
    now, total = time.time(), sum(size for _, size, _, _ in found)
    goal = MOST // 2 if total > MOST else MOST
    for used, size, path, is_part in sorted(found):
        if (is_part and abs(now - used) > _RESTS) or total > goal:
            with suppress(OSError):
                os.unlink(path)  # noqa: PTH108
                total -= size
