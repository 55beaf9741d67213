"""Bytes of files, taken with care: only of regular files, at most so many of them, and without ever waiting.

Whatever lies at a path (a folder, a pipe that nobody writes to, a device without an end), there is an answer: the
bytes, or the reason why there are none. Folders are listed in the same way. `Disk` takes from disk, with unsaved texts
in place of files; `Memory` takes whole guides that lie in no folder.
"""

# ruff: noqa: PTH100, PTH112, PTH113, PTH114, PTH115, PTH116, PTH208
# `pathlib` raises where `os.path` says no: for a folder that may not be entered, for a name that is too long.

from __future__ import annotations

import errno
import os
import stat
from collections.abc import Mapping
from pathlib import Path
from typing import Protocol

from putback.source.facts import Facts, facts_of
from putback.source.plainly import printable

LARGEST = 4_000_000
"""Bytes of a text that are read; the longest earnest guide has some 300,000 in a file."""
LARGEST_PAGE = 500_000
"""Bytes of a prose page that are read: some 250 printed pages. Whatever is in it takes a few seconds at most."""
LARGEST_PICTURE = 32_000_000
"""Bytes of a picture that are read."""

LONGEST_PATH = os.pathconf("/", "PC_PATH_MAX") if hasattr(os, "pathconf") else 32_000
"""Bytes of a path from which on the system takes it for nothing at all."""

# No waiting for the other end of a pipe, no terminal that becomes ours. Where a system knows no such flag, it has no
# such file.
_FLAGS = os.O_RDONLY | sum(getattr(os, name, 0) for name in ("O_NONBLOCK", "O_NOCTTY", "O_CLOEXEC", "O_BINARY"))
_PIECE = 1 << 20
_KINDS = {
    stat.S_IFDIR: "it is a folder",
    stat.S_IFIFO: "it is a named pipe",
    stat.S_IFSOCK: "it is a socket",
    stat.S_IFCHR: "it is a device",
    stat.S_IFBLK: "it is a device",
    stat.S_IFREG: "it is a file",
}


class NotReadError(Exception):
    """A file or folder that is there and cannot be read; the message says why, as in `it is a named pipe`."""


def take(path: Path, largest: int = LARGEST) -> bytes:
    """Return the bytes of a regular file, through links.

    Raises `NotReadError` for everything else: what is no file, what has more than `largest` bytes, what the system
    refuses. It never waits.
    """
    handle = _opened(path, largest)
    try:
        pieces, left = [], largest + 1
        while left and (piece := os.read(handle, min(left, _PIECE))):
            pieces.append(piece)
            left -= len(piece)
    except OSError as error:
        raise NotReadError(_reason(path, error)) from None
    finally:
        os.close(handle)
    if not left:
        raise NotReadError(f"it has more than {largest:,} bytes, more than can be read")
    return b"".join(pieces)


def examine(path: Path, largest: int = LARGEST) -> None:
    """Raise `NotReadError` as `take` does, as far as that can be known before reading."""
    os.close(_opened(path, largest))


def _opened(path: Path, largest: int) -> int:
    try:
        # A device can act when it is opened: so it is looked at first, and once more when it is open.
        _refuse_others(os.stat(path))
        handle = os.open(path, _FLAGS)
    except (OSError, ValueError) as error:
        raise NotReadError(_reason(path, error)) from None
    try:
        facts = os.fstat(handle)
        _refuse_others(facts)
        if facts.st_size > largest:
            raise NotReadError(f"it has {facts.st_size:,} bytes; at most {largest:,} can be read")
    except NotReadError:
        os.close(handle)
        raise
    return handle


def list_names(folder: Path) -> list[str]:
    """Return the names in a folder, sorted. Raises `NotReadError` when it cannot be listed or is none."""
    try:
        return sorted(os.listdir(folder))
    except (OSError, ValueError) as error:
        raise NotReadError(_reason(folder, error)) from None


def resolved(path: Path) -> Path:
    """Return the absolute path after all links; of a link that leads nowhere or round, as far as that goes."""
    try:
        return Path(os.path.realpath(path))
    except RecursionError:  # a thousand links in a row
        return Path(os.path.abspath(path))


def _refuse_others(facts: os.stat_result) -> None:
    kind = stat.S_IFMT(facts.st_mode)
    if kind != stat.S_IFREG:
        raise NotReadError(_KINDS.get(kind, "it is not a file"))


def _reason(path: Path, error: OSError | ValueError) -> str:
    number = error.errno if isinstance(error, OSError) else None
    if number == errno.ELOOP:
        return "it is a link that leads back to itself"
    if number in (errno.ENOENT, errno.ENOTDIR):
        try:
            target = os.readlink(path)
        except OSError:
            target = None
        if target is not None:
            return f"it is a link to '{printable(target)}', which does not exist"
        if number == errno.ENOTDIR and os.path.lexists(path):
            try:
                return _KINDS.get(stat.S_IFMT(os.stat(path).st_mode), "it is not a folder")
            except OSError:
                return "it is not a folder"
    words = error.strerror if isinstance(error, OSError) else str(error)
    return (words or type(error).__name__).lower()


