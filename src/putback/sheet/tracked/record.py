"""The ledger of a job as it is looked up at the bench: records without machinery."""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from typing import NamedTuple

from putback.sheet.lines import SheetStep
from putback.variants import NONE, VariantSet


class How(StrEnum):
    """How a thing can stand."""

    IN = "in"
    """As on a whole machine."""
    AWAY = "away"
    """Equipment that is not in place."""
    OFF = "off"
    """A part that is off."""
    OUT = "out"
    """Fasteners of which some are out."""
    LOOSE = "loose"
    """Fasteners that are all in, and some of them loose."""
    PART = "part"
    """Fasteners of which some are tightened to less than they are due."""
    OPEN = "open"
    """A line with an open end."""
    EMPTY = "empty"
    """A fluid that is out."""
    AT = "at"
    """A control, at a position."""
    DISTURBED = "disturbed"
    """A setting that nobody knows."""
    THERE = "there"
    """Equipment in place."""
    ASTRAY = "astray"
    """An adjustable part that was off and is not aligned yet."""


class Stands(NamedTuple):
    """How a thing stands."""

    how: How
    """In a word."""
    closed: bool
    """Whether it need not go back any more."""
    pieces: int = 0
    """How many of its pieces are off, out, open, loose or in place."""
    of: int = 0
    """Of how many."""
    loose: int = 0
    """Where some are out: how many others are loose."""
    at: str = ""
    """The position of a control."""
    places: tuple[str, ...] = ()
    """The names of the places that are out, where they have names."""


class Change(NamedTuple):
    """What a moment makes of a thing, for some machines and ways."""

    variants: VariantSet
    """These machines and ways."""
    stands: Stands
    """How it stands then."""
    out: int = 0
    """The most places that stood empty in the midst of it."""
    new: int = 0
    """New pieces that went in."""
    places: frozenset[int] = frozenset()
    """The named places that stood empty."""


class Touch(NamedTuple):
    """What a moment does to a thing."""

    moment: int
    """The number of the moment."""
    changes: tuple[Change, ...]
    """By machines and ways, of which no two have one in common; the moment leaves it alone in all others."""


class Moment(NamedTuple):
    """What is ticked at once: a step, or a step at one place."""

    number: str
    """The number of the step on the page."""
    boxes: tuple[int, ...]
    """The boxes to tick, counted through all grids of the step; 0 for a step that has no grid."""


class Question(NamedTuple):
    """What an inspection asks: whether something hangs on its answer now."""

    numbers: tuple[str, ...]
    """The numbers of the step on the page: more than one where it stands there once more for other machines."""
    branch: int
    """Which of the branches below it the answer yes leads into."""
    box: int | None
    """At which place; None for all at once."""
    by_lap: tuple[tuple[int, int], ...]
    """For each lap in which it is asked, the number of the question in the space of variants."""


class Crossing(NamedTuple):
    """Where machines and ways of a lap go on in another."""

    lap: int
    """The lap that they leave."""
    moment: int
    """Of a `back-to`, its own moment; else the first moment that they do as those of the other lap."""
    variants: VariantSet
    """These machines and ways."""
    into: int
    """The other lap."""
    going: VariantSet
    """Ways of that lap, any of them."""
    to: int | None = None
    """Of a `back-to`: the moment to go on from; else None."""


@dataclass(frozen=True, slots=True)
class Followed:
    """One thing through a job."""

    key: str
    """Its name in the machine file; of equipment, in the library."""
    kind: str
    """`part`, `fastener`, `line`, `fluid`, `control`, `setting`, `equipment` or `position`."""
    opens: tuple[tuple[VariantSet, Stands], ...]
    """How the job finds it, when more is to be said than that it is whole."""
    laps: dict[int, tuple[Touch, ...]]
    """What happens to it, by lap; the rows of one lap in order."""
    count: int = 1
    """How many pieces there are."""


@dataclass(frozen=True, slots=True)
class Tracked:
    """The ledger of one job."""

    lines: tuple[SheetStep, ...]
    """What is printed, in order; what hangs on a step comes after it."""
    moments: tuple[Moment, ...]
    """In the order in which the job is walked."""
    questions: tuple[Question, ...]
    """In the order in which they stand on the page."""
    things: tuple[Followed, ...]
    """What some moment changes, or the job finds undone; in the order of the machine file, equipment after it."""
    back: tuple[Crossing, ...]
    """What `back-to` steps lead to."""
    joins: tuple[Crossing, ...]
    """Where a lap goes on as another does; in order."""
    ways: tuple[tuple[int, int], ...] = ()
    """For each lap but the first, the number of the question in the space that stands for it."""
    boxes: dict[tuple[str, int], VariantSet] = field(default_factory=dict)
    """Of boxes in grids that not all who read the step have: who has them."""

    def has(self, number: str, box: int, otherwise: VariantSet = NONE) -> VariantSet:
        """Return who has a box of a step."""
        return self.boxes.get((number, box), otherwise)
