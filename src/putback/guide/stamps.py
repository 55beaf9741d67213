"""A guide read once for each state of its files."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from putback.guide.library import folder_for
from putback.guide.reading import read_guide
from putback.guide.record import Guide
from putback.guide.texts import CATALOGUES, pages_in
from putback.source.intake import Disk, NotReadError, list_names


@cache
def cached_guide(root: Path, stamp: tuple[tuple[str, int, int], ...]) -> Guide:
    """Return a guide, read once for each state of its files (`stamp_of`)."""
    del stamp
    return read_guide(root)


def stamp_of(root: Path) -> tuple[tuple[str, int, int], ...]:
    """Return names, times (ns) and sizes (bytes) of everything in the folders that a guide is read from."""
    shared, disk = folder_for(root), Disk()
    paths: list[Path] = []
    for folder in (root, root / "jobs", root / "blocks", root / CATALOGUES, shared, shared / "blocks"):
        try:
            names = list_names(folder)
        except NotReadError:
            continue
        paths += [folder / name for name in names]
        if folder == root:
            paths += [path for path in pages_in(root, names, disk).files if path.parent != root]
    found = []
    for path in paths:
        try:
            facts = path.stat()
        except OSError:  # a link to nowhere
            found.append((str(path), -1, -1))
        else:
            found.append((str(path), facts.st_mtime_ns, facts.st_size))
    return tuple(found)
