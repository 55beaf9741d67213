"""Which guides a path stands for: a guide's folder, a folder with guides in it, or one file of a guide."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import NamedTuple

from putback.guide.folders import Stray, walk
from putback.guide.paths import guide_of, shown_path
from putback.guide.slips import holds_guide
from putback.source.finding import Finding, Level
from putback.source.intake import Disk, NotReadError, examine, list_names, resolved
from putback.source.nearest import nearest
from putback.source.plainly import printable
from putback.source.span import top_of

Found = dict[Path, set[Path] | None]
"""Guide folders, each with the files that were asked for; None for all of it."""


class Picked(NamedTuple):
    """Those of some guides that are to be checked."""

    guides: Found
    """The guides that are."""
    left_out: tuple[str, ...] = ()
    """Which are not, in words."""


Pick = Callable[[Found], Picked]
"""Says which of the guides that were found are to be checked."""


class NoHistoryError(Exception):
    """It is not known what has changed; the message says why, and what to do."""


class NoGuideError(Exception):
    """A path that leads to no guide; the message says why."""

    def __init__(self, message: str, path: Path) -> None:
        super().__init__(message)
        self.path = path


def find_guides(paths: Sequence[Path], unread: list[Finding] | None = None) -> Found:
    """Return guide folders below or around the given paths, each with the files asked for (None: all of it).

    A folder stands for all guides in it; a file for itself, in its guide. Folders below that cannot be listed go to
    `unread`. Raises `NoGuideError` for a path that does not exist or leads to no guide, and, without `unread`, for a
    folder that cannot be listed.
    """
    found: Found = {}
    for path in paths:
        _must_be_there(path)
        if Disk().is_folder(path):
            strays: list[Stray] = []
            below = _guides_below(path, strays)
            faults = [_fault(stray) for stray in strays]
            if unread is None and faults:
                raise NoGuideError(f"'{faults[0].span.path}': {faults[0].message}", path)
            if not below and not faults:
                inside = guide_of(path)
                if inside is None:
                    raise NoGuideError(
                        f"there is no guide in '{printable(str(path))}': a guide is a folder with guide.yaml and "
                        "machine.yaml; 'putback new' makes one",
                        path,
                    )
                below = [inside]
            found |= dict.fromkeys(below)
            if unread is not None:
                unread += faults
        else:
            # A job may be a link to a file elsewhere: it lies where the link lies.
            file = resolved(path.parent) / path.name
            folder = guide_of(file.parent)
            if folder is None:
                shown = printable(str(path))
                raise NoGuideError(f"'{shown}' is not in a guide: there is no machine.yaml beside or above it", path)
            wanted = found.setdefault(folder, set())
            if wanted is not None:
                wanted.add(file)
    return found


def _must_be_there(path: Path) -> None:
    """Raise `NoGuideError` when nothing is at a path, or only a link that leads nowhere."""
    shown = printable(str(path))
    if not path.is_absolute():
        try:
            Path.cwd()
        except OSError:
            raise NoGuideError("the current folder no longer exists; go to another one", path) from None
    disk = Disk()
    if disk.is_folder(path) or disk.is_file(path):
        return
    if disk.is_there(path):
        try:
            examine(path)
        except NotReadError as error:
            raise NoGuideError(f"'{shown}' cannot be read: {error}", path) from None
    try:
        near = nearest(path.name, list_names(path.parent))
    except NotReadError:
        near = None
    hint = f"; did you mean '{shown_path(path.parent / near)}'?" if near else ""
    raise NoGuideError(f"'{shown}' does not exist{hint}", path)


def _guides_below(top: Path, strays: list[Stray]) -> list[Path]:
    """Return the guides in a folder, itself included; none is looked for in a guide."""
    disk = Disk()
    # A link that leads upwards leads round.
    above = {disk.identity(folder) for folder in resolved(top).parents}
    folders = walk(top, strays, disk, closed=holds_guide, seen=above)
    return [resolved(folder) for folder, names in folders if holds_guide(names)]


def _fault(stray: Stray) -> Finding:
    return Finding("unread-file", Level.ERROR, top_of(shown_path(stray.path)), stray.message, hint=stray.hint)
