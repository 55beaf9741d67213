"""Disconnecting and connecting lines, at one end or at all."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from putback.model.machine import AnyThing, Line, Machine
from putback.model.reading import Reader
from putback.model.states import LineState, State, ends, of
from putback.model.terms import Ref, likely
from putback.model.verb import Action, Change, Mention, Verb, Way, WayForth
from putback.model.verbs.marking import Align, strayed
from putback.source.tree import Mapping, Node


class Disconnect(NamedTuple):
    """Take a line off, at one end or at all."""

    things: tuple[Ref, ...]
    at: Ref | None = None


class Connect(NamedTuple):
    """Put a line on, at one end or at all."""

    things: tuple[Ref, ...]
    at: Ref | None = None


def _end(action: Disconnect | Connect, machine: Machine | None) -> Iterator[Mention]:
    if action.at is None or len(action.things) != 1:
        return
    line = machine.things.get(action.things[0].name) if machine else None
    if isinstance(line, Line):
        known = tuple(ref.name for ref in line.joins)
        known = (*known, *(machine.places_of(line) if machine else ()))
        yield Mention(action.at, ("end",), f"{line.key} has no end", known=known)


def _ends(at: Ref | None, line: Line) -> frozenset[str]:
    """Return the ends that a step is for; a misspelt one is told by `unknown-name`."""
    return frozenset({likely(at, ends(line)).name}) if at else ends(line)


def _opened(action: Disconnect, thing: AnyThing | None, by: int) -> Change | None:
    if not isinstance(thing, Line):
        return None
    off = _ends(action.at, thing)

    def open_up(state: State) -> State:
        line = of(LineState, state)
        return LineState(line.open | off, by, line.on_by)

    return open_up


def _shut(action: Connect, thing: AnyThing | None, by: int) -> Change | None:
    if not isinstance(thing, Line):
        return None
    on = _ends(action.at, thing)

    def shut(state: State) -> State:
        line = of(LineState, state)
        return LineState(line.open - on, line.off_by, by)

    return shut


def _connect_again(action: Disconnect, forth: WayForth) -> Iterator[Action]:
    things = action.things[::-1]
    yield Connect(things, action.at)
    for ref in things:
        line = forth.machine.things.get(ref.name)
        if isinstance(line, Line) and line.adjustable:
            yield Align((ref,))


def _disconnect_again(action: Connect, _forth: WayForth) -> Iterator[Action]:
    yield Disconnect(action.things[::-1], action.at)


def _read_disconnect(reader: Reader, value: Node, node: Mapping) -> Disconnect:
    return Disconnect(reader.refs(value), reader.ref(node.get("at")))


def _read_connect(reader: Reader, value: Node, node: Mapping) -> Connect:
    return Connect(reader.refs(value), reader.ref(node.get("at")))


DISCONNECT = Verb(
    name="disconnect",
    arguments=Disconnect,
    read=_read_disconnect,
    takes=("line",),
    better={"part": "remove", "fastener": "remove"},
    other_words=("unclip", "uncouple", "unhook", "unplug"),
    mentions=_end,
    way=Way.OFF,
    opens=True,
    lets_out=True,
    reaches=True,
    effect=_opened,
    position=strayed,
    back=_connect_again,
    way_back="Connect it, and align it if it is adjustable.",
)

CONNECT = Verb(
    name="connect",
    arguments=Connect,
    read=_read_connect,
    takes=("line",),
    better={"part": "install", "fastener": "install"},
    other_words=("attach", "couple", "hook-up", "plug", "plug-in", "reattach", "reconnect"),
    loose_words=("hook", "join"),
    mentions=_end,
    way=Way.HELD,
    shuts=True,
    reaches=True,
    assembles=True,
    effect=_shut,
    back=_disconnect_again,
    way_back="Disconnect it.",
)
