"""One program at a time puts things into a folder."""

from __future__ import annotations

import errno
import os
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

if sys.platform != "win32":
    import fcntl
else:
    import msvcrt

LOCK_FILE = ".putback-lock"
"""Only where a folder itself cannot be locked (Windows, some network disks)."""

PATIENCE = 30.0
"""How long to wait for another program, in seconds."""

_PAUSE = 0.05
_HELD = {errno.EACCES, errno.EAGAIN, errno.EDEADLK}
"""What a lock answers that another program holds."""


class BusyError(Exception):
    """Another program is putting things into the folder."""


class _NoLockError(Exception):
    """This disk has no such locks."""


@contextmanager
def claim(folder: Path, waiting: Callable[[], None] = lambda: None) -> Iterator[bool]:
    """Make `folder` where it is not there, and let no other program claim it until the end.

    Yields whether it is locked: a disk without locks is used without, and then nothing that lies there is anybody's
    left-over for sure. The folders that were made here and are empty at the end are removed again. `waiting` is called
    once when another program has it. Raises `BusyError` after `PATIENCE`, and `OSError`.
    """
    made: list[Path] = []
    release = None
    until = time.monotonic() + PATIENCE
    told = False
    try:
        while release is None:
            made += _make(folder)
            release = _lock(folder)
            if release is None:
                if time.monotonic() >= until:
                    raise BusyError(str(folder))
                if not told:
                    waiting()
                    told = True
                time.sleep(_PAUSE)
        yield release is not _nothing
    finally:
        for path in reversed(made):
            with suppress(OSError):
                path.rmdir()
        if release is not None:
            release()
            # A lock file kept the folder from being empty.
            for path in reversed(made):
                with suppress(OSError):
                    path.rmdir()


def _make(folder: Path) -> list[Path]:
    """Make a folder and those above it; return the ones that were not there, outermost first."""
    missing = []
    for path in (folder, *folder.parents):
        if path.exists():
            break
        missing.append(path)
    folder.mkdir(parents=True, exist_ok=True)
    return missing[::-1]


def _nothing() -> None:
    """Release no lock."""


def _lock(folder: Path) -> Callable[[], None] | None:
    """Return how to release the lock on a folder; None when another program has it or the folder has just gone."""
    for lock in (_lock_folder, _lock_file):
        try:
            return lock(folder)
        except _NoLockError:
            continue
    return _nothing


def _lock_folder(folder: Path) -> Callable[[], None] | None:
    if sys.platform == "win32":
        raise _NoLockError
    try:
        handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    except FileNotFoundError:
        return None
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as error:
        os.close(handle)
        if error.errno in _HELD:
            return None
        raise _NoLockError from error
    if not _is_still(handle, folder):
        os.close(handle)
        return None
    return lambda: os.close(handle)


def _lock_file(folder: Path) -> Callable[[], None] | None:
    path = folder / LOCK_FILE
    try:
        handle = os.open(path, os.O_RDWR | os.O_CREAT | getattr(os, "O_NOFOLLOW", 0), 0o666)
    except FileNotFoundError:
        return None
    except PermissionError:
        raise
    except OSError as error:
        raise _NoLockError from error
    try:
        if sys.platform == "win32":
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        else:
            fcntl.lockf(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError as error:
        os.close(handle)
        if error.errno in _HELD:
            return None
        raise _NoLockError from error
    if not _is_still(handle, path):
        os.close(handle)
        return None
    empty = os.fstat(handle).st_size == 0

    def release() -> None:
        # Ours is empty. Where an open file cannot be removed it is closed first, and taken again by whoever is quicker.
        if empty and sys.platform != "win32":
            path.unlink(missing_ok=True)
        os.close(handle)
        if empty and sys.platform == "win32":
            with suppress(OSError):
                path.unlink()

    return release


def _is_still(handle: int, path: Path) -> bool:
    """Tell whether an open file or folder is the one that has this name now."""
    try:
        return os.path.samestat(os.fstat(handle), path.lstat() if path.name == LOCK_FILE else path.stat())
    except OSError:
        return False
