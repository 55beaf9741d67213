"""Guides checked by several processes: the one that costs most first, each next one by whoever is free.

Nothing goes between them but what was asked for, and results as bytes. What fails in a helper fails again here, where
it is told as if there had been no helper.
"""

from __future__ import annotations

import gc
import json
import os
import signal
import sys
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from multiprocessing import get_context, parent_process
from multiprocessing.connection import Connection, wait
from multiprocessing.process import BaseProcess
from typing import Literal

from putback.lint.cache import GuideRequest, opened, seal
from putback.lint.parts import cost_of
from putback.lint.result import GuideResult, LostHelperError
from putback.source.intake import Disk
from putback.source.plainly import printable
from putback.source.witness import Witness

WORTH = {"fork": 120_000, "spawn": 1_500_000}
"""Bytes of guides that are worth a second process, by how it is started: a new one has to load the checks first."""

MOST_UNASKED = 8
"""Processes that nobody asked for: a container may say that it has more cores than it may use."""


def start_method() -> Literal["fork", "spawn"]:
    """Return how a process is started: as a copy of this one where that is safe."""
    is_alone = threading.active_count() == 1
    return "fork" if sys.platform == "linux" and is_alone else "spawn"


def cores() -> int:
    """Return how many processes can run at once."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def worth(asked: Sequence[GuideRequest]) -> int:
    """Return how many processes are worth their start for some guides."""
    if len(asked) < 2 or cores() < 2:
        return 1
    costs = sorted(cost_of(each.folder) for each in asked)
    return min(cores(), len(asked), MOST_UNASKED) if sum(costs[:-1]) >= WORTH[start_method()] else 1


def check(asked: GuideRequest, *, witnessed: bool) -> tuple[GuideResult, bytes]:
    """Check one guide in this process; return the result, and the same as bytes, with all that it depends on."""
    from putback.lint.run import lint_guide  # the checks, which take a while to load

    witness = Witness(Disk()) if witnessed else None
    result = lint_guide(asked.folder, asked.only, asked.wanted, witness)
    return result, seal(witness, result) if witnessed else b""


def check_all(
    asked: Sequence[GuideRequest], processes: int, *, witnessed: bool
) -> Iterator[tuple[int, GuideResult, bytes]]:
    """Check guides; yield for each its number, its result, and that as bytes, in the order in which they are done.

    Raises `LostHelperError`, and what a check of a guide raises.
    """
    if processes < 2 or len(asked) < 2:
        for number, one in enumerate(asked):
            yield number, *check(one, witnessed=witnessed)
        return
    failed = []
    for number, sealed in _shared_out(asked, min(processes, len(asked)), witnessed):
        if sealed:
            yield number, opened(json.loads(sealed))[1], sealed
        else:
            failed.append(number)
    for number in sorted(failed):
        yield number, *check(asked[number], witnessed=witnessed)


class _Helper:
    """A process that checks one guide after another."""

    def __init__(self, process: BaseProcess, pipe: Connection) -> None:
        self.process = process
        self.pipe = pipe
        self.number: int | None = None
        """The guide that it is at."""


def _shared_out(asked: Sequence[GuideRequest], processes: int, witnessed: bool) -> Iterator[tuple[int, bytes]]:
    """Yield the number of each guide with its result as bytes; without bytes where the check failed."""
    if start_method() == "fork":
        import putback.lint.run  # noqa: F401 - once, for all of them
    sys.stdout.flush()
    sys.stderr.flush()
    waiting = sorted(range(len(asked)), key=lambda number: (cost_of(asked[number].folder), -number))
    helpers: list[_Helper] = []
    try:
        for _ in range(processes):
            helpers.append(_started(witnessed, helpers))
        for helper in helpers:
            _hand_out(helper, waiting, asked)
        while busy := [helper for helper in helpers if helper.number is not None]:
            ready = wait([helper.pipe for helper in busy])
            for helper in busy:
                if helper.pipe in ready and helper.number is not None:
                    number, sealed = helper.number, _received(helper, asked)
                    _hand_out(helper, waiting, asked)
                    yield number, sealed
    finally:
        _end(helpers)


def _started(witnessed: bool, others: Sequence[_Helper]) -> _Helper:
    context = get_context("fork") if start_method() == "fork" else get_context("spawn")
    ours, theirs = context.Pipe()
    # A copy of this process has the pipes of the others as well, and would keep them open.
    close = [other.pipe for other in others] + [ours] if start_method() == "fork" else []
    process = context.Process(target=_work, args=(theirs, close, witnessed), daemon=True)
    with _no_interruption():
        process.start()
    theirs.close()
    return _Helper(process, ours)


@contextmanager
def _no_interruption() -> Iterator[None]:
    """Let an interruption wait: a process that has only begun would tell of it, too."""
    if not hasattr(signal, "pthread_sigmask"):
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


def _hand_out(helper: _Helper, waiting: list[int], asked: Sequence[GuideRequest]) -> None:
    helper.number = waiting.pop() if waiting else None
    if helper.number is not None:
        try:
            helper.pipe.send(asked[helper.number])
        except OSError:
            raise _lost(helper, asked) from None


def _received(helper: _Helper, asked: Sequence[GuideRequest]) -> bytes:
    try:
        return helper.pipe.recv_bytes()
    except (EOFError, OSError):
        raise _lost(helper, asked) from None


def _lost(helper: _Helper, asked: Sequence[GuideRequest]) -> LostHelperError:
    helper.process.join(5)
    code = helper.process.exitcode
    how = f"was killed by signal {-code}" if code is not None and code < 0 else f"ended with code {code}"
    where = printable(str(asked[helper.number].folder)) if helper.number is not None else "nothing"
    why = "; perhaps there is not enough memory: try --processes 1" if code == -getattr(signal, "SIGKILL", 9) else ""
    return LostHelperError(f"the process that checked {where} {how}{why}")


def _end(helpers: Sequence[_Helper]) -> None:
    """Leave no process behind: one that waits ends when its pipe is closed, one that works is stopped."""
    for helper in helpers:
        helper.pipe.close()
        if helper.number is not None:
            helper.process.terminate()
    for helper in helpers:
        helper.process.join(5)
        if helper.process.is_alive():
            helper.process.kill()
            helper.process.join()
        helper.process.close()


def _work(pipe: Connection, others: Sequence[Connection], witnessed: bool) -> None:
    """Check what comes, until nothing more does, or nobody is there any more to be told."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # the first process is interrupted as well, and ends this one
    if hasattr(signal, "pthread_sigmask"):
        signal.pthread_sigmask(signal.SIG_UNBLOCK, {signal.SIGINT})
    gc.set_threshold(20_000, 20, 20)
    gc.freeze()  # what was loaded before stays, and a copy need not be made of it only because it was looked at
    for other in others:
        other.close()
    parent = parent_process()
    gone = [parent.sentinel] if parent is not None else []
    try:
        while pipe in wait([pipe, *gone]):
            asked: GuideRequest = pipe.recv()
            pipe.send_bytes(_tried(asked, witnessed))
    except (EOFError, OSError):
        return


def _tried(asked: GuideRequest, witnessed: bool) -> bytes:
    """Return a result as bytes; none when the check fails, for the first process to do it again, and to tell."""
    try:
        result, sealed = check(asked, witnessed=witnessed)
        return sealed or seal(None, result)
    except Exception:
        return b""
