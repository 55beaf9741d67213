"""One file takes its place as a whole or not at all."""

from __future__ import annotations

import errno
import os
from pathlib import Path

from putback.placing.lock import BusyError, claim
from putback.placing.scratch import leftovers, open_scratch, remove
from putback.placing.switch import flush, is_open


def write_whole(path: Path, content: bytes) -> None:
    """Write a file, in place of one that is there; folders above it are made.

    It is written in a scratch folder beside its place, and renamed when it is on the disk. A link at its place is
    replaced, and never followed: a stranger's could lead anywhere. Raises `OSError`; then what was there is as it was.
    """
    if path.exists() and not path.is_file():
        raise OSError(errno.EINVAL, "it is no ordinary file", str(path))
    if path.parent.is_file():
        raise NotADirectoryError(errno.ENOTDIR, os.strerror(errno.ENOTDIR), str(path))
    folder = path.parent.resolve()
    try:
        with claim(folder) as alone:
            if alone:
                tidy(folder)
            # Its name cannot be known before: else a link could be laid there.
            scratch = open_scratch(folder)
            try:
                made = scratch / path.name
                made.write_bytes(content)
                flush(made)
                made.replace(folder / path.name)
            finally:
                remove(scratch)
    except BusyError:
        raise OSError(errno.EBUSY, "another program is at work in its folder", str(path)) from None


def tidy(folder: Path) -> None:
    """Remove what killed programs left in a claimed folder; a switch that was begun is for `build` to finish."""
    for left in leftovers(folder):
        if not is_open(left):
            remove(left)
