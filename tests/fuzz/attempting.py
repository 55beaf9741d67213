"""One execution of a target: with bounded time, and whatever goes wrong as a failure."""

from __future__ import annotations

import time
from collections.abc import Callable
from typing import NamedTuple

from tests.fuzz.bounding import HANGS, SLOW, HangsError, bounded, where
from tests.fuzz.judging import Failure
from tests.fuzz.targets.promises import BrokenError


class Attempt(NamedTuple):
    """What became of one execution."""

    answer: str
    """What the target returned."""
    failure: Failure | None
    """What went wrong."""


def attempted(attempt: Callable[[bytes], str], data: bytes) -> Attempt:
    """Try one input, of 10 kB at most."""
    start = time.process_time()
    try:
        with bounded():
            answer = attempt(data)
    except BrokenError as error:
        return Attempt("", error.failure)
    except HangsError as error:
        return Attempt("", Failure(f"hangs {where(error)}", f"stopped after {HANGS:g} s of CPU"))
    except Exception as error:
        return Attempt("", Failure(f"{type(error).__name__} {where(error)}", f"{error}"[:500]))
    seconds = time.process_time() - start
    return Attempt(answer, Failure("slow", f"{seconds:.1f} s of CPU") if seconds > SLOW else None)
