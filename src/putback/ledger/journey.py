"""What happens on the way through a program: its entries, where it goes back, and where it ends."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Protocol

from putback.ledger.entries import Entry
from putback.ledger.program import Order
from putback.model.states import State
from putback.variants import NONE, VariantSet

Holdings = tuple[tuple[VariantSet, State], ...]


class Accounts(Protocol):
    """The accounts that entries are posted to."""

    log: list[tuple[str, Holdings]]
    """Every change so far: the account, and what it held before."""

    def post(self, entry: Entry) -> None:
        """Make the changes of an entry."""

    def now(self) -> dict[str, Holdings]:
        """Return what every account holds."""

    def put(self, account: str, holdings: Holdings, after: float) -> None:
        """Let an account hold something else from an entry on, or, with half a number, from after one."""


@dataclass(slots=True)
class Jump:
    """Variants and ways that go back."""

    order: Order
    variants: VariantSet
    came: VariantSet
    """These, without those that an inspection had led away before."""
    accounts: dict[str, Holdings]
    """What every account held when they left, also of others."""
    from_pass: int
    """The number of the pass that they leave."""
    after: int
    """How many entries there were."""


@dataclass(frozen=True, slots=True)
class Pass:
    """One way from a step to the end, or to where the machine has stood before."""

    first: int
    """The number of its first entry."""
    parent: int = -1
    """The number of the pass that it came from; -1 for the first."""
    after: int = 0
    """How many entries there were when it left that."""
    came: VariantSet = NONE
    """The variants and ways of that pass that it goes on from."""
    way: int = -1
    """The number of the question in the space that stands for it; -1 for the first."""


@dataclass(frozen=True, slots=True)
class Meeting:
    """Where some variants and ways of a pass go on as another pass does: their machine stands as it does there."""

    of_pass: int
    """The number of the pass that they leave."""
    after: int
    """How many entries there were."""
    variants: VariantSet
    """These variants, on the ways of that pass."""
    place: int
    """The place in the program where they go on."""
    into: int
    """The number of the pass that they go on as."""
    going: VariantSet
    """The ways of that pass, any of them."""
    jumped: bool
    """Whether a `back-to` led them there; else they came to it."""


@dataclass(frozen=True, slots=True)
class End:
    """An end of a job: its last step, or a `stop` that no inspection led to."""

    variants: VariantSet
    """The variants and ways that get there."""
    standing: VariantSet
    """These, and those that an inspection led away from the same pass: of them it tells how the others ended."""
    accounts: dict[str, Holdings]
    """What every account holds there, also in others."""
    through: VariantSet
    """Those that come to it by the last step, and by no `stop`."""
    of_pass: int
    """The number of the pass that comes to it."""
    entries: int
    """How many entries there were."""


@dataclass(slots=True)
class Journey:
    """All that happened."""

    entries: list[Entry] = field(default_factory=list)
    """In the order in which they were posted."""
    ends: list[End] = field(default_factory=list)
    """One for each pass that came to an end."""
    passes: list[Pass] = field(default_factory=list)
    """In the order in which they were made."""
    asked: dict[int, int] = field(default_factory=dict)
    """By the number of a step with an `otherwise`: the number of its question in the space, when it was first asked."""
    questions: dict[tuple[int, int], int] = field(default_factory=dict)
    """The same, by the number of the pass and that of the step."""
    meetings: list[Meeting] = field(default_factory=list)
    """Where passes go on as others."""
    undecided: list[Order] = field(default_factory=list)
    """`back-to` steps that led to more different machines than could be followed."""
