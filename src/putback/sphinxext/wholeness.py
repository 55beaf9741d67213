"""Whether all that Sphinx wanted to write was written: it only warns of a page that found no room on the disk."""

from __future__ import annotations

import errno
import logging
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

_DISK = {
    errno.ENOSPC, errno.EFBIG, errno.EROFS, errno.EIO, errno.ENFILE, errno.EMFILE, errno.ENOMEM,
    getattr(errno, "EDQUOT", errno.ENOSPC),
}  # fmt: skip
"""Faults that are none of the file's: full, too big, read-only, broken, too many open, no memory, over the quota."""


def is_disk_fault(error: OSError) -> bool:
    """Tell whether the machine is to blame, and not the file that was read."""
    return error.errno in _DISK


@contextmanager
def no_file_lost(out: Path) -> Iterator[None]:
    """Raise the `OSError` that kept Sphinx, meanwhile, from writing a file into `out`."""
    watch = _Watch(out)
    logger = logging.getLogger("sphinx")
    logger.addHandler(watch)
    try:
        yield
    finally:
        logger.removeHandler(watch)
    if watch.lost:
        raise watch.lost[0]


class _Watch(logging.Handler):
    """Gathers the faults that Sphinx tells of. Its words are in the language of the manual; the faults are not."""

    def __init__(self, out: Path) -> None:
        super().__init__()
        self.out = out
        self.lost: list[OSError] = []

    def emit(self, record: logging.LogRecord) -> None:
        for fault in record.args if isinstance(record.args, tuple) else ():
            if isinstance(fault, OSError) and (is_disk_fault(fault) or self._is_ours(fault)):
                self.lost.append(fault)

    def _is_ours(self, fault: OSError) -> bool:
        names = (fault.filename, fault.filename2)
        return any(Path(name).is_relative_to(self.out) for name in names if isinstance(name, str))
