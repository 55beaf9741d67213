"""What a verb is: one record that says all of it.

The verbs themselves lie in `putback.model.verbs`, one family a file. Whoever wants to know something of a verb asks its
record; nobody keeps a list of verbs.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from enum import Enum
from typing import Any, Generic, NamedTuple, Protocol, TypeAlias, TypeVar

from putback.model.called import kinds_of
from putback.model.machine import AnyThing, Machine
from putback.model.reading import Reader
from putback.model.sealed import seal
from putback.model.states import MarkState, State
from putback.model.terms import Ref
from putback.source.load import Mapping as Tree
from putback.source.tree import Node

PIECES = ("part", "fastener")
SOLID = ("part", "fastener", "line")
ANY_THING = ("part", "fastener", "line", "fluid", "control")
MEASURABLE = (*ANY_THING, "setting")

_HANDLED = frozenset({"part", "fastener", "line", "fluid"})
_WORKED_ON = frozenset({*MEASURABLE, "equipment", "consumable"})


class Action(Protocol):
    """What one step does: the verb's arguments, a named tuple of its own for each verb."""

    @property
    def things(self) -> tuple[Ref, ...]:
        """The names that the verb's value gives; none for waits, notes and stops."""


class Way(Enum):
    """What must be out of the way of a thing before a verb can be done to it."""

    NOTHING = "nothing"
    """It can be done at any time."""
    OFF = "off"
    """Everything that comes off before it: it comes off itself."""
    ON = "on"
    """Everything outside it must be off, and everything inside in place: it goes on."""
    HELD = "held"
    """What holds it: a lock before its screw is turned, a clamp before its hose goes on."""
    REACH = "reach"
    """What hides it."""
    COVER = "cover"
    """What covers it; what is stacked on it turns with it."""


class Mention(NamedTuple):
    """A name in another key of a step than its verb."""

    ref: Ref
    """The name, and where it stands."""
    kinds: tuple[str, ...]
    """What it may stand for."""
    user: str
    """The key, or what is wrong with a name that is not `known`, for the message."""
    known: tuple[str, ...] | None = None
    """The names allowed, when they are not those of `kinds`."""


class WayForth(Protocol):
    """What the way back of one step asks about the block that it stands in."""

    @property
    def machine(self) -> Machine:
        """The machine."""

    def rest(self, ref: Ref) -> int | None:
        """Return how many pieces a step without a count took out, when not all were in any more."""

    def undone_by_others(self, kind: type, ref: Ref) -> bool:
        """Tell whether the reverse of a step of some kind reverses this one as well: it is of the whole group."""

    def taken_out_before(self, name: str) -> bool:
        """Tell whether an earlier step took a thing off or out."""

    def to_clean_before(self, name: str) -> Iterable[str]:
        """Return what must be cleaned before a thing goes on, and is not cleaned in the block."""

    def done_again(self, kind: type, ref: Ref) -> bool:
        """Tell whether a later step of the same kind does the same to the whole group, wherever this one happens."""

    def runs_out_here(self, ref: Ref) -> bool:
        """Tell whether a fluid is let out by the step itself, and not by an opened drain."""

    def position_before(self, ref: Ref) -> tuple[str, bool]:
        """Return the position of a control before the step, and whether it had that in every variant."""


Change: TypeAlias = Callable[[State], State]
"""How an account changes."""

A = TypeVar("A", bound=Action)


