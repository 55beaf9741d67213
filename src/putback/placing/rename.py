"""Renames that never write over anything, and the exchange of two names in one step where the system has it."""

from __future__ import annotations

import ctypes
import errno
import os
import sys
from collections.abc import Callable
from functools import cache
from pathlib import Path

_HERE = -100
"""AT_FDCWD: paths are as for any other call."""
_KEEP = 1
"""RENAME_NOREPLACE: fail when something stands at the new name."""
_SWAP = 2
"""RENAME_EXCHANGE: both names stay, and change what they stand for."""
_UNKNOWN = {errno.EINVAL, errno.ENOSYS, errno.ENOTSUP, errno.EPERM}
"""What a kernel or a file system answers that has no such rename. EPERM: a sandbox that filters system calls."""

SystemRename = Callable[[int, bytes, int, bytes, int], int]


@cache
def system_rename() -> SystemRename | None:
    """Return Linux's renameat2 (since 3.15, in glibc since 2.28), or None where there is none."""
    if sys.platform != "linux":
        return None
    try:
        call = ctypes.CDLL(None, use_errno=True).renameat2
    except (OSError, AttributeError):
        return None
    call.argtypes = [ctypes.c_int, ctypes.c_char_p, ctypes.c_int, ctypes.c_char_p, ctypes.c_uint]
    call.restype = ctypes.c_int
    found: SystemRename = call
    return found


def exchange(one: Path, other: Path) -> bool:
    """Let two names on one file system change what they stand for; return False where the system cannot.

    Raises `OSError` when it can and it failed.
    """
    return _special(one, other, _SWAP)


def put(made: Path, place: Path) -> None:
    """Give what is at `made` the name `place`. Raises `FileExistsError` when something stands there."""
    if _special(made, place, _KEEP):
        return
    if os.path.lexists(place):
        raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(place))
    made.rename(place)


def _special(one: Path, other: Path, how: int) -> bool:
    rename = system_rename()
    if rename is None:
        return False
    if rename(_HERE, os.fsencode(one), _HERE, os.fsencode(other), how) == 0:
        return True
    number = ctypes.get_errno()
    if number in _UNKNOWN:
        return False
    raise OSError(number, os.strerror(number), str(one), None, str(other))
