"""What is tried with bytes that a fuzzer steers by what they reach: one part of Putback each.

A target is a module here. Its `attempt` takes bytes and returns what Putback made of them, as a text: the same each
time, on any machine, for any hash seed. It raises `BrokenError` for an answer that breaks a promise; any other
exception is a fault as well.
"""

from __future__ import annotations

from collections.abc import Callable
from importlib import import_module
from typing import NamedTuple, cast


class Target(NamedTuple):
    """How much of a part of Putback is tried."""

    longest: int
    """Bytes of an input at most: short ones are tried more often."""
    share: float
    """How many of the executions that are asked for it gets: fewer when each takes long."""


TARGETS = {
    "yaml": Target(400, 1),
    "shapes": Target(600, 0.5),
    "values": Target(60, 1),
    "pages": Target(400, 0.2),
    "catalogues": Target(400, 0.05),
    "drawings": Target(600, 0.4),
    "photographs": Target(600, 0.8),
    "guides": Target(500, 0.02),
    "commands": Target(60, 0.03),
}
"""All of them, by the name of their module."""


def attempt_of(name: str) -> Callable[[bytes], str]:
    """Return what tries one input; imported when asked for, since a fuzzer takes long to prepare a module."""
    return cast("Callable[[bytes], str]", import_module(f"tests.fuzz.targets.{name}").attempt)
