"""One file takes its place as a whole or not at all."""

from __future__ import annotations

import errno
import os
import secrets
from pathlib import Path

from putback.placing.switch import flush


def write_whole(path: Path, content: bytes) -> None:
    """Write a file, in place of one that is there; folders above it are made.

    It is written beside its place under another name, and renamed when it is on the disk. A link is followed. Raises
    `OSError`; then what was there is as it was.
    """
    place = Path(os.path.realpath(path))
    if place.exists() and not place.is_file():
        raise OSError(errno.EINVAL, "it is no ordinary file", str(path))
    if place.parent.is_file():
        raise NotADirectoryError(errno.ENOTDIR, os.strerror(errno.ENOTDIR), str(path))
    place.parent.mkdir(parents=True, exist_ok=True)
    beside = place.with_name(f".putback-{secrets.token_hex(8)}")
    try:
        beside.write_bytes(content)
        flush(beside)
        beside.replace(place)
    finally:
        beside.unlink(missing_ok=True)
