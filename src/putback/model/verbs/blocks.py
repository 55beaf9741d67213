"""Doing and reversing blocks, and going on from an earlier step."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from putback.model.reading import Reader
from putback.model.terms import Ref
from putback.model.verb import Action, Verb, WayForth
from putback.source.tree import Mapping, Node


class Do(NamedTuple):
    """Do the steps of blocks."""

    things: tuple[Ref, ...]
    with_: tuple[tuple[Ref, Ref], ...] = ()
    """What the names that a block takes stand for."""


class Reverse(NamedTuple):
    """Do the exact reverse of blocks."""

    things: tuple[Ref, ...]
    with_: tuple[tuple[Ref, Ref], ...] = ()
    """What the names that a block takes stand for."""


class Each(NamedTuple):
    """Do steps for each of some places of the machine."""

    things: tuple[Ref, ...]


class BackTo(NamedTuple):
    """Go on from an earlier named step."""

    things: tuple[Ref, ...]


def _undo(action: Do, _forth: WayForth) -> Iterator[Action]:
    yield Reverse(action.things[::-1], action.with_)


def _redo(action: Reverse, _forth: WayForth) -> Iterator[Action]:
    yield Do(action.things[::-1], action.with_)


def _read_do(reader: Reader, value: Node, node: Mapping) -> Do:
    return Do(reader.refs(value), reader.pairs(node.get("with")))


def _read_reverse(reader: Reader, value: Node, node: Mapping) -> Reverse:
    return Reverse(reader.refs(value), reader.pairs(node.get("with")))


def _read_each(reader: Reader, value: Node, _node: Mapping) -> Each:
    return Each(reader.refs(value))


def _read_back_to(reader: Reader, value: Node, _node: Mapping) -> BackTo:
    return BackTo(reader.refs(value))


DO = Verb(
    name="do",
    arguments=Do,
    read=_read_do,
    takes=("block",),
    other_words=("call", "perform"),
    loose_words=("include", "use"),
    back=_undo,
    way_back="Reverse the block.",
)
REVERSE = Verb(
    name="reverse", arguments=Reverse, read=_read_reverse, takes=("block",), back=_redo, way_back="Do the block."
)
EACH = Verb(
    name="each", arguments=Each, read=_read_each, takes=("place",), other_words=("for-each", "every"), repeats=True
)
BACK_TO = Verb(
    name="back-to",
    arguments=BackTo,
    read=_read_back_to,
    takes=("step",),
    other_words=("go-back", "repeat", "retry"),
    loose_words=("go-to", "goto", "redo"),
    only_otherwise=True,
    one_way=True,
)
