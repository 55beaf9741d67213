"""A new guide: the files in this folder, copied to where the author wants them, and the schemas for editors."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

from putback.placing.file import tidy
from putback.placing.lock import claim
from putback.placing.rename import put
from putback.placing.scratch import open_scratch, remove
from putback.placing.switch import flush
from putback.starter.schemas import renew_schemas

_HERE = Path(__file__).parent


class GuideExistsError(Exception):
    """There is something at that place already."""


def start_guide(folder: Path) -> list[Path]:
    """Write a new guide and return its files.

    Writes beside and then renames, so that there is a whole guide or none; clears away what a killed run left there.
    Raises `GuideExistsError` when something is there that is not an empty folder, `placing.lock.BusyError` when another
    program is at work beside it, and `OSError` when it cannot be written.
    """
    _check(folder)
    place = folder.parent.resolve() / folder.name
    with claim(place.parent) as alone:
        if alone:
            tidy(place.parent)
        scratch = open_scratch(place.parent)
        try:
            ready = scratch / "guide"
            shutil.copytree(_HERE, ready, ignore=shutil.ignore_patterns("*.py", "__pycache__"))
            (ready / "images").mkdir()
            renew_schemas(ready)
            flush(ready)
            _check(folder)
            _put(ready, place)
        finally:
            remove(scratch)
    return sorted(path for path in folder.rglob("*") if path.is_file())


def _check(folder: Path) -> None:
    if folder.is_symlink():
        raise GuideExistsError(f"'{folder}' is a link; nothing was written")
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise GuideExistsError(f"'{folder}' already exists; nothing was written")
    if not folder.name or (folder.exists() and folder.samefile(Path())):
        raise GuideExistsError(f"'{folder}' is the current folder; go up one level, and name the new guide from there")


def _put(ready: Path, place: Path) -> None:
    if not os.path.lexists(place):
        put(ready, place)
        return
    if os.name == "nt":
        place.rmdir()
    # Takes the place of an empty folder, and of nothing else.
    ready.rename(place)
