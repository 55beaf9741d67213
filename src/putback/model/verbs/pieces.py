"""Taking parts and fasteners off and putting them on; loosening and tightening."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple, TypeAlias

from putback.model.machine import AnyThing, Fastener, Machine, Part
from putback.model.reading import Reader
from putback.model.states import (
    GroupState,
    PartState,
    State,
    chosen,
    of,
    put_in,
    slacken,
    take_out,
    tighten,
)  # fmt: skip
from putback.model.terms import Ref
from putback.model.verb import PIECES, Action, Change, Mention, Verb, Way, WayForth
from putback.model.verbs.cleaning import Apply
from putback.model.verbs.marking import Align, strayed
from putback.source.quoting import short
from putback.source.span import Span
from putback.source.tree import Mapping, Node
from putback.units import Kind, Quantity


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


OfPieces: TypeAlias = Remove | Install | Replace | Loosen | Tighten
"""What is done to some pieces of a group, by their count or their positions."""


def _count(reader: Reader, node: Mapping) -> int | None:
    """Return how many pieces a step is for; named pieces are counted by their names."""
    return reader.whole(node.get("count")) or len(reader.refs(node.get("at"))) or None


def _positions(action: OfPieces, machine: Machine | None) -> Iterator[Mention]:
    for ref in action.things if action.at else ():
        group = machine.things.get(ref.name) if machine else None
        positions = group.positions if isinstance(group, Fastener) else ()
        for place in action.at if group else ():  # of what nobody knows, no position is known
            yield Mention(place, ("position",), f"{short(ref.name)} has no position", known=positions)


# What becomes of them


def _taken(action: Remove, thing: AnyThing | None, by: int) -> Change | None:
    def off(state: State) -> State:
        part = of(PartState, state)
        return part._replace(on=False, off_by=by) if part.on else part

    match thing:
        case Fastener() as group:
            return lambda state: take_out(of(GroupState, state), action.count, by, chosen(group, action.at))
        case Part():
            return off
        case _:
            return None


def _put(action: Install, thing: AnyThing | None, by: int) -> Change | None:
    def on(state: State) -> State:
        part = of(PartState, state)
        return part if part.on else part._replace(on=True, on_by=by)

    match thing:
        case Fastener() as group:
            at, finished = chosen(group, action.at), not group.turned
            return lambda state: put_in(of(GroupState, state), action.count, by, finished=finished, at=at)
        case Part():
            return on
        case _:
            return None


def _swapped(action: Replace, thing: AnyThing | None, by: int) -> Change | None:
    match thing:
        case Fastener() as group:
            at, finished = chosen(group, action.at), not group.turned

            def swap(state: State) -> State:
                out = take_out(of(GroupState, state), action.count, by, at)
                return put_in(out, action.count, by, finished=finished, at=at)

            return swap
        case Part():
            return lambda state: of(PartState, state)._replace(on=True, off_by=by, on_by=by)
        case _:
            return None


def _slackened(action: Loosen, thing: AnyThing | None, by: int) -> Change | None:
    if not isinstance(thing, Fastener):
        return None
    at = chosen(thing, action.at)
    return lambda state: slacken(of(GroupState, state), action.count, by, at)


def _tightened(action: Tighten, thing: AnyThing | None, by: int) -> Change | None:
    if not isinstance(thing, Fastener):
        return None
    at = chosen(thing, action.at)
    return lambda state: tighten(of(GroupState, state), action.count, at)


# Their way back


def _put_back(action: Remove, forth: WayForth) -> Iterator[Action]:
    for ref in reversed(action.things):
        thing = forth.machine.things.get(ref.name)
        count = forth.rest(ref) if action.count is None else action.count
        new = isinstance(thing, Part | Fastener) and thing.single_use
        turn = Ref(thing.rotation, ref.span) if isinstance(thing, Part) and thing.rotation else None
        if isinstance(thing, Fastener) and thing.compound:
            yield Apply((Ref(thing.compound.name, ref.span),), (ref,))
        yield Install((ref,), count, new, turn, action.at)
        if isinstance(thing, Fastener) and thing.turned:
            yield Tighten((ref,), count, at=action.at)
        if isinstance(thing, Part) and thing.adjustable:
            yield Align((ref,))


def _take_again(action: Install, _forth: WayForth) -> Iterator[Action]:
    yield Remove(action.things[::-1], action.count, action.at)


def _tighten_again(action: Loosen, forth: WayForth) -> Iterator[Action]:
    left = tuple(ref for ref in reversed(action.things) if not forth.undone_by_others(Remove, ref))
    if left:
        yield Tighten(left, action.count, at=action.at)


def _loosen_again(action: Tighten, forth: WayForth) -> Iterator[Action]:
    left = tuple(ref for ref in reversed(action.things) if not forth.undone_by_others(Install, ref))
    if left:
        yield Loosen(left, action.count, action.at)


# How they are read


def _read_remove(reader: Reader, value: Node, node: Mapping) -> Remove:
    return Remove(reader.refs(value), _count(reader, node), reader.refs(node.get("at")))


def _read_install(reader: Reader, value: Node, node: Mapping) -> Install:
    new, turn = reader.flag(node.get("new")), reader.direction(node.get("turn"))
    return Install(reader.refs(value), _count(reader, node), new, turn, reader.refs(node.get("at")))


def _read_replace(reader: Reader, value: Node, node: Mapping) -> Replace:
    return Replace(reader.refs(value), _count(reader, node), reader.refs(node.get("at")))


def _read_loosen(reader: Reader, value: Node, node: Mapping) -> Loosen:
    return Loosen(reader.refs(value), _count(reader, node), reader.refs(node.get("at")))


def _read_tighten(reader: Reader, value: Node, node: Mapping) -> Tighten:
    torque = node.get("torque")
    span = torque.span if torque else None
    return Tighten(
        reader.refs(value),
        _count(reader, node),
        reader.positive(torque, Kind.TORQUE),
        span,
        reader.refs(node.get("at")),
    )


REMOVE = Verb(
    name="remove",
    arguments=Remove,
    read=_read_remove,
    takes=PIECES,
    better={"line": "disconnect", "fluid": "drain", "equipment": "take-away"},
    other_words=(
        "detach", "dismantle", "dismount", "extract", "pull", "strip", "take-off", "take-out", "uninstall", "unscrew",
        "unbolt", "withdraw",
    ),
    mentions=_positions,
    way=Way.OFF,
    opens=True,
    lets_out=True,
    carries=True,
    reaches=True,
    effect=_taken,
    position=strayed,
    back=_put_back,
)  # fmt: skip

INSTALL = Verb(
    name="install",
    arguments=Install,
    read=_read_install,
    takes=PIECES,
    better={"line": "connect", "fluid": "fill", "equipment": "place"},
    other_words=(
        "assemble", "bolt", "fit", "insert", "mount", "put-back", "put-in", "put-on", "reassemble", "refit",
        "reinstall", "screw",
    ),
    mentions=_positions,
    way=Way.ON,
    shuts=True,
    carries=True,
    reaches=True,
    assembles=True,
    effect=_put,
    back=_take_again,
)  # fmt: skip

REPLACE = Verb(
    name="replace",
    arguments=Replace,
    read=_read_replace,
    takes=PIECES,
    other_words=("change", "exchange", "renew", "substitute", "swap"),
    mentions=_positions,
    way=Way.OFF,
    opens=True,
    lets_out=True,
    shuts=True,
    carries=True,
    reaches=True,
    assembles=True,
    effect=_swapped,
    position=strayed,
    one_way=True,
)

LOOSEN = Verb(
    name="loosen",
    arguments=Loosen,
    read=_read_loosen,
    takes=("fastener",),
    other_words=("back-off", "ease", "slacken", "undo-bolts", "untighten"),
    mentions=_positions,
    way=Way.HELD,
    opens=True,
    reaches=True,
    effect=_slackened,
    back=_tighten_again,
)

TIGHTEN = Verb(
    name="tighten",
    arguments=Tighten,
    read=_read_tighten,
    takes=("fastener",),
    other_words=("fasten", "retighten", "retorque", "secure"),
    mentions=_positions,
    way=Way.HELD,
    shuts=True,
    reaches=True,
    assembles=True,
    effect=_tightened,
    back=_loosen_again,
)
