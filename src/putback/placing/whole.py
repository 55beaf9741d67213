"""One file takes its place as a whole, or what is there stays."""

from __future__ import annotations

from pathlib import Path

from putback.placing.lock import claim
from putback.placing.scratch import leftovers, open_scratch, remove
from putback.placing.switch import flush, is_open


def write_whole(place: Path, data: bytes) -> None:
    """Write a file as a whole; a link at its place is replaced, and never followed.

    Its folder must be there. Raises `OSError`, and `lock.BusyError` when another program is at work in that folder;
    then everything is as it was.
    """
    folder = place.parent.resolve(strict=True)
    with claim(folder) as alone:
        if alone:
            tidy(folder)
        # In a folder with a name that nobody can know before: a link that somebody laid there would lead elsewhere.
        scratch = open_scratch(folder)
        try:
            made = scratch / place.name
            made.write_bytes(data)
            flush(made)
            made.replace(folder / place.name)
        finally:
            remove(scratch)


def tidy(folder: Path) -> None:
    """Remove what killed programs left in a claimed folder; a switch that was begun is for `build` to finish."""
    for left in leftovers(folder):
        if not is_open(left):
            remove(left)
