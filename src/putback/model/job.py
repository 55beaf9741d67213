"""Jobs, blocks and their steps."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple, TypeAlias

from putback.model.said import Limit, Said
from putback.model.terms import Acceptance, Ref, When
from putback.source.span import Span
from putback.units import Quantity


class Verb(StrEnum):
    """What a step does. One action on one thing."""

    REMOVE = "remove"
    INSTALL = "install"
    REPLACE = "replace"
    LOOSEN = "loosen"
    TIGHTEN = "tighten"
    DISCONNECT = "disconnect"
    CONNECT = "connect"
    DRAIN = "drain"
    FILL = "fill"
    SET = "set"
    PLACE = "place"
    CLEAR = "clear"
    MARK = "mark"
    ALIGN = "align"
    APPLY = "apply"
    CLEAN = "clean"
    INSPECT = "inspect"
    MEASURE = "measure"
    CHECK = "check"
    RUN = "run"
    LIFT = "lift"
    WAIT = "wait"
    DO = "do"
    UNDO = "undo"
    AGAIN = "again"
    CAUTION = "caution"
    NOTE = "note"
    STOP = "stop"


class Remove(NamedTuple):
    """Take off; of a fastener, out."""

    things: tuple[Ref, ...]
    count: int | None = None  # type: ignore[assignment]  # a number, and not the method of tuples
    at: tuple[Ref, ...] = ()


class Install(NamedTuple):
    """Put on; of a fastener, in and hand-tight."""

    things: tuple[Ref, ...]
    count: int | None = None  # type: ignore[assignment]  # a number, and not the method of tuples
    new: bool = False
    turn: Ref | None = None
    at: tuple[Ref, ...] = ()


class Replace(NamedTuple):
    """Off, and a new one on, in one go."""

    things: tuple[Ref, ...]
    count: int | None = None  # type: ignore[assignment]  # a number, and not the method of tuples
    at: tuple[Ref, ...] = ()


class Loosen(NamedTuple):
    """Loosen, and leave in."""

    things: tuple[Ref, ...]
    count: int | None = None  # type: ignore[assignment]  # a number, and not the method of tuples
    at: tuple[Ref, ...] = ()


class Tighten(NamedTuple):
    """Bring to the torque."""

    things: tuple[Ref, ...]
    count: int | None = None  # type: ignore[assignment]  # a number, and not the method of tuples
    torque: Quantity | None = None
    torque_span: Span | None = None
    at: tuple[Ref, ...] = ()


class Disconnect(NamedTuple):
    """Take a line off, at one end or at all."""

    things: tuple[Ref, ...]
    at: Ref | None = None


class Connect(NamedTuple):
    """Put a line on, at one end or at all."""

    things: tuple[Ref, ...]
    at: Ref | None = None


class Drain(NamedTuple):
    """Let a fluid run out."""

    things: tuple[Ref, ...]
    volume: Quantity | None = None


class Fill(NamedTuple):
    """Fill a fluid in."""

    things: tuple[Ref, ...]
    volume: Quantity | None = None


class Set(NamedTuple):
    """Bring a control to a position."""

    things: tuple[Ref, ...]
    to: Ref


class Place(NamedTuple):
    """Bring an aid in."""

    things: tuple[Ref, ...]
    at: str | None = None


class Clear(NamedTuple):
    """Take an aid away."""

    things: tuple[Ref, ...]


class Mark(NamedTuple):
    """Mark a position."""

    things: tuple[Ref, ...]
    against: str | None = None


class Align(NamedTuple):
    """Bring to the mark again."""

    things: tuple[Ref, ...]
    against: str | None = None


class Apply(NamedTuple):
    """Put a consumable on things."""

    things: tuple[Ref, ...]
    to: tuple[Ref, ...]


class Clean(NamedTuple):
    """Clean things."""

    things: tuple[Ref, ...]
    with_: Ref | None = None


class Inspect(NamedTuple):
    """Look at things."""

    things: tuple[Ref, ...]
    for_: tuple[str, ...] = ()
    otherwise: tuple[Step, ...] = ()


class Measure(NamedTuple):
    """Measure something against a limit."""

    things: tuple[Ref, ...]
    limit: Limit | None = None
    otherwise: tuple[Step, ...] = ()


class Check(NamedTuple):
    """Test something against a limit."""

    things: tuple[Ref, ...]
    limit: Limit | None = None
    otherwise: tuple[Step, ...] = ()


class Run(NamedTuple):
    """Run the machine."""

    things: tuple[Ref, ...]
    at: str | None = None
    for_: Quantity | None = None


class Lift(NamedTuple):
    """Lift a part."""

    things: tuple[Ref, ...]
    with_: Ref | None = None
    people: int | None = None
    reach: Quantity | None = None
    height: Quantity | None = None
    to_reach: Quantity | None = None
    to_height: Quantity | None = None
    twist: Quantity | None = None
    grip: str | None = None


class Wait(NamedTuple):
    """Wait."""

    duration: Quantity | None
    until: str | None = None


class Do(NamedTuple):
    """Do the steps of blocks."""

    things: tuple[Ref, ...]


class Undo(NamedTuple):
    """Do the exact reverse of blocks."""

    things: tuple[Ref, ...]


class Again(NamedTuple):
    """Go on from an earlier named step."""

    things: tuple[Ref, ...]


class Caution(NamedTuple):
    """Show safety messages."""

    things: tuple[Ref, ...]


class Note(NamedTuple):
    """Say something."""

    words: str


class Stop(NamedTuple):
    """End the job here."""

    words: str


Action: TypeAlias = (
    Remove | Install | Replace | Loosen | Tighten | Disconnect | Connect | Drain | Fill | Set | Place | Clear | Mark
    | Align | Apply | Clean | Inspect | Measure | Check | Run | Lift | Wait | Do | Undo | Again | Caution | Note | Stop
)  # fmt: skip
"""What one step does."""


@dataclass(frozen=True, slots=True)
class Figure:
    """A picture at a step."""

    image: Ref
    """File in the guide's images/."""
    alt: str | None
    """What it shows, for those who cannot see it."""
    caption: str | None
    """The line under it."""
    span: Span
    """Where it stands."""
    width: Quantity | None = None
    """How wide it is printed; as wide as the text when not given."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    """One action on one thing."""

    verb: Verb
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
    """A remark behind the sentence."""
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
    accept: tuple[Acceptance, ...] = ()
    """Findings that the author accepts here."""

    @property
    def things(self) -> tuple[Ref, ...]:
        """The names that the verb's value gives; none for waits, notes and stops."""
        return () if isinstance(self.action, Wait | Note | Stop) else self.action.things

    @property
    def otherwise(self) -> tuple[Step, ...]:
        """The steps for when the answer is out of limit."""
        return self.action.otherwise if isinstance(self.action, Inspect | Measure | Check) else ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """A run of steps under one heading; cautions hold until its end."""

    title: Said | None
    """The heading."""
    steps: tuple[Step, ...]
    """What is done, in order."""
    when: When | None = None
    """The variants it is for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Interval:
    """When a job is due; whichever comes first."""

    hours: int | None = None
    """Running hours."""
    months: int | None = None
    """Months."""
    years: int | None = None
    """Years."""
    km: int | None = None
    """Kilometres."""


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
    accept: tuple[Acceptance, ...] = ()
    """Findings that the author accepts in all of it."""

    def steps(self) -> Iterator[Step]:
        """Yield every step, those under `otherwise` included, in the order of the file."""
        for section in self.sections:
            yield from walk(section.steps)


@dataclass(frozen=True, slots=True, kw_only=True)
class Job(Sequence):
    """A procedure that begins and ends with a whole machine."""

    purpose: Said | None = None
    """What it is good for."""
    interval: Interval | None = None
    """When it is due."""
    people: int = 1
    """How many people it takes."""
    time: Quantity | None = None
    """How long it takes."""
    skill: Said | None = None
    """Who can do it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Block(Sequence):
    """A sequence that jobs share."""

    leaves: tuple[Ref, ...] = ()
    """What it does not put back."""
    opens: tuple[Ref, ...] = ()
    """What it finds off, open, out or not at rest."""


def walk(steps: tuple[Step, ...]) -> Iterator[Step]:
    """Yield steps and, behind each, those under its `otherwise`."""
    for step in steps:
        yield step
        if step.otherwise:
            yield from walk(step.otherwise)
