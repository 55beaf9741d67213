"""What a piece of work does to the computer: each reach beyond what it was given is noted, and the worst are stopped.

Python tells of every file, socket and process by an audit event, whoever asks for it and however.
"""

from __future__ import annotations

import os
import site
import sys
import sysconfig
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from types import CodeType

import putback
from putback.typstpdf.press import PROGRAM

_PROGRAMS = {
    *map(os.path.realpath, (sys.prefix, sys.base_prefix, sys.exec_prefix, *site.getsitepackages())),
    *(os.path.realpath(path) for path in sysconfig.get_paths().values()),
    os.path.realpath(Path(putback.__file__).parents[2]),
    *(os.path.realpath(path) for path in sys.path if path),
}
"""Where Python, Putback and what it leans on are installed."""

_OF_THE_SYSTEM = (
    "/dev/null",
    "/etc/mime.types",
    "/etc/localtime",
    "/usr/share/zoneinfo",
    "/usr/lib/locale",
)
"""What Python itself asks the system for."""

_WRITE = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC | os.O_APPEND
_CHANGES = {
    "os.remove": 1,
    "os.rmdir": 1,
    "os.mkdir": 1,
    "os.truncate": 1,
    "os.chmod": 1,
    "os.chown": 1,
    "os.utime": 1,
    "os.setxattr": 1,
    "os.rename": 2,
    "os.link": 2,
    "os.symlink": 2,
}
"""Events of a change on disk, and how many paths each has."""
_PROCESSES = ("os.system", "os.exec", "os.posix_spawn", "os.spawn", "os.fork", "os.forkpty", "pty.spawn")


class _Watch:
    """One piece of work under watch."""

    def __init__(self, readable: Sequence[Path], writable: Sequence[Path]) -> None:
        self.given = [*map(os.path.realpath, (*readable, *writable))]
        self.writable = [*map(os.path.realpath, writable)]
        self.found: list[str] = []

    def note(self, event: str, args: tuple[object, ...]) -> None:
        """Note an event that goes beyond what was given; stop it when it reaches out of this computer or process."""
        other = event == "subprocess.Popen" and not (isinstance(args[1], list) and str(PROGRAM) in args[1])
        if other or event.startswith("socket.") or event in _PROCESSES:
            self.refuse(event, args)
        elif event == "open":
            self.opened(*args[:3])
        elif event in ("os.listdir", "os.scandir"):
            self.look(event, args[0])
        elif event in _CHANGES:
            for path in args[: _CHANGES[event]]:
                self.change(event, path, args)
        elif event == "exec" and isinstance(args[0], CodeType) and self.is_given(os.path.realpath(args[0].co_filename)):
            self.refuse(event, (args[0].co_filename,))

    def refuse(self, event: str, args: tuple[object, ...]) -> None:
        """Note something and stop it."""
        self.found.append(f"{event} {args!r:.200}")
        raise PermissionError(event)

    def opened(self, path: object, mode: object, flags: object) -> None:
        """Look at a file that is opened."""
        if isinstance(flags, int) and flags & _WRITE:
            self.change("open to write", path, ())
        else:
            self.look("open", path)

    def look(self, event: str, path: object) -> None:
        """Note what is read and is neither given nor part of the programs."""
        if isinstance(path, str | bytes | os.PathLike):
            whole = os.path.realpath(os.fsdecode(path))
            if not self.is_given(whole) and not any(_in(whole, top) for top in (*_PROGRAMS, *_OF_THE_SYSTEM)):
                self.found.append(f"{event} {whole}")

    def change(self, event: str, path: object, args: tuple[object, ...]) -> None:
        """Note what is written and is not given for that."""
        if not isinstance(path, str | bytes | os.PathLike):
            return
        name = os.fsdecode(path)
        handle = next((arg for arg in args[1:] if isinstance(arg, int) and arg > 2), None)
        if handle is not None and not name.startswith("/") and event in ("os.remove", "os.rmdir"):
            name = f"{Path(f'/proc/self/fd/{handle}').readlink()}/{name}"
        # What is at the end of a link is not touched by a change; to open it is to follow it.
        whole = os.path.realpath(name)
        if event != "open to write":
            whole = f"{os.path.realpath(Path(name).parent)}/{Path(name).name}"
        if whole != os.devnull and not any(_in(whole, top) for top in self.writable):
            self.found.append(f"{event} {whole}")

    def is_given(self, whole: str) -> bool:
        """Tell whether something lies in what was given."""
        return any(_in(whole, top) for top in self.given)


def _in(path: str, top: str) -> bool:
    return path == top or path.startswith(f"{top.rstrip('/')}/")


_watches: list[_Watch] = []


def _hook(event: str, args: tuple[object, ...]) -> None:
    if _watches:
        # What the watch itself asks the system is not looked at.
        watch = _watches.pop()
        try:
            watch.note(event, args)
        finally:
            _watches.append(watch)


_hooked: list[bool] = []


@contextmanager
def watched(readable: Sequence[Path], writable: Sequence[Path] = ()) -> Iterator[list[str]]:
    """Watch what is done meanwhile; yield the list to which each reach beyond these folders is added."""
    if not _hooked:
        _hooked.append(True)
        sys.addaudithook(_hook)
    watch = _Watch(readable, writable)
    _watches.append(watch)
    try:
        yield watch.found
    finally:
        _watches.remove(watch)
