"""The folder in which results are kept: the user's own, or the one that was asked for."""

from __future__ import annotations

import os
import stat
import sys
from pathlib import Path


class NoPlaceError(Exception):
    """A folder in which nothing is kept; the message says why."""


def place_of_results() -> Path | None:
    """Return the folder in which results are kept; None when none is wanted, or there is no home to keep it in.

    `PUTBACK_CACHE` names it; when that is there and empty, none is wanted.
    """
    named = os.environ.get("PUTBACK_CACHE")
    if named is not None:
        return Path(os.path.abspath(named)) if named else None  # noqa: PTH100 - of a link, the link
    folder = _users_own()
    return folder / "putback" / "lint" if folder is not None and folder.is_absolute() else None


def _users_own() -> Path | None:
    """Return the folder for what a program keeps and can make again, as each system has it."""
    if sys.platform == "win32":
        local = os.environ.get("LOCALAPPDATA")
        return Path(local) if local else None
    if sys.platform != "darwin" and os.environ.get("XDG_CACHE_HOME"):
        return Path(os.environ["XDG_CACHE_HOME"])
    try:
        home = Path.home()
    except RuntimeError:
        return None
    return home / ("Library/Caches" if sys.platform == "darwin" else ".cache")


def prepare(folder: Path) -> None:
    """Make the folder, for its owner alone.

    Raises `NoPlaceError` when it cannot be made, is somebody else's, or others may write to it.
    """
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        facts = folder.lstat()
    except OSError as error:
        raise NoPlaceError((error.strerror or str(error)).lower()) from None
    if stat.S_ISLNK(facts.st_mode):
        raise NoPlaceError("it is a link")
    if sys.platform == "win32":
        return
    if facts.st_uid != os.geteuid():
        raise NoPlaceError("it belongs to somebody else")
    if facts.st_mode & 0o022:
        raise NoPlaceError("others may write to it")
