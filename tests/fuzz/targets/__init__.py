"""What is tried with bytes that a fuzzer steers by what they reach: one part of Putback each.

A target takes bytes and returns what Putback made of them, as a text: the same each time, on any machine, for any hash
seed. It raises `BrokenError` for an answer that breaks a promise; any other exception is a fault as well.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from tests.fuzz.targets import catalogues, drawings, pages, photographs, shapes, values, yaml


class Target(NamedTuple):
    """One part of Putback."""

    attempt: Callable[[bytes], str]
    """Tries one input."""
    longest: int
    """Bytes of an input at most: short ones are tried more often."""


TARGETS = {
    "yaml": Target(yaml.attempt, 400),
    "shapes": Target(shapes.attempt, 600),
    "values": Target(values.attempt, 60),
    "pages": Target(pages.attempt, 400),
    "catalogues": Target(catalogues.attempt, 400),
    "drawings": Target(drawings.attempt, 600),
    "photographs": Target(photographs.attempt, 600),
}
"""All of them, by name."""
