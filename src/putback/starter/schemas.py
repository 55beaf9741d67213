"""The schemas for editors: a copy in each guide, so that the path to them is right on every machine.

A path to where Putback is installed differs from machine to machine, and an address needs the network. A copy in the
guide is committed with it; its first lines name it: `# yaml-language-server: $schema=.schema/guide.schema.json`.
"""

from __future__ import annotations

import errno
from pathlib import Path

from putback.source.intake import NotReadError, take
from putback.source.schema import FileKind, shipped

FOLDER = ".schema"
"""Where the copies are, in a guide. The name is hidden, so that nothing in the folder is read as part of the guide."""

_MODELINE = "# yaml-language-server: $schema="
_FOLDERS = {FileKind.JOB: "jobs", FileKind.BLOCK: "blocks"}


def renew_schemas(guide: Path) -> list[Path]:
    """Bring the copies in a guide up to date, and return those that were written.

    Each is replaced as a whole. Other files there stay. Raises `OSError`.
    """
    folder = guide / FOLDER
    if folder.is_symlink():
        raise OSError(errno.EEXIST, "it is a link", str(folder))
    folder.mkdir(exist_ok=True)
    written = []
    for source in sorted(shipped("schema").glob("*.schema.json")):
        copy, text = folder / source.name, source.read_bytes()
        if not copy.is_symlink() and _bytes_of(copy) == text:
            continue
        made = folder / f".{source.name}.new"
        made.unlink(missing_ok=True)
        with made.open("xb") as file:
            file.write(text)
        made.replace(copy)
        written.append(copy)
    return written


def has_schemas(folder: Path) -> bool:
    """Tell whether a folder has files that schemas are for: a guide, or a library."""
    return any((folder / f"{kind}.yaml").is_file() for kind in FileKind if kind not in _FOLDERS)


def first_lines(guide: Path) -> dict[str, str]:
    """Return the first line that the YAML files of a guide lack for an editor, by which files they are."""
    lacking = {}
    for kind in FileKind:
        folder = _FOLDERS.get(kind)
        name = f"{folder}/*.yaml" if folder else f"{kind}.yaml"
        if any(_MODELINE.encode() not in _bytes_of(path) for path in guide.glob(name) if path.is_file()):
            lacking[name] = f"{_MODELINE}{'../' if folder else ''}{FOLDER}/{kind}.schema.json"
    return lacking


def _bytes_of(path: Path) -> bytes:
    """Return what is in a file; nothing when it cannot be read, which is told where it matters."""
    try:
        return take(path)
    except NotReadError:
        return b""