def only(action: A, *refs: Ref) -> A:
    """Return an action on some of its things."""
    changed: A = action._replace(things=refs)  # type: ignore[attr-defined]  # all are named tuples
    return changed


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Verb(Generic[A]):
    """One verb: what it takes, what it does, and how it is reversed."""

    name: str
    """The word in the file."""
    arguments: type[A]
    """The record of its arguments; its fields are the verb's keys."""
    read: Callable[[Reader, Node, Tree], A]
    """Makes that record from the verb's value and the whole step."""

    takes: tuple[str, ...] = ()
    """The kinds of things that its value may name."""
    words: bool = False
    """Whether its value may be plain words as well."""
    better: Mapping[str, str] = field(default_factory=dict)
    """Kinds of things that it does not take, each with the verb that was meant."""
    other_words: tuple[str, ...] = ()
    """Words of the trade that somebody may write for it."""
    loose_words: tuple[str, ...] = ()
    """More words that may be written in its place in a step; in a sentence they say too little to be an order."""
    mentions: Callable[[A, Machine | None], Iterator[Mention]] | None = None
    """Yields the names in its other keys."""
    only_otherwise: bool = False
    """Whether it stands under `otherwise` only."""
    asks: bool = False
    """Whether it asks for an answer: `otherwise` may stand beside it."""
    sorts: bool = False
    """Whether that is a value, of which `outcomes` may tell several kinds apart."""
    repeats: bool = False
    """Whether `steps` stand beside it, which are done for each place."""

    way: Way = Way.NOTHING
    """What must be out of the way first."""
    opens: bool = False
    """It opens something: what a tag warns of gets out."""
    lets_out: bool = False
    """A fluid runs out when what it opens is a drain."""
    shuts: bool = False
    """It closes something: a drain may be shut after it."""
    moves: bool = False
    """It moves something as it stands."""
    wets: bool = False
    """It brings a liquid along, or in."""
    carries: bool = False
    """A part is in somebody's hands."""
    reaches: bool = False
    """Somebody reaches into the machine."""
    assembles: bool = False
    """It puts the machine together: after it the machine must be tested."""
    proves: bool = False
    """It tests the machine."""
    shifts: bool = False
    """It moves what a lock nut keeps from moving: that must be loose first."""
    settles: bool = False
    """It finds out or makes how a setting is: after it, the setting is known."""

    effect: Callable[[A, AnyThing | None, int], Change | None] | None = None
    """Returns what it does to the account of a thing, by the number of the entry; None when nothing."""
    position: Callable[[AnyThing | None, MarkState, int], MarkState] | None = None
    """Returns what is known after it of the position of an adjustable thing."""
    back: Callable[[A, WayForth], Iterator[Action]] | None = None
    """Yields what reverses it; None when there is nothing to be reversed."""
    way_back: str = ""
    """What that is, as a sentence of the reference; empty when there is nothing to be reversed."""
    one_way: bool = False
    """Whether it cannot be reversed."""

    def __post_init__(self) -> None:
        """Seal the mapping."""
        seal(self, "better")

    @property
    def keys(self) -> tuple[str, ...]:
        """The keys that may stand beside it, as they are written: the fields of its record."""
        fields: tuple[str, ...] = self.arguments._fields  # type: ignore[attr-defined]  # all are named tuples
        found = [each for each in fields if each not in _NO_KEYS and not each.endswith("_span")]
        hanging = (*(("otherwise",) if self.asks else ()), *(("outcomes",) if self.sorts else ()))
        hanging = (*hanging, *(("steps",) if self.repeats else ()), *(("at",) if self.at_places else ()))
        return (*(each.rstrip("_").replace("_", "-") for each in found), *hanging)

    @property
    def at_places(self) -> bool:
        """Whether `at` names places of its things, and nothing else: neither pieces nor an end."""
        fields: tuple[str, ...] = self.arguments._fields  # type: ignore[attr-defined]  # all are named tuples
        on_things = not {*self.takes}.isdisjoint(MEASURABLE) or "to" in fields
        return on_things and "at" not in fields

    @property
    def key(self) -> str:
        """The key by which each language of `words` finds its sentence."""
        return self.name.replace("-", "_")

    @property
    def on_things(self) -> bool:
        """Whether its value can only be the name of a thing of the machine."""
        return bool(self.takes) and not self.words and set(self.takes) <= set(MEASURABLE)

    def takes_thing(self, thing: AnyThing) -> bool:
        """Tell whether it can be done to a thing of the machine."""
        return not set(self.takes).isdisjoint(kinds_of(thing))

    @property
    def releases(self) -> bool:
        """Whether it opens, moves or wets something: what a tag warns of gets out."""
        return self.opens or self.moves or self.wets

    @property
    def changes(self) -> bool:
        """Whether the machine is another after it."""
        return self.effect is not None or "block" in self.takes

    @property
    def handles(self) -> bool:
        """Whether it takes apart or puts together, and not only looks, sets or works on the bench."""
        return self.effect is not None and not _HANDLED.isdisjoint(self.takes)

    @property
    def works(self) -> bool:
        """Whether somebody does something, and is not only told or made to wait."""
        return self.words or not _WORKED_ON.isdisjoint(self.takes)


_NO_KEYS = {"things", "duration", "words", "stage", "later", "to_new"}
"""Fields of the verb's own value, what another key may give instead, and what only the page knows."""

AnyVerb: TypeAlias = Verb[Any]
"""A verb, whatever its arguments."""
