"""Small records that things of a machine hold: wear, kits, stacks."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from putback.model.said import Limit
from putback.model.terms import Ref, When
from putback.source.span import Span

THREADED = frozenset({"bolt", "nut", "screw", "stud", "cap screw", "set screw", "lock nut", "cap nut", "wing nut"})
"""Kinds of fasteners that have a thread, whether it is stated or not."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Wear:
    """What is measured on a part, and within what it is good."""

    measure: str | None = None
    """What is measured."""
    limit: Limit | None = None
    """Within this it is good; always a quantity."""
    new: Limit | None = None
    """What a new one measures; always a quantity."""


class Packed(NamedTuple):
    """So many of one thing, as a file lists them."""

    thing: Ref
    """What it is."""
    pieces: int
    """How many there are."""
    span: Span
    """Where the number stands."""


@dataclass(frozen=True, slots=True)
class Kit:
    """A set in which parts are bought."""

    name: str
    """What it is called."""
    number: str | None = None
    """Its part number."""
    key: str = ""
    """What things have as their kit."""
    contents: tuple[Packed, ...] = ()
    """What is in it; empty when the file does not say, and then it is whatever has it as its kit."""
    span: Span | None = None
    """Where the file describes it."""


@dataclass(frozen=True, slots=True)
class Stack:
    """Things that lie on one another."""

    order: tuple[Ref, ...]
    """From the outside in."""
    when: When | None = None
    """The variants that have this stack."""
