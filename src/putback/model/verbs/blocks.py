"""Doing and undoing blocks, and going on from an earlier step."""

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


class Undo(NamedTuple):
    """Do the exact reverse of blocks."""

    things: tuple[Ref, ...]


class Again(NamedTuple):
    """Go on from an earlier named step."""

    things: tuple[Ref, ...]


def _undo(action: Do, _forth: WayForth) -> Iterator[Action]:
    yield Undo(action.things[::-1])


def _redo(action: Undo, _forth: WayForth) -> Iterator[Action]:
    yield Do(action.things[::-1])


def _read_do(reader: Reader, value: Node, _node: Mapping) -> Do:
    return Do(reader.refs(value))


def _read_undo(reader: Reader, value: Node, _node: Mapping) -> Undo:
    return Undo(reader.refs(value))


def _read_again(reader: Reader, value: Node, _node: Mapping) -> Again:
    return Again(reader.refs(value))


DO = Verb(name="do", arguments=Do, read=_read_do, takes=("block",), other_words=("call", "perform"), back=_undo)
UNDO = Verb(name="undo", arguments=Undo, read=_read_undo, takes=("block",), other_words=("reverse",), back=_redo)
AGAIN = Verb(
    name="again",
    arguments=Again,
    read=_read_again,
    takes=("step",),
    other_words=("go-back", "repeat", "retry"),
    only_otherwise=True,
    one_way=True,
)
