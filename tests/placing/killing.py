"""Kill a switch at every line of its code, or let it fail there, and see what is left; a program of its own.

    python -m tests.placing.killing kill|fail FOLDER

prints as JSON what was counted. `PUTBACK_NO_EXCHANGE=1` takes away the system's exchange of names.
"""

from __future__ import annotations

import errno
import json
import os
import shutil
import signal
import sys
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import suppress
from itertools import count
from pathlib import Path
from types import FrameType
from typing import Any

import putback.placing
from putback.placing import rename
from putback.placing.scratch import leftovers, open_scratch, remove
from putback.placing.switch import NEW, finish, is_open, switch

CODE = str(Path(putback.placing.__file__).parent)
NAMES = ("html", "book.pdf")


def made(folder: Path, age: str, names: tuple[str, ...] = NAMES) -> None:
    """Write the things of an age, `old` or `new`."""
    folder.mkdir(exist_ok=True)
    for name in names:
        if name == "html":
            (folder / name / "jobs").mkdir(parents=True)
            (folder / name / "index.html").write_text(f"{age} page", encoding="utf-8")
            (folder / name / "jobs" / f"{age}.html").write_text("a job", encoding="utf-8")
        else:
            (folder / name).write_text(f"{age} book", encoding="utf-8")


def ages(folder: Path) -> tuple[str, str]:
    """Return how old the HTML and the PDF are: `old`, `new`, or `none` when nothing is there."""
    page, book = folder / "html" / "index.html", folder / "book.pdf"
    return (
        page.read_text(encoding="utf-8").split()[0] if page.exists() else "none",
        book.read_text(encoding="utf-8").split()[0] if book.exists() else "none",
    )


def all_may_go(path: Path) -> None:
    """Keep nothing."""
    del path


def clear(folder: Path) -> None:
    """Do what the next build begins with."""
    for left in leftovers(folder):
        if is_open(left):
            finish(left, folder, all_may_go)
        remove(left)


def watch_for(line: int, then: Callable[[], None]) -> None:
    """Do something when the given line (from 1) of the code is reached."""
    seen = count(1)

    def trace(frame: FrameType, event: str, arg: object) -> Any:
        if not frame.f_code.co_filename.startswith(CODE):
            return None
        if event == "line" and next(seen) == line:
            then()
        return trace

    sys.settrace(trace)


def killed_at(line: int, action: Callable[[], None]) -> bool:
    """Run something in a child that is killed at the given line of it; tell whether it came to that."""
    child = os.fork()
    if child == 0:
        watch_for(line, lambda: os.kill(os.getpid(), signal.SIGKILL))
        action()
        os._exit(0)
    _, status = os.waitpid(child, 0)
    if not os.WIFSIGNALED(status) and os.waitstatus_to_exitcode(status) != 0:
        raise SystemExit("the child fell")
    return os.WIFSIGNALED(status)


def begun(folder: Path, before: tuple[str, ...]) -> Path:
    """Lay out old things and a scratch folder with new ones."""
    shutil.rmtree(folder, ignore_errors=True)
    made(folder, "old", before)
    scratch = open_scratch(folder)
    made(scratch / NEW, "new")
    return scratch


Trial = tuple[tuple[str, str], tuple[str, str], list[str]]
"""The ages after a trial; those after the next build's beginning; all names in the folder then."""


def kills(folder: Path, before: tuple[str, ...]) -> Iterator[Trial]:
    """Kill the switch at each line, and those that clear up after it somewhere."""
    for line in count(1):
        scratch = begun(folder, before)
        if not killed_at(line, lambda scratch=scratch: switch(scratch, NAMES, folder, all_may_go)):  # type: ignore[misc]
            return
        left = ages(folder)
        if is_open(scratch):
            killed_at(1 + line % 40, lambda: clear(folder))
            killed_at(1 + line * 7 % 90, lambda: clear(folder))
        clear(folder)
        yield left, ages(folder), sorted(path.name for path in folder.iterdir())


class FullError(OSError):
    """The disk is full, in a trial."""


def faults(folder: Path, before: tuple[str, ...]) -> Iterator[Trial]:
    """Let the switch fail once at each line: it must see to itself that all is old or all is new."""
    for line in count(1):
        scratch = begun(folder, before)
        reached: list[bool] = []

        def full(reached: list[bool] = reached) -> None:
            reached.append(True)
            raise FullError(errno.ENOSPC, os.strerror(errno.ENOSPC))

        watch_for(line, full)
        with suppress(FullError):
            switch(scratch, NAMES, folder, all_may_go)
        sys.settrace(None)
        if not reached:
            return
        left = ages(folder)
        clear(folder)
        yield left, ages(folder), sorted(path.name for path in folder.iterdir())


def main(how: str, folder: Path) -> None:
    """Try every line with everything, one thing, or nothing there before."""
    # To the disk itself it would take minutes, and a kill does not reach that.
    os.fsync = lambda handle: None  # type: ignore[assignment]
    if os.environ.get("PUTBACK_NO_EXCHANGE"):
        rename.system_rename = lambda: None  # type: ignore[assignment]
    told = {}
    for has_page, has_book in [(True, True), (False, True), (False, False)]:
        before = tuple(name for name, has in zip(NAMES, (has_page, has_book), strict=True) if has)
        old = ("old" if has_page else "none", "old" if has_book else "none")
        lines, mixed, after, strange = 0, 0, Counter[str](), 0
        for left, cleared, names in {"kill": kills, "fail": faults}[how](folder, before):
            lines += 1
            mixed += left not in (old, ("new", "new"))
            after["-".join(cleared)] += 1
            strange += names != sorted({name for name, age in zip(NAMES, cleared, strict=True) if age != "none"})
        told["-".join(old)] = {"lines": lines, "mixed": mixed, "after": after, "strange": strange}
    print(json.dumps(told))


if __name__ == "__main__":
    main(sys.argv[1], Path(sys.argv[2]))
