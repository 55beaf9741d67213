"""One execution of a target: with bounded time, and whatever goes wrong as a failure."""

from __future__ import annotations

import signal
import time
from collections.abc import Callable
from pathlib import Path
from types import FrameType
from typing import NamedTuple

from tests.fuzz.judging import Failure
from tests.fuzz.targets.promises import BrokenError

SLOW = 2.0
"""Seconds of CPU that one execution may take; no input has more than 10 kB."""
HANGS = 10.0
"""Seconds of CPU after which it is stopped."""


class HangsError(BaseException):
    """An execution that takes too long: nothing may take it for a fault of the input."""


class Attempt(NamedTuple):
    """What became of one execution."""

    answer: str
    """What the target returned."""
    failure: Failure | None
    """What went wrong."""


def attempted(attempt: Callable[[bytes], str], data: bytes) -> Attempt:
    """Try one input."""
    handler = signal.signal(signal.SIGPROF, _stop)
    signal.setitimer(signal.ITIMER_PROF, HANGS)
    start = time.process_time()
    try:
        answer = attempt(data)
    except BrokenError as error:
        return Attempt("", error.failure)
    except HangsError as error:
        return Attempt("", Failure(f"hangs {where(error)}", f"stopped after {HANGS:g} s of CPU"))
    except Exception as error:
        return Attempt("", Failure(f"{type(error).__name__} {where(error)}", f"{error}"[:500]))
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.signal(signal.SIGPROF, handler)
    seconds = time.process_time() - start
    return Attempt(answer, Failure("slow", f"{seconds:.1f} s of CPU") if seconds > SLOW else None)


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
