"""A folder beside the place, in which things are made before they take it."""

from __future__ import annotations

import os
import re
import secrets
import shutil
import time
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

NAME = re.compile(r"\.putback-[0-9a-f]{16}")
"""How such a folder is called."""

MARKER = "WORK-OF-PUTBACK.txt"
"""The file that says whose it is. Without it, a folder of such a name is somebody else's."""

MARK = (
    b"Putback makes a guide or a manual in this folder, and removes it afterwards.\n"
    b"If it was stopped, the next `putback build` or `putback new` for the same place clears it away.\n"
)


def open_scratch(folder: Path) -> Path:
    """Make a scratch folder in `folder`, which is claimed (see `lock.claim`). Raises `OSError`."""
    scratch = folder / f".putback-{secrets.token_hex(8)}"
    scratch.mkdir()
    try:
        (scratch / MARKER).write_bytes(MARK)
    except BaseException:
        remove(scratch)
        raise
    return scratch


def leftovers(folder: Path) -> Iterator[Path]:
    """Yield the scratch folders in a claimed folder: since nobody else can be at work, they were left behind."""
    with os.scandir(folder) as entries:
        found = sorted(entry.name for entry in entries if NAME.fullmatch(entry.name))
    for name in found:
        if is_scratch(folder / name):
            yield folder / name


def is_scratch(path: Path) -> bool:
    """Tell whether a folder of such a name is Putback's: it has the marker, or nothing at all (killed at its start)."""
    if path.is_symlink() or not path.is_dir():
        return False
    try:
        names = [child.name for child in path.iterdir()]
        if not names:
            return True
        marker = path / MARKER
        if marker.is_symlink() or not marker.is_file():
            return False
        text = marker.read_bytes()
    except OSError:
        return False
    # A full disk or a kill can cut the marker short, but then nothing else is in the folder yet.
    return text == MARK or (names == [MARKER] and MARK.startswith(text))


def remove(scratch: Path) -> None:
    """Remove a scratch folder, its marker last, so that what a kill leaves of it is still known.

    What cannot be removed stays for the next time.
    """
    for pause in (0.0, 0.05, 0.2):
        # A child of a killed program may be writing for one moment more.
        time.sleep(pause)
        with suppress(OSError):
            rest = [path for path in scratch.iterdir() if path.name != MARKER]
            for path in rest:
                if path.is_dir() and not path.is_symlink():
                    shutil.rmtree(path, ignore_errors=True)
                else:
                    path.unlink(missing_ok=True)
            if not any(path.name != MARKER for path in scratch.iterdir()):
                (scratch / MARKER).unlink(missing_ok=True)
                scratch.rmdir()
        if not scratch.exists():
            return
