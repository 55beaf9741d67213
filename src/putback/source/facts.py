"""What a path leads to, without opening it."""

from __future__ import annotations

import errno
import os
import stat
from pathlib import Path
from typing import NamedTuple


class Facts(NamedTuple):
    """What the system says of a path."""

    whole: Path
    """The absolute path after all links; of one that leads nowhere, as far as that goes."""
    is_link: bool
    """Whether the path itself is a link."""
    kind: int | None
    """The kind of what it leads to, as `stat.S_IFMT` gives it; None for nothing, and for what the system refuses."""
    size: int = 0
    """Bytes of a file."""
    problem: str | None = None
    """Why there is nothing to be said of it, in words; None when it is just not there."""

    @property
    def is_file(self) -> bool:
        """Whether it is a regular file."""
        return self.kind == stat.S_IFREG

    @property
    def is_folder(self) -> bool:
        """Whether it is a folder."""
        return self.kind == stat.S_IFDIR


def facts_of(path: Path, whole: Path) -> Facts:
    """Return what the system says of a path, of which `whole` is where it leads."""
    is_link = os.path.islink(path)  # noqa: PTH114 - it says no where `pathlib` raises
    try:
        found = os.stat(path)  # noqa: PTH116 - likewise
    except OSError as error:
        gone = error.errno in (errno.ENOENT, errno.ENOTDIR)
        return Facts(whole, is_link, None, 0, None if gone else (error.strerror or "its name leads nowhere").lower())
    except ValueError:
        return Facts(whole, is_link, None, 0, "its name leads nowhere")
    kind = stat.S_IFMT(found.st_mode)
    return Facts(whole, is_link, kind, found.st_size if kind == stat.S_IFREG else 0)
