"""What stands on the page of a job: sections, steps, and what hangs on their answers."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from putback.model.job import Step
from putback.model.library import SafetyMessage
from putback.model.said import Limit
from putback.model.terms import When
from putback.variants import VariantSet


@dataclass(frozen=True, slots=True)
class Shown:
    """A safety message at a step."""

    message: SafetyMessage
    """The message."""
    wear: tuple[str, ...]
    """What to wear, for it and for the hazards that it covers there."""


class Grid(NamedTuple):
    """The places for which a step is done: a box to tick for each."""

    places: str
    """What one of them is called: `cylinder`."""
    names: tuple[str, ...]
    """Their names."""


@dataclass(frozen=True, slots=True)
class SheetOutcome:
    """What to do for some of the values that are out of limit."""

    found: Limit
    """The values."""
    steps: tuple[SheetStep, ...]
    """What to do."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetStep:
    """One step as it is printed."""

    step: Step
    """What is done; where the things of a step are not in the same variants, it stands once for each of them."""
    number: str
    """`12`, under an `otherwise` `12a`; empty for cautions and notes."""
    order: int
    """The number of the step in the book's program."""
    variants: VariantSet
    """The variants it is for."""
    when: When | None
    """The same as the author wrote it; None when all have it for whom the section, or the step above it, is."""
    otherwise: tuple[SheetStep, ...] = ()
    """What to do when it is out of limit."""
    outcomes: tuple[SheetOutcome, ...] = ()
    """The same, by how it is out of limit; the numbers of their steps go on from one to the next."""
    each: tuple[SheetStep, ...] = ()
    """Of `each`: what is done for each place."""
    grids: tuple[Grid, ...] = ()
    """The places that it is for: a box to tick for each."""
    conditional: bool = False
    """Whether it stands under an `otherwise`."""
    waste: tuple[str, ...] = ()
    """What to do with what comes out here and does not go back, where no step before it said so."""
    messages: tuple[Shown, ...] = ()
    """The safety messages of a caution."""
    new_if: tuple[str, ...] = ()
    """For `install`: the numbers of the steps that may have condemned the old one; then it goes back new."""
    goes_to: str | None = None
    """For `back-to`: the number of the step to go on from."""
    stays_in: frozenset[str] = frozenset()
    """For `tighten`: the fasteners that were not put in since they were tight. Their threads are as they were.

    With them, what would be held while others are turned, and is out.
    """

    def walk(self) -> Iterator[SheetStep]:
        """Yield it, and after it all steps that hang on its answer."""
        yield self
        for steps in (self.each, self.otherwise, *(outcome.steps for outcome in self.outcomes)):
            for inner in steps:
                yield from inner.walk()


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetSection:
    """One section as it is printed."""

    title: str | None
    """Its heading."""
    when: When | None
    """The variants it is for; None for all."""
    steps: tuple[SheetStep, ...]
    """Its steps, blocks written out."""
    after: str | None = None
    """Of a follow-up: after what it is due."""

    def walk(self) -> Iterator[SheetStep]:
        """Yield all steps, those under `otherwise` after theirs."""
        for step in self.steps:
            yield from step.walk()


class SecondTool(str):
    """The name or the drive of a tool of which two are needed: one that turns, and one that holds."""

    __slots__ = ()
