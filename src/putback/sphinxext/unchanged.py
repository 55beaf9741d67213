"""Manuals that stand: what would be made the same again, to the byte, is left where it is.

With each thing that is made goes a note of what it was made from, and of what it holds: an attribute on the disk, as
that of `marks.remember`. It is no part of the file, takes its place together with it, and is gone when something else
has that place. So no list beside can be wrong, and a build that is killed leaves a thing with its note, or neither.
Where a disk has no such attributes, all is made anew each time.
"""

from __future__ import annotations

import hashlib
import json
import os
import stat
from collections.abc import Collection, Iterator, Sequence
from contextlib import suppress
from pathlib import Path
from typing import NamedTuple

from putback.guide.library import folder_for
from putback.guide.record import Guide
from putback.lint.edition import edition_of_manuals
from putback.placing.digest import digest
from putback.placing.scratch import leftovers
from putback.source.witness import Witness
from putback.sphinxext.targets import BUILD
from putback.variants import Choice

_NOTE = "user.putback.made-from"
"""The attribute: what something was made from, and what it holds, each as a digest."""

_HISTORY = ".git"
"""The folder of git, which no page is read from; it changes whenever it likes."""

_LARGEST, _MOST = 500_000_000, 20_000
"""Bytes and files of a guide's folder that are looked through before each build."""


class _UntoldError(Exception):
    """There is no telling what a manual is made from."""


class Seen(NamedTuple):
    """A file as it was found."""

    name: str
    """Its path."""
    digest: str
    """What was in it."""
    stamp: tuple[int, ...]
    """What the system says of it: changed for a moment and then changed back, it has another one."""


class Basis(NamedTuple):
    """What a manual is made from. Two that are made from the same are the same."""

    folders: tuple[Path, Path]
    """Where its sources are: its own folder, and that of the library."""
    seen: tuple[Seen, ...]
    """All files in there, before the manual is made."""
    witness: Witness
    """Through which the guide was read."""
    edition: str
    """Which Putback makes it."""
    key: str
    """A digest of all of it, and of how the manual is to be made."""

    def is_steady(self, pictures: Collection[str]) -> bool:
        """Tell whether nothing has changed since, and all pictures lie where it was looked."""
        for picture in pictures:
            parts = Path(picture).parts
            if BUILD in parts[:1] or _HISTORY in parts:
                return False
        try:
            same = self.edition == edition_of_manuals() and tuple(_all_seen(*self.folders)) == self.seen
            return same and self.witness.steady
        except (_UntoldError, OSError):
            return False

    def note(self, made: Path) -> None:
        """Note what something was made from that is to take its place."""
        if hasattr(os, "setxattr"):
            with suppress(OSError):
                os.setxattr(made, _NOTE, f"{self._of(made.name)} {digest(made)}".encode(), follow_symlinks=False)

    def stands(self, out: Path, names: Sequence[str]) -> bool:
        """Tell whether all that a folder is to have of a manual was made from the same, and is as it was made.

        Where a build is at work, or was killed, nothing stands: the next one clears up.
        """
        if not hasattr(os, "getxattr"):
            return False
        try:
            return not any(leftovers(out)) and all(self._is_noted(out / name) for name in names)
        except (OSError, ValueError):
            return False

    def _is_noted(self, place: Path) -> bool:
        noted = os.getxattr(place, _NOTE, follow_symlinks=False).decode("ascii")
        return noted == f"{self._of(place.name)} {digest(place)}"

    def _of(self, name: str) -> str:
        return hashlib.sha256(json.dumps([self.key, name]).encode()).hexdigest()


def basis_of(
    guide: Guide, only: Choice, out: Path, paper: str, language: str | None, jobs: Sequence[str]
) -> Basis | None:
    """Return what the manual of a guide is made from, before it is made; None when there is no telling.

    `out` is the folder that it goes to, and `language` what was asked for. A guide was read just before, through a
    witness.
    """
    witness, ours = guide.store, edition_of_manuals()
    if not isinstance(witness, Witness) or ours is None:
        return None
    answered = witness.answered
    folders = (guide.root, folder_for(guide.root))
    try:
        seen = tuple(_all_seen(*folders))
        wish = [[list(pair) for pair in only], str(out.resolve()), paper, language, [*jobs], str(Path.cwd())]
    except (_UntoldError, OSError, RuntimeError):
        return None
    facts = [ours, os.environ.get("SOURCE_DATE_EPOCH"), wish, answered, [each[:2] for each in seen]]
    whole = json.dumps(facts).encode()
    return Basis(folders, seen, witness, ours, hashlib.sha256(whole).hexdigest())


def _all_seen(root: Path, library: Path) -> Iterator[Seen]:
    left, files = _LARGEST, 0
    for path in (*_files(root, (BUILD, _HISTORY)), *_files(library)):
        facts = path.stat()
        left, files = left - facts.st_size, files + 1
        if left < 0 or files > _MOST:
            raise _UntoldError
        stamp = (facts.st_dev, facts.st_ino, facts.st_size, facts.st_mtime_ns, facts.st_ctime_ns)
        holds = ""
        if stat.S_ISREG(facts.st_mode):
            with path.open("rb") as file:
                holds = hashlib.file_digest(file, "sha256").hexdigest()
        yield Seen(str(path), holds, stamp)


def _files(folder: Path, without: Sequence[str] = (_HISTORY,), around: tuple[str, ...] = ()) -> Iterator[Path]:
    """Yield all files in a folder and below, through links. Raises `_UntoldError` for a ring of them."""
    real = os.path.realpath(folder)
    if real in around:
        raise _UntoldError
    with os.scandir(folder) as found:
        entries = sorted(found, key=lambda entry: entry.name)
    for entry in entries:
        if entry.name in without:
            continue
        if entry.is_dir():
            yield from _files(Path(entry.path), around=(*around, real))
        else:
            yield Path(entry.path)
