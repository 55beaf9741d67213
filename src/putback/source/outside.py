"""What other packages bring, and how it is said that something in it is wrong."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from importlib.metadata import EntryPoint

ENTRY_POINTS = "putback.checks"
"""The group of the entry points that bring checks."""


class BadCheckError(Exception):
    """A check that cannot be used, or that failed; the message says which one, of which package, and what is wrong."""


def entry_points_of_checks() -> list[EntryPoint]:
    """Return the entry points that bring checks, in an order that depends on nothing but their names."""
    if not any(_brings(*package) for package in installed()):
        return []
    from importlib.metadata import entry_points  # slow to import

    try:
        found = {(package_of(point), point.name, point.value): point for point in entry_points(group=ENTRY_POINTS)}
    except Exception as error:
        raise BadCheckError(f"what installed packages bring cannot be read: {words_of(error)}") from error
    return [found[key] for key in sorted(found)]


def package_of(point: EntryPoint) -> str:
    """Return the name of the package that an entry point is of; of one that does not say, what it brings."""
    return (point.dist.name if point.dist else None) or point.value


def installed() -> Iterator[tuple[str, str]]:
    """Yield the folders of the path of modules, each with a name in it that stands for an installed package."""
    for folder in sys.path:
        try:
            with os.scandir(folder or ".") as entries:
                names = sorted(entry.name for entry in entries if entry.name.endswith(_PACKAGES))
        except NotADirectoryError:
            yield folder, ""  # an archive, whose packages are not looked for
        except OSError:
            continue
        else:
            yield from ((folder, name) for name in names)


_PACKAGES = (".dist-info", ".egg-info", ".egg")


def _brings(folder: str, name: str) -> bool:
    """Whether an installed package may bring checks.

    Whoever reads the lists of all installed packages needs ten times as long to look for them as Putback for its own.
    """
    if not name or name.endswith(".egg"):
        return True
    try:
        return ENTRY_POINTS.encode() in Path(folder, name, "entry_points.txt").read_bytes()
    except OSError:
        return False


def words_of(error: BaseException) -> str:
    """Return what is said of an error of somebody else's code."""
    words = " ".join(str(error).split())
    where = "".join(f" ({note})" for note in getattr(error, "__notes__", ()))
    return f"{type(error).__name__}{f': {words}' if words else ''}{where}"