class Store(Protocol):
    """Where the files of guides are kept."""

    def read(self, path: Path, largest: int = LARGEST) -> bytes:
        """Return the bytes of a file. Raises `NotReadError`."""
        ...

    def examine(self, path: Path, largest: int = LARGEST) -> None:
        """Raise `NotReadError` when a file cannot be read, without reading it."""
        ...

    def names(self, folder: Path) -> list[str]:
        """Return the names in a folder, sorted. Raises `NotReadError`."""
        ...

    def is_there(self, path: Path) -> bool:
        """Tell whether something has this path, be it only a link to nowhere."""
        ...

    def is_folder(self, path: Path) -> bool:
        """Tell whether a path is a folder, through links."""
        ...

    def is_file(self, path: Path) -> bool:
        """Tell whether a path is a regular file, through links."""
        ...

    def identity(self, path: Path) -> object:
        """Return what is the same for every way that leads to a folder."""
        ...

    def leads_out(self, path: Path, top: Path) -> bool:
        """Tell whether a path is a link to something that does not lie in `top`."""
        ...

    def facts(self, path: Path) -> Facts:
        """Return what a path leads to."""
        ...


class Memory:
    """Files that lie in no folder: text or bytes by absolute path."""

    def __init__(self, files: Mapping[Path, str | bytes]) -> None:
        self.files = {path: text.encode() if isinstance(text, str) else text for path, text in files.items()}
        self.folders: dict[Path, set[str]] = {}
        for path in self.files:
            inner = path
            for folder in path.parents:
                names = self.folders.setdefault(folder, set())
                if inner.name in names:
                    break
                names.add(inner.name)
                inner = folder

    def read(self, path: Path, largest: int = LARGEST) -> bytes:
        """Return the bytes of a file. Raises `NotReadError`."""
        data = self.files.get(path)
        if data is None:
            raise NotReadError("it is a folder" if path in self.folders else "no such file or directory")
        if len(data) > largest:
            raise NotReadError(f"it has {len(data):,} bytes; at most {largest:,} can be read")
        return data

    def examine(self, path: Path, largest: int = LARGEST) -> None:
        """Raise `NotReadError` when a file cannot be read."""
        self.read(path, largest)

    def names(self, folder: Path) -> list[str]:
        """Return the names in a folder, sorted. Raises `NotReadError`."""
        if folder not in self.folders:
            raise NotReadError("it is a file" if folder in self.files else "no such file or directory")
        return sorted(self.folders[folder])

    def is_there(self, path: Path) -> bool:
        """Tell whether something has this path."""
        return path in self.files or path in self.folders

    def is_folder(self, path: Path) -> bool:
        """Tell whether a path is a folder."""
        return path in self.folders

    def is_file(self, path: Path) -> bool:
        """Tell whether a path is a file."""
        return path in self.files

    def identity(self, path: Path) -> object:
        """Return what is the same for every way that leads to a folder: its path."""
        return path

    def leads_out(self, path: Path, top: Path) -> bool:
        """Tell whether a path is a link to something that does not lie in `top`: there are no links here."""
        del path, top
        return False

    def facts(self, path: Path) -> Facts:
        """Return what a path leads to: there are no links here."""
        whole = Path(os.path.normpath(path))
        kind = stat.S_IFREG if path in self.files else stat.S_IFDIR if path in self.folders else None
        return Facts(whole, False, kind, len(self.files.get(path, b"")))


class Disk:
    """Files on disk, with texts that stand in for some of them, such as those that an editor has not saved."""

    def __init__(self, edited: Mapping[Path, str] | None = None) -> None:
        self.over = Memory(edited or {})

    def read(self, path: Path, largest: int = LARGEST) -> bytes:
        """Return the bytes of a file. Raises `NotReadError`."""
        return self.over.read(path, largest) if path in self.over.files else take(path, largest)

    def examine(self, path: Path, largest: int = LARGEST) -> None:
        """Raise `NotReadError` when a file cannot be read, without reading it."""
        if path not in self.over.files:
            examine(path, largest)

    def names(self, folder: Path) -> list[str]:
        """Return the names in a folder, sorted. Raises `NotReadError`."""
        unsaved = self.over.folders.get(folder)
        if not unsaved:
            return list_names(folder)
        return sorted(unsaved.union(list_names(folder) if os.path.isdir(folder) else ()))

    def is_there(self, path: Path) -> bool:
        """Tell whether something has this path, be it only a link to nowhere."""
        return self.over.is_there(path) or os.path.lexists(path)

    def is_folder(self, path: Path) -> bool:
        """Tell whether a path is a folder, through links."""
        return self.over.is_folder(path) or os.path.isdir(path)

    def is_file(self, path: Path) -> bool:
        """Tell whether a path is a regular file, through links."""
        return self.over.is_file(path) or os.path.isfile(path)

    def identity(self, path: Path) -> object:
        """Return what is the same for every way that leads to a folder: its number on its disk."""
        try:
            facts = os.stat(path)
        except (OSError, ValueError):
            return path
        return facts.st_dev, facts.st_ino

    def leads_out(self, path: Path, top: Path) -> bool:
        """Tell whether a path is a link to something that does not lie in `top`."""
        return os.path.islink(path) and not resolved(path).is_relative_to(resolved(top))

    def facts(self, path: Path) -> Facts:
        """Return what a path leads to."""
        return self.over.facts(path) if path in self.over.files else facts_of(path, resolved(path))
