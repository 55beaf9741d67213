"""Bounded time for one execution, and where in Putback something went wrong."""

from __future__ import annotations

import signal
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import FrameType

SLOW = 2.0
"""Seconds of CPU that one execution may take for each 10 kB of its input, or for less."""
HANGS = 10.0
"""Seconds of CPU after which it is stopped."""


class HangsError(BaseException):
    """An execution that takes too long: nothing may take it for a fault of the input."""


@contextmanager
def bounded() -> Iterator[None]:
    """Raise `HangsError` where the program is after `HANGS` seconds of CPU."""
    handler = signal.signal(signal.SIGPROF, _stop)
    signal.setitimer(signal.ITIMER_PROF, HANGS)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, handler)


def _stop(_signal: int, _frame: FrameType | None) -> None:
    raise HangsError


def where(error: BaseException) -> str:
    """Return the functions of Putback that an exception came through last."""
    frames, trace = [], error.__traceback__
    while trace is not None:
        code = trace.tb_frame.f_code
        if "putback" in code.co_filename and "tests" not in code.co_filename:
            frames.append(f"{Path(code.co_filename).stem}.{code.co_name}")
        trace = trace.tb_next
    return "in " + " < ".join(reversed(frames[-2:]))
