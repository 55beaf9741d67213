"""What a file or a folder holds, as one number: the same on any disk, and under any name."""

from __future__ import annotations

import hashlib
import os
import stat
from pathlib import Path


def digest(path: Path) -> str:
    """Return the SHA-256 of a file, or of all names and contents of a folder, as hexadecimal digits.

    Links are not followed. What is neither a file, a folder nor a link counts by its kind only. Raises `OSError`.
    """
    whole = hashlib.sha256()
    for line in _lines(path, b""):
        whole.update(line)
    return whole.hexdigest()


def _lines(path: Path, name: bytes) -> list[bytes]:
    mode = path.lstat().st_mode
    head = b"%s\0%o\0" % (name, stat.S_IFMT(mode))
    if stat.S_ISLNK(mode):
        return [head + os.fsencode(path.readlink()) + b"\n"]
    if stat.S_ISREG(mode):
        with path.open("rb") as file:
            return [head + hashlib.file_digest(file, "sha256").digest() + b"\n"]
    found = [head + b"\n"]
    if stat.S_ISDIR(mode):
        for child in sorted(path.iterdir(), key=os.fsencode):
            found += _lines(child, name + b"/" + os.fsencode(child.name))
    return found
