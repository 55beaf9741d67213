"""Bringing equipment in and taking it away."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from putback.model.machine import AnyThing
from putback.model.reading import Reader
from putback.model.states import EquipmentState, State, of
from putback.model.terms import Ref
from putback.model.verb import Action, Change, Verb, WayForth
from putback.source.tree import Mapping, Node


class Place(NamedTuple):
    """Bring a piece of equipment in."""

    things: tuple[Ref, ...]
    at: str | None = None


class TakeAway(NamedTuple):
    """Take a piece of equipment away."""

    things: tuple[Ref, ...]
    at: str | None = None


def _placed(_action: Place, _thing: AnyThing | None, by: int) -> Change:
    def place(state: State) -> State:
        return EquipmentState(True, of(EquipmentState, state).off_by, by)

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
    return Place(reader.refs(value), reader.text(node.get("at")))


def _read_take_away(reader: Reader, value: Node, node: Mapping) -> TakeAway:
    return TakeAway(reader.refs(value), reader.text(node.get("at")))


PLACE = Verb(
    name="place",
    arguments=Place,
    read=_read_place,
    takes=("equipment",),
    other_words=("position", "prop", "support"),
    effect=_placed,
    back=_clear_again,
)

TAKE_AWAY = Verb(
    name="take-away",
    arguments=TakeAway,
    read=_read_take_away,
    takes=("equipment",),
    other_words=("put-away",),
    effect=_cleared,
    back=_place_again,
)
