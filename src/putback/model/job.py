"""Jobs, blocks and their steps."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from putback.model.cost import Cost
from putback.model.figure import Figure
from putback.model.interval import Interval
from putback.model.said import Limit, Said
from putback.model.supplies import Supplies
from putback.model.terms import Ref, Waiver, When
from putback.model.verb import Action, AnyVerb
from putback.source.span import Span
from putback.units import Quantity


class Repeat(NamedTuple):
    """One of the places for which steps are done that are written once."""

    each: Span
    """The place, in the file, of what is done for each."""
    places: str
    """Which places they are: `cylinder`."""
    place: str
    """The one of them."""
    lead: Step | None
    """The `each` step above it: all its steps are done for one place before the next."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One action on one thing."""

    verb: AnyVerb
    """What is done."""
    action: Action
    """What is done, to what, how."""
    key: Span
    """The place of the verb."""
    span: Span
    """The place of the whole step."""
    text: Said | None = None
    """The author's own sentence."""
    note: Said | None = None
    """A remark after the sentence."""
    because: Said | None = None
    """The reason."""
    tools: tuple[Ref, ...] = ()
    """Tools it needs."""
    figure: Figure | None = None
    """A picture."""
    time: Quantity | None = None
    """How long it takes."""
    when: When | None = None
    """The variants it is for."""
    name: Ref | None = None
    """A name that other steps refer to."""
    waive: tuple[Waiver, ...] = ()
    """Findings that the author waives here."""

    otherwise: tuple[Step, ...] = ()
    """What to do when the answer is out of limit."""
    outcomes: tuple[Outcome, ...] = ()
    """Instead of that: what to do, by how the value is out of limit."""
    steps: tuple[Step, ...] = ()
    """Of `each`: what is done for each place."""
    at: tuple[Ref, ...] = ()
    """The places of its things that it is for; none for all of them, and for verbs whose own `at` says it."""
    counted: bool = False
    """Whether it says how many pieces it is for."""
    rounds: tuple[Repeat, ...] = ()
    """The places that it is done for here, when it is written once and done for each; the outermost first."""

    @property
    def inner(self) -> tuple[Step, ...]:
        """The steps that stand below it: under its `otherwise`, its `outcomes`, or those of an `each`."""
        if self.steps:
            return self.steps
        if not self.outcomes:
            return self.otherwise
        return (*self.otherwise, *(step for outcome in self.outcomes for step in outcome.steps))

    @property
    def things(self) -> tuple[Ref, ...]:
        """The names that the verb's value gives; none for waits, notes and stops."""
        return self.action.things


@dataclass(frozen=True, slots=True)
class Outcome:
    """One way in which a measured value can be out of limit, and what to do then."""

    found: Limit
    """The values."""
    steps: tuple[Step, ...]
    """What to do."""
    span: Span
    """The place of the key `found`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """A run of steps under one heading; cautions hold until its end."""

    title: Said | None
    """The heading."""
    steps: tuple[Step, ...]
    """What is done, in order."""
    when: When | None = None
    """The variants it is for."""
    after: Said | None = None
    """Of a follow-up: after what it is due, `2 h` of running or `the first run`."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sequence:
    """What jobs and blocks have in common."""

    key: str
    """The file's name without its ending."""
    path: str
    """The file."""
    title: str
    """What is done."""
    span: Span
    """The place of the title's key."""
    sections: tuple[Section, ...]
    """What is done, in order."""
    waive: tuple[Waiver, ...] = ()
    """Findings that the author waives in all of it."""
    ends_with: tuple[Ref, ...] = ()
    """What it does not put back."""

    def steps(self) -> Iterator[Step]:
        """Yield every step, those that hang on an answer included, in the order of the file."""
        for section in self.sections:
            yield from walk(section.steps)


@dataclass(frozen=True, slots=True, kw_only=True)
class Later(Sequence):
    """What is due some time after a job: its follow-ups, a section each. They begin and end with a whole machine."""

    people: int = 1
    """How many people the job takes."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Job(Sequence):
    """A procedure that begins and ends with a whole machine, or as part of a chain of jobs."""

    purpose: Said | None = None
    """What it is good for."""
    interval: Interval | None = None
    """When it is due."""
    people: int = 1
    """How many people it takes."""
    time: Quantity | None = None
    """How long it takes."""
    cost: Cost | None = None
    """What it costs."""
    skill: Said | None = None
    """Who can do it."""
    after: Ref | None = None
    """The job that it goes on from: it begins with what that one leaves."""
    before: Ref | None = None
    """The job that goes on from here."""
    later: Later | None = None
    """Its follow-ups."""
    supplies: Supplies | None = None
    """What its author lists for it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Block(Sequence):
    """A sequence that jobs share."""

    begins_with: tuple[Ref, ...] = ()
    """What it finds off, open, out or not normal."""
    own_page: bool = False
    """Whether it is printed alone as well."""
    takes: tuple[tuple[Ref, Ref], ...] = ()
    """Names that stand for things which a job names where it does the block, each with the kind of thing."""


def in_turn(steps: tuple[Step, ...]) -> Iterator[Step]:
    """Yield the steps that are done whatever is found, those of an `each` after it."""
    for step in steps:
        yield step
        if step.steps:
            yield from in_turn(step.steps)


def walk(steps: tuple[Step, ...]) -> Iterator[Step]:
    """Yield steps and, after each, those that hang on its answer or are done for each place."""
    for step in steps:
        yield step
        if step.otherwise or step.outcomes or step.steps:
            yield from walk(step.inner)
