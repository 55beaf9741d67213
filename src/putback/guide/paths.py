"""Where guides are, and how their paths are shown."""

from __future__ import annotations

import os
from pathlib import Path

from putback.guide.slips import holds_guide
from putback.source.intake import Disk, NotReadError, list_names, resolved
from putback.source.plainly import printable


def shown_path(path: Path) -> str:
    """Return a path as a user in the current folder would write it; what cannot be shown in it, as escapes."""
    try:
        relative = os.path.relpath(path)
    except (ValueError, OSError):  # another drive, or no current folder
        return printable(str(path))
    return printable(str(path) if relative.startswith("..") else Path(relative).as_posix())


def is_guide(folder: Path) -> bool:
    """Tell whether a folder is a guide: guide.yaml or machine.yaml is in it, be it with a slip in its name."""
    if any(os.path.lexists(folder / name) for name in ("guide.yaml", "machine.yaml")):
        return True
    try:
        return holds_guide(list_names(folder))
    except NotReadError:
        return False


def guide_of(path: Path) -> Path | None:
    """Return the guide folder that a file or folder lies in, itself included."""
    path = resolved(path)
    folders = [folder for folder in (path, *path.parents) if Disk().is_folder(folder)]
    for folder in folders:
        if any(os.path.lexists(folder / name) for name in ("guide.yaml", "machine.yaml")):
            return folder
    return next((folder for folder in folders if is_guide(folder)), None)
