"""Bringing equipment in and taking it away."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from putback.model.machine import AnyThing, Fastener, Machine
from putback.model.reading import Reader, entries
from putback.model.setting import Disturber
from putback.model.states import EquipmentState, State, of
from putback.model.terms import Ref
from putback.model.verb import PIECES, Action, Change, Mention, Verb, WayForth
from putback.source.tree import Mapping, Node


class Place(NamedTuple):
    """Bring a piece of equipment in."""

    things: tuple[Ref, ...]
    at: str | None = None
    in_: tuple[Disturber, ...] = ()


class TakeAway(NamedTuple):
    """Take a piece of equipment away."""

    things: tuple[Ref, ...]
    at: str | None = None


def _placed(action: Place, _thing: AnyThing | None, by: int) -> Change:
    holes = tuple((hole.ref.name, tuple(ref.name for ref in hole.at)) for hole in action.in_)

    def place(state: State) -> State:
        return EquipmentState(True, of(EquipmentState, state).off_by, by, holes)

    return place


def _cleared(_action: TakeAway, _thing: AnyThing | None, by: int) -> Change:
    def clear(state: State) -> State:
        return EquipmentState(False, by, of(EquipmentState, state).on_by)

    return clear


def _clear_again(action: Place, _forth: WayForth) -> Iterator[Action]:
    yield TakeAway(action.things[::-1])


def _place_again(action: TakeAway, _forth: WayForth) -> Iterator[Action]:
    yield Place(action.things[::-1])


def _read_place(reader: Reader, value: Node, node: Mapping) -> Place:
    return Place(reader.refs(value), reader.text(node.get("at")), _holes(reader, node.get("in")))


def _holes(reader: Reader, node: Node | None) -> tuple[Disturber, ...]:
    if isinstance(node, Mapping):
        return tuple(Disturber(Ref(key.value, key.span), reader.refs(value)) for key, value in entries(node))
    return tuple(Disturber(ref) for ref in reader.refs(node))


def _in(action: Place, machine: Machine | None) -> Iterator[Mention]:
    """Yield what a hole belongs to, and which of the holes."""
    for hole, at in action.in_:
        yield Mention(hole, PIECES, "in")
        group = machine.things.get(hole.name) if machine else None
        known = group.positions if isinstance(group, Fastener) else ()
        known = (*known, *(machine.places_of(group) if machine else ()))
        for place in at if group else ():
            yield Mention(place, ("position",), f"{hole.name} has no position", known=known)


def _read_take_away(reader: Reader, value: Node, node: Mapping) -> TakeAway:
    return TakeAway(reader.refs(value), reader.text(node.get("at")))


PLACE = Verb(
    name="place",
    arguments=Place,
    read=_read_place,
    takes=("equipment",),
    other_words=("position", "prop", "support"),
    loose_words=("block", "cap", "chock", "clamp"),
    mentions=_in,
    effect=_placed,
    back=_clear_again,
    way_back="Take it away.",
)

TAKE_AWAY = Verb(
    name="take-away",
    arguments=TakeAway,
    read=_read_take_away,
    takes=("equipment",),
    other_words=("put-away",),
    effect=_cleared,
    back=_place_again,
    way_back="Place it.",
)
