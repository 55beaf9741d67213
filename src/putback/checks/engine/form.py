"""What the module of a check has: the names that stand in it, and what its generator yields."""

from __future__ import annotations

from collections.abc import Iterable
from enum import Enum
from typing import NamedTuple, Protocol

from putback.ledger.opened import Opened
from putback.source.finding import Also, Level
from putback.source.span import Span
from putback.variants import VariantSet


class Group(Enum):
    """What a check is about; the catalogue has the groups in this order."""

    title: str
    """Its heading in the catalogue."""
    about: str
    """What its checks look at, in one sentence."""

    CLOSING = (
        "Something does not go back",
        "What is still off, open, loose, drained, out of adjustment or worn at the end.",
    )
    ORDER = "Order of work", "Steps that cannot be done at this point, or that do nothing."
    CLEANING = (
        "Cleaning, grease and sealant",
        "What has to be clean, greased or free of old compound before it goes on.",
    )
    TORQUE = (
        "Torque and threads",
        "How tight, in which order, with which wrench, on which thread and in which condition.",
    )
    LIMITS = (
        "Limits and measurements",
        "What is measured, which readings are good, and whether a repair is measured again.",
    )
    PROOF = (
        "Tests and inspections",
        "Whether anybody looks, whether it works at the end, and what to do if it does not.",
    )
    SAFETY = "Safety messages", "Dangers without a message in time, and messages without a danger."
    DANGERS = "Running, lifting and isolating", "Hands in a machine that can move, run, burn or fall."
    TOOLS = "Tools and part numbers", "What the mechanic has to lay out before the first step."
    NUMBERS = "Numbers and units", "Values without a unit, with the wrong one, or that contradict each other."
    VARIANTS = "Variants and conditions", "Conditions that are never met, and things that cannot be there together."
    NAMES = (
        "Names, references and pictures",
        "Names that stand for nothing or for two things, pictures that cannot be shown, and waivers.",
    )
    WORDS = "Notes and words", "Work that is only in a note, and words that the trade does not use."
    READING = "Reading the files", "Files that cannot be read, or are not written in this language."
    HOUSE = "Rules of a workshop", "What one workshop asks for as well; other packages bring these."

    def __init__(self, title: str, about: str) -> None:
        self.title = title
        self.about = about


class Root(NamedTuple):
    """What several faults of a job come of: something that is not as they need it. One step more mends them all."""

    path: str
    """The job or block."""
    account: str
    """What is not as it is needed: the name of a thing."""
    wanted: str
    """How it is needed."""
    since: int
    """The number of the entry that made it as it is."""
    at: int
    """The number of the entry that needs it; does not count for whether two are the same."""
    misfit: bool = False
    """Whether it shows that the block of the entry is done where it does not fit."""
    follows: bool = False
    """Whether it only follows what another check found, and two of these have nothing in common."""
    chain: tuple[Span, ...] = ()
    """Of a block that is out of place: the places of the `do` and `reverse` steps that led there, its own the last."""
    last: bool = False
    """Whether it is told only where the job has no error: what is wrong there may have brought it about."""


class Fault(NamedTuple):
    """What a check yields; the engine adds the check's name and level."""

    span: Span
    """The place to look at first."""
    message: str
    """What was found and what was expected: lower case, no final stop."""
    also: tuple[Also, ...] = ()
    """Earlier places that explain it."""
    hint: str | None = None
    """What would be right."""
    variants: VariantSet | None = None
    """The variants in which it holds; None for all."""
    among: VariantSet | None = None
    """The variants and ways that come into question: those that reach the end, for what is found there."""
    root: Root | None = None
    """What it comes of, when other faults of the same job can come of it as well: the first of these tells it."""


class Described(Protocol):
    """What every module of a check has, besides a docstring."""

    LEVEL: Level
    """How much its findings matter."""
    GROUP: Group
    """What it is about."""
    FAILS: str
    """An example with the findings that it gives, in caret notation."""
    PASSES: str
    """One that gives none."""


class Check(Described, Protocol):
    """A module that is a check.

    It may have more: `INJURES = True` when missing the fault can injure somebody, so that nobody can waive it, and
    `NEEDS`, the kinds of entries of the library that it must know all of. A fault that an earlier stage finds has no
    `find` but `STAGE`, the name of that stage; only checks of Putback itself do.
    """

    def find(self, opened: Opened, /) -> Iterable[Fault]:
        """Yield what is wrong with a guide."""


STAGES = frozenset({"load", "schema", "model", "guide", "lint"})
"""What finds the faults of the checks that have no generator."""

KINDS = frozenset({"caution", "hazard", "tool", "consumable", "equipment", "block"})
"""Kinds of entries of the library."""
