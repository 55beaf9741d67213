"""The standard streams, which may be closed, full, or read by somebody who goes away."""

from __future__ import annotations

import io
import os
import sys
from contextlib import suppress
from typing import TextIO


def hold() -> bool:
    """Make the streams ready to be written to; tell whether there is a standard output.

    A stream that is closed gets the null device. Else the next file that is opened would take its number, and what
    some program writes to "the output" would go into that file.
    """
    for number in (0, 1, 2):
        try:
            os.fstat(number)
        except OSError:
            # The lowest number that is free, which is this one.
            os.open(os.devnull, os.O_RDWR)
    there = sys.stdout is not None
    if sys.stdout is None:
        sys.stdout = _nowhere()
    if sys.stderr is None:
        sys.stderr = _nowhere()
    if isinstance(sys.stdout, io.TextIOWrapper) and isinstance(sys.stdout.buffer, io.RawIOBase):
        # With PYTHONUNBUFFERED, what a pipe does not take at once would be lost without a word.
        coding = sys.stdout.encoding
        sys.stdout = io.TextIOWrapper(io.BufferedWriter(sys.stdout.detach()), coding, line_buffering=True)
    for stream in (sys.stdout, sys.stderr):
        # A terminal that lacks a letter shows another one, and no traceback.
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")
    return there


def _nowhere() -> io.TextIOWrapper:
    return open(os.devnull, "w", encoding="utf-8")  # noqa: PTH123 - lives as long as the process


def say(words: str) -> None:
    """Write a message to standard error; when that cannot be, nobody is there to be told."""
    try:
        sys.stderr.write(f"{words}\n")
        sys.stderr.flush()
    except (OSError, ValueError):
        _let_go(sys.stderr)


def settle() -> str | None:
    """Write out what is waiting; return why that cannot be done, or None. Nothing is left for Python to fail at."""
    reason = None
    for stream in (sys.stdout, sys.stderr):
        try:
            stream.flush()
        except (OSError, ValueError) as error:
            if stream is sys.stdout:
                reason = (getattr(error, "strerror", None) or str(error)).lower()
            _let_go(stream)
    return reason


def _let_go(stream: TextIO) -> None:
    """Let what a stream still holds go nowhere: else Python fails at it again when it ends, with a code of its own."""
    with suppress(OSError, ValueError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, stream.fileno())
        os.close(nowhere)
    with suppress(OSError, ValueError):
        stream.flush()
