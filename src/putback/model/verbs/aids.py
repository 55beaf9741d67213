"""Bringing aids in and taking them away."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from putback.model.machine import AnyThing
from putback.model.reading import Reader
from putback.model.states import AidState, State, of
from putback.model.terms import Ref
from putback.model.verb import Action, Change, Verb, WayForth
from putback.source.tree import Mapping, Node


class Place(NamedTuple):
    """Bring an aid in."""

    things: tuple[Ref, ...]
    at: str | None = None


class Clear(NamedTuple):
    """Take an aid away."""

    things: tuple[Ref, ...]
    at: str | None = None


def _placed(_action: Place, _thing: AnyThing | None, by: int) -> Change:
    def place(state: State) -> State:
        return AidState(True, of(AidState, state).off_by, by)

    return place


def _cleared(_action: Clear, _thing: AnyThing | None, by: int) -> Change:
    def clear(state: State) -> State:
        return AidState(False, by, of(AidState, state).on_by)

    return clear


def _clear_again(action: Place, _forth: WayForth) -> Iterator[Action]:
    yield Clear(action.things[::-1])


def _place_again(action: Clear, _forth: WayForth) -> Iterator[Action]:
    yield Place(action.things[::-1])


def _read_place(reader: Reader, value: Node, node: Mapping) -> Place:
    return Place(reader.refs(value), reader.text(node.get("at")))


def _read_clear(reader: Reader, value: Node, node: Mapping) -> Clear:
    return Clear(reader.refs(value), reader.text(node.get("at")))


PLACE = Verb(
    name="place",
    arguments=Place,
    read=_read_place,
    takes=("aid",),
    other_words=("position", "prop", "support"),
    effect=_placed,
    back=_clear_again,
)

CLEAR = Verb(
    name="clear",
    arguments=Clear,
    read=_read_clear,
    takes=("aid",),
    other_words=("put-away", "take-away"),
    effect=_cleared,
    back=_place_again,
)
