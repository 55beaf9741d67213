"""Several things take their places together: afterwards all are the new ones, or all are the old ones.

They lie in `scratch/new`. A journal in `scratch` says what is to go where; from when it is there the switch is to be
finished, by whoever comes next if the program is killed. What was at a place goes into `scratch` in exchange.
"""

from __future__ import annotations

import errno
import json
import os
import signal
import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

from putback.placing import rename
from putback.placing.digest import digest

NEW, OLD, UNDONE = "new", "old", "undone"
"""Folders of a scratch folder: what is to take its place; what was there; what was taken back."""

JOURNAL = "switch.json"
"""The file of a scratch folder that says what is to go where."""

Keep = Callable[[Path], str | None]
"""Tells why what is at a path must not be replaced; None when it may, or when nothing is there."""


class KeptError(Exception):
    """What is at a place must not be replaced; the message says why."""


@dataclass(frozen=True, slots=True)
class Move:
    """One thing that is to take its place."""

    name: str
    """Its name in `scratch/new` and at its place."""
    digest: str
    """What it holds."""


def switch(scratch: Path, names: Sequence[str], folder: Path, keep: Keep) -> None:
    """Let `scratch/new/NAME` take the place `folder/NAME`, for all names or for none.

    Raises `KeptError`, or `OSError`; then everything is as it was. Should even that fail, the journal stays in
    `scratch`, which must not be removed then (`is_open`).
    """
    moves = [Move(name, digest(scratch / NEW / name)) for name in names]
    for name in names:
        flush(scratch / NEW / name)
    (scratch / OLD).mkdir()
    (scratch / UNDONE).mkdir()
    with _undisturbed():
        try:
            _write_journal(scratch, moves)
            _forward(scratch, moves, folder, keep)
            # Whatever came to a place in the last moment is in `scratch` now, where it would be removed.
            for move in moves:
                for held in (scratch / OLD / move.name, scratch / NEW / move.name):
                    _check(held, keep)
        except BaseException:
            _back(scratch, moves, folder)
            (scratch / JOURNAL).unlink(missing_ok=True)
            raise
        (scratch / JOURNAL).unlink()
        # All is in place: a disk that fails from here on takes nothing back.
        with suppress(OSError):
            _flush_folder(folder)


def is_open(scratch: Path) -> bool:
    """Tell whether a switch out of this scratch folder was begun and not finished."""
    return (scratch / JOURNAL).exists()


def finish(scratch: Path, folder: Path, keep: Keep) -> None:
    """Finish the switch that a killed program began, or take it back where that is not possible.

    Raises `OSError` when neither works; then `scratch` has what is missing.
    """
    moves = _read_journal(scratch)
    with _undisturbed():
        try:
            _forward(scratch, moves, folder, keep, again=True)
        except (OSError, KeptError):
            _back(scratch, moves, folder)
        (scratch / JOURNAL).unlink(missing_ok=True)
        with suppress(OSError):
            _flush_folder(folder)


def _forward(scratch: Path, moves: Sequence[Move], folder: Path, keep: Keep, *, again: bool = False) -> None:
    due: list[str] = []
    for move in moves:
        # Begun by another program: what is not there any more cannot be moved, and what has its place need not be.
        if again and not _holds(scratch / NEW / move.name, move):
            continue
        _check(folder / move.name, keep)
        due.append(move.name)
    for name in due:
        made, place = scratch / NEW / name, folder / name
        if os.path.lexists(place):
            if rename.exchange(made, place):
                continue
            rename.put(place, scratch / OLD / name)
        rename.put(made, place)


def _back(scratch: Path, moves: Sequence[Move], folder: Path) -> None:
    for move in reversed(moves):
        made, old, place = scratch / NEW / move.name, scratch / OLD / move.name, folder / move.name
        if _holds(made, move):
            if os.path.lexists(old) and not os.path.lexists(place):
                rename.put(old, place)
        elif _holds(place, move):
            held = next((path for path in (old, made) if os.path.lexists(path)), None)
            if held is None:
                rename.put(place, scratch / UNDONE / move.name)
            elif not rename.exchange(held, place):
                rename.put(place, scratch / UNDONE / move.name)
                rename.put(held, place)


def _holds(path: Path, move: Move) -> bool:
    """Tell whether this is what was to be moved."""
    try:
        return digest(path) == move.digest
    except OSError:
        return False


def _check(path: Path, keep: Keep) -> None:
    reason = keep(path)
    if reason is not None:
        raise KeptError(reason)


def _write_journal(scratch: Path, moves: Sequence[Move]) -> None:
    part = scratch / f"{JOURNAL}.part"
    with part.open("w", encoding="ascii") as file:
        json.dump([[move.name, move.digest] for move in moves], file)
        file.flush()
        os.fsync(file.fileno())
    part.rename(scratch / JOURNAL)
    _flush_folder(scratch)


def _read_journal(scratch: Path) -> list[Move]:
    try:
        found = json.loads((scratch / JOURNAL).read_text(encoding="ascii"))
        moves = [Move(str(name), str(holds)) for name, holds in found]
    except (OSError, ValueError, TypeError, RecursionError):
        return []
    return [move for move in moves if Path(move.name).name == move.name]


def flush(path: Path) -> None:
    """Have a file, or a folder with all that is in it, written to the disk. Raises `OSError`, as when that is full."""
    if path.is_dir():
        for child in path.iterdir():
            flush(child)
        _flush_folder(path)
    elif path.is_file():
        # Windows flushes only what is open for writing.
        handle = os.open(path, os.O_RDWR if os.name == "nt" else os.O_RDONLY)
        _flush_handle(handle)


def _flush_folder(path: Path) -> None:
    if os.name != "nt":
        _flush_handle(os.open(path, os.O_RDONLY))


def _flush_handle(handle: int) -> None:
    try:
        os.fsync(handle)
    except OSError as error:
        # Some disks cannot; that they are full or broken is another matter.
        if error.errno not in (errno.EINVAL, errno.ENOTSUP, errno.EBADF):
            raise
    finally:
        os.close(handle)


_STOPS = [getattr(signal, name) for name in ("SIGINT", "SIGTERM", "SIGHUP", "SIGBREAK") if hasattr(signal, name)]


@contextmanager
def _undisturbed() -> Iterator[None]:
    """Let Ctrl-C, a hang-up and a request to stop wait until the end."""
    if threading.current_thread() is not threading.main_thread():
        # Python runs what answers a signal in the main thread only.
        yield
        return
    came: list[int] = []
    # Not blocked by a mask: another thread, such as that of a spinner, would take them.
    before = {number: signal.signal(number, lambda number, _: came.append(number)) for number in _STOPS}
    try:
        yield
    finally:
        for number, answer in before.items():
            signal.signal(number, signal.SIG_DFL if answer is None else answer)
        if came:
            signal.raise_signal(came[0])
